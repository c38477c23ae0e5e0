package duskpeg.server;

import duskpeg.core.fieldbook.FieldBookConfig;
import duskpeg.core.store.StoreConfig;
import org.springframework.boot.Banner;
import org.springframework.boot.WebApplicationType;
import org.springframework.boot.autoconfigure.SpringBootApplication;
import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.context.annotation.Import;

/** Starts the server; with the argument {@code rebuild}, makes every projection anew and ends. */
@SpringBootApplication(scanBasePackages = {"duskpeg.messaging", "duskpeg.projections", "duskpeg.server"})
@Import({StoreConfig.class, FieldBookConfig.class})
public class Duskpeg {

    public static void main(String[] arguments) {
        boolean rebuild = arguments.length > 0 && arguments[0].equals("rebuild");
        SpringApplicationBuilder server = new SpringApplicationBuilder(Duskpeg.class).bannerMode(Banner.Mode.OFF);
        if (!rebuild) {
            server.run(arguments);
            return;
        }
        try (ConfigurableApplicationContext context =
                server.web(WebApplicationType.NONE).run(arguments)) {
            context.getBean(duskpeg.projections.rebuild.Rebuild.class).everything();
        }
    }
}
