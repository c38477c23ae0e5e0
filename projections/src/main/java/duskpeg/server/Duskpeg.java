package duskpeg.server;

import duskpeg.projections.audit.CheckCommand;
import duskpeg.projections.audit.VerifyCommand;
import duskpeg.projections.ops.Operations;
import duskpeg.projections.people.CompactCommand;
import duskpeg.projections.rebuild.CatchUp;
import duskpeg.projections.rebuild.Rebuild;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.ToIntFunction;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.transform.TransformerFactory;
import org.axonframework.springboot.autoconfig.AxonAutoConfiguration;
import org.axonframework.springboot.autoconfig.AxonTracingAutoConfiguration;
import org.axonframework.springboot.autoconfig.EventProcessingAutoConfiguration;
import org.axonframework.springboot.autoconfig.InfraConfiguration;
import org.springframework.boot.Banner;
import org.springframework.boot.WebApplicationType;
import org.springframework.boot.autoconfigure.ImportAutoConfiguration;
import org.springframework.boot.autoconfigure.context.PropertyPlaceholderAutoConfiguration;
import org.springframework.boot.autoconfigure.flyway.FlywayAutoConfiguration;
import org.springframework.boot.autoconfigure.http.HttpMessageConvertersAutoConfiguration;
import org.springframework.boot.autoconfigure.jackson.JacksonAutoConfiguration;
import org.springframework.boot.autoconfigure.jdbc.DataSourceAutoConfiguration;
import org.springframework.boot.autoconfigure.jdbc.JdbcClientAutoConfiguration;
import org.springframework.boot.autoconfigure.jdbc.JdbcTemplateAutoConfiguration;
import org.springframework.boot.autoconfigure.thymeleaf.ThymeleafAutoConfiguration;
import org.springframework.boot.autoconfigure.transaction.TransactionAutoConfiguration;
import org.springframework.boot.autoconfigure.web.embedded.EmbeddedWebServerFactoryCustomizerAutoConfiguration;
import org.springframework.boot.autoconfigure.web.servlet.DispatcherServletAutoConfiguration;
import org.springframework.boot.autoconfigure.web.servlet.HttpEncodingAutoConfiguration;
import org.springframework.boot.autoconfigure.web.servlet.ServletWebServerFactoryAutoConfiguration;
import org.springframework.boot.autoconfigure.web.servlet.WebMvcAutoConfiguration;
import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.boot.context.event.ApplicationEnvironmentPreparedEvent;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.context.annotation.ComponentScan;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.env.ConfigurableEnvironment;
import org.springframework.core.env.MapPropertySource;

/**
 * Starts the server. With the argument {@code rebuild}, makes every projection anew and ends; with {@code check},
 * compares the log with its ledger; with {@code compact}, writes the database's files anew, so that nothing that was
 * erased is in them; with {@code farm}, enters one more farm; with {@code backup}, {@code restore} and {@code move}, copies what can't be made anew; with
 * {@code accept}, takes an older log for the right one; with {@code verify}, checks an audit bundle, for which nothing is started.
 *
 * <p>What the frameworks configure by themselves is listed one by one: the server starts in half the time, and a new
 * library on the classpath never changes how events are stored.
 */
@Configuration(proxyBeanMethods = false)
@ComponentScan("duskpeg")
@ImportAutoConfiguration({
    PropertyPlaceholderAutoConfiguration.class,
    DataSourceAutoConfiguration.class,
    TransactionAutoConfiguration.class,
    JdbcTemplateAutoConfiguration.class,
    JdbcClientAutoConfiguration.class,
    FlywayAutoConfiguration.class,
    JacksonAutoConfiguration.class,
    HttpMessageConvertersAutoConfiguration.class,
    HttpEncodingAutoConfiguration.class,
    EmbeddedWebServerFactoryCustomizerAutoConfiguration.class,
    ServletWebServerFactoryAutoConfiguration.class,
    DispatcherServletAutoConfiguration.class,
    WebMvcAutoConfiguration.class,
    ThymeleafAutoConfiguration.class,
    InfraConfiguration.class,
    EventProcessingAutoConfiguration.class,
    AxonTracingAutoConfiguration.class,
    AxonAutoConfiguration.class
})
public class Duskpeg {

    private static final String DATA = "duskpeg.data-dir";
    private static final Duration PATIENCE = Duration.ofMinutes(1);

    public static void main(String[] arguments) {
        // Or every answer to a text would look through the jar for another XML library than the JDK's.
        System.setProperty(
                DocumentBuilderFactory.class.getName(),
                DocumentBuilderFactory.newDefaultInstance().getClass().getName());
        System.setProperty(
                TransformerFactory.class.getName(),
                TransformerFactory.newDefaultInstance().getClass().getName());
        SpringApplicationBuilder server = new SpringApplicationBuilder(Duskpeg.class)
                .bannerMode(Banner.Mode.OFF)
                .listeners((ApplicationEnvironmentPreparedEvent prepared) -> fullPath(prepared.getEnvironment()));
        switch (arguments.length > 0 ? arguments[0] : "") {
            case "verify" ->
                System.exit(VerifyCommand.run(List.of(arguments).subList(1, arguments.length), System.out));
            case "check" ->
                System.exit(alone(server.properties(ServerConfig.LOOK_ONLY + "=true"), arguments, context -> {
                    context.getBean(CatchUp.class).await(PATIENCE);
                    return context.getBean(CheckCommand.class).run(System.out);
                }));
            case "rebuild" ->
                alone(server, arguments, context -> {
                    if (!context.getBean(Rebuild.class).everything()) {
                        System.out.println("A server works on this database, or ended a moment ago: the projections are"
                                + " made anew, the index is as it was. Stop it, wait 20 s, and do it again if the index"
                                + " must be made anew.");
                    }
                    return 0;
                });
            case "backup", "restore", "move", "accept" ->
                System.exit(
                        new Operations((settings, doing) -> alone(server, settings, doing), System.out).run(arguments));
            case "farm" -> System.exit(FarmCommand.run(server, List.of(arguments), System.out));
            case "compact" -> System.exit(compact(server, arguments));
            default -> server.run(arguments);
        }
    }

    /** Anybody may write {@code --duskpeg.data-dir=data}, which H2 refuses: it wants {@code ./data}, or the whole path. */
    static void fullPath(ConfigurableEnvironment environment) {
        String folder = environment.getRequiredProperty(DATA);
        environment
                .getPropertySources()
                .addFirst(new MapPropertySource(
                        "full path",
                        Map.of(DATA, Path.of(folder).toAbsolutePath().toString())));
    }

    /** A database is compacted when nobody is connected to it any more, this program's own parts least of all. */
    static int compact(SpringApplicationBuilder server, String[] arguments) {
        List<CompactCommand.Compaction> prepared = new ArrayList<>();
        alone(server, arguments, context -> {
            context.getBean(CatchUp.class).await(PATIENCE);
            prepared.add(context.getBean(CompactCommand.class).prepare());
            return 0;
        });
        return prepared.get(0).run(System.out);
    }

    /** Does something without taking reports meanwhile. */
    static int alone(
            SpringApplicationBuilder server, String[] arguments, ToIntFunction<ConfigurableApplicationContext> doing) {
        try (ConfigurableApplicationContext context =
                server.web(WebApplicationType.NONE).run(arguments)) {
            return doing.applyAsInt(context);
        }
    }
}
