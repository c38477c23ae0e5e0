package duskpeg.projections.ops;

import duskpeg.core.store.StoreConfig;
import duskpeg.projections.ledger.Cosignatures;
import duskpeg.projections.ledger.LastSeen;
import duskpeg.projections.ledger.Ledger;
import duskpeg.projections.ledger.LedgerKeys;
import java.time.Clock;
import java.util.Map;
import org.springframework.boot.Banner;
import org.springframework.boot.WebApplicationType;
import org.springframework.boot.autoconfigure.ImportAutoConfiguration;
import org.springframework.boot.autoconfigure.context.PropertyPlaceholderAutoConfiguration;
import org.springframework.boot.autoconfigure.jdbc.DataSourceAutoConfiguration;
import org.springframework.boot.autoconfigure.jdbc.JdbcClientAutoConfiguration;
import org.springframework.boot.autoconfigure.jdbc.JdbcTemplateAutoConfiguration;
import org.springframework.boot.autoconfigure.transaction.TransactionAutoConfiguration;
import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Import;
import org.springframework.core.env.MapPropertySource;

/**
 * The database and its ledger alone, by the server's own settings: no tables are made, no event is read, nobody is told
 * anything. It has no stereotype, so that the server does not find it.
 */
@ImportAutoConfiguration({
    PropertyPlaceholderAutoConfiguration.class,
    DataSourceAutoConfiguration.class,
    TransactionAutoConfiguration.class,
    JdbcTemplateAutoConfiguration.class,
    JdbcClientAutoConfiguration.class
})
@Import({
    StoreConfig.class,
    LedgerKeys.class,
    Cosignatures.class,
    Ledger.class,
    LastSeen.class,
    Backup.class,
    Restore.class
})
final class Offline {

    private static final String URL = "spring.datasource.url";

    @Bean
    Clock clock() {
        return Clock.systemUTC();
    }

    /**
     * Opens a database.
     *
     * @param make whether an embedded one is made if there is none
     */
    static ConfigurableApplicationContext open(boolean make, String... settings) {
        return new SpringApplicationBuilder(Offline.class)
                .bannerMode(Banner.Mode.OFF)
                .web(WebApplicationType.NONE)
                // What went wrong is said by the command, in a sentence.
                .properties(
                        "logging.level.org.springframework.boot=off",
                        "logging.level.org.springframework.context=off",
                        "logging.level.com.zaxxer=off")
                .initializers(context -> {
                    String url = context.getEnvironment().getRequiredProperty(URL);
                    if (!make && url.startsWith("jdbc:h2:")) {
                        context.getEnvironment()
                                .getPropertySources()
                                .addFirst(new MapPropertySource("offline", Map.of(URL, url + ";IFEXISTS=TRUE")));
                    }
                })
                .run(settings);
    }
}
