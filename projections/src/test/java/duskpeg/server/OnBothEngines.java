package duskpeg.server;

import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;
import org.junit.jupiter.api.Tag;

/**
 * The build runs these tests twice: on H2, and once more with PostgreSQL as the engine that is {@linkplain Engine#asked()
 * asked for}. Each test must then ask for that and for no other.
 */
@Target(ElementType.TYPE)
@Retention(RetentionPolicy.RUNTIME)
@Tag("both-engines")
@interface OnBothEngines {}
