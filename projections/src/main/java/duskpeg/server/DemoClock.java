package duskpeg.server;

import java.time.Clock;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import org.jspecify.annotations.Nullable;

/** The system's clock, unless the request being served lives at another time. */
final class DemoClock extends Clock {

    private static final ThreadLocal<@Nullable Clock> REQUEST = new ThreadLocal<>();

    /** Sets the clock of the request that this thread serves; null for the system's. */
    static void set(@Nullable Clock clock) {
        if (clock == null) {
            REQUEST.remove();
        } else {
            REQUEST.set(clock);
        }
    }

    @Override
    public Instant instant() {
        Clock clock = REQUEST.get();
        return clock == null ? Clock.systemUTC().instant() : clock.instant();
    }

    @Override
    public ZoneId getZone() {
        return ZoneOffset.UTC;
    }

    @Override
    public Clock withZone(ZoneId zone) {
        throw new UnsupportedOperationException("the clock tells instants only");
    }
}
