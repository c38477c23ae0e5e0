package duskpeg.core.report;

import java.time.Duration;
import java.time.LocalTime;
import org.jspecify.annotations.Nullable;

/** When something was done, as a worker says it. Which moment that is depends on when she is heard: {@link Done}. */
public sealed interface When {

    /** Nothing was said of it, so it was done just now. */
    record Now() implements When {}

    /**
     * When the farm's clock last showed that time.
     *
     * @param clock the time of day
     */
    record At(LocalTime clock) implements When {}

    /**
     * On the day before.
     *
     * @param clock the time of day; null where it was not said
     */
    record Yesterday(@Nullable LocalTime clock) implements When {}

    /**
     * That long ago.
     *
     * @param time longer than none, at most {@link #LONGEST}
     */
    record Ago(Duration time) implements When {

        /** More than two days ago is not said in hours. */
        public static final Duration LONGEST = Duration.ofDays(2);

        /**
         * @throws IllegalArgumentException if the time is out of its range
         */
        public Ago {
            if (time.isNegative() || time.isZero() || time.compareTo(LONGEST) > 0) {
                throw new IllegalArgumentException("not a time ago: " + time);
            }
        }
    }
}
