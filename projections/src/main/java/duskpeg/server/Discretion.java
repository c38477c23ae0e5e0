package duskpeg.server;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.turbo.TurboFilter;
import ch.qos.logback.core.spi.FilterReply;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.slf4j.LoggerFactory;
import org.slf4j.Marker;
import org.springframework.beans.factory.DisposableBean;
import org.springframework.beans.factory.config.BeanFactoryPostProcessor;
import org.springframework.beans.factory.config.ConfigurableListableBeanFactory;
import org.springframework.stereotype.Component;

/**
 * At TRACE libraries log what they are given: the arguments of a page's method, the values of a statement, what a template
 * shows. Passwords, codes, numbers and words are among them. So nobody's TRACE but our own is logged, whatever the settings
 * say, nor what comes and goes over the wire. It is made before all other parts, for they log while they are made.
 */
@Component
final class Discretion extends TurboFilter implements BeanFactoryPostProcessor, DisposableBean {

    private static final String OWN = "duskpeg";

    /** Those of which DEBUG has headers, forms and bodies in it. */
    private static final List<String> WIRE = List.of(
            "org.apache.hc.client5.http",
            "org.apache.http",
            "com.twilio",
            "org.apache.tomcat",
            "org.apache.coyote",
            "org.apache.catalina");

    private final LoggerContext loggers = (LoggerContext) LoggerFactory.getILoggerFactory();

    Discretion() {
        setName("discretion");
        setContext(loggers);
        start();
        loggers.addTurboFilter(this);
    }

    @Override
    public FilterReply decide(
            @Nullable Marker marker,
            Logger logger,
            Level level,
            @Nullable String format,
            Object @Nullable [] parameters,
            @Nullable Throwable thrown) {
        if (level.levelInt > Level.DEBUG_INT) {
            return FilterReply.NEUTRAL;
        }
        String name = logger.getName();
        boolean tells = level.levelInt <= Level.TRACE_INT
                ? !name.startsWith(OWN)
                : WIRE.stream().anyMatch(name::startsWith);
        return tells ? FilterReply.DENY : FilterReply.NEUTRAL;
    }

    /** Nothing to do but to be there first. */
    @Override
    public void postProcessBeanFactory(ConfigurableListableBeanFactory parts) {}

    @Override
    public void destroy() {
        loggers.getTurboFilterList().remove(this);
    }
}
