package duskpeg.core.day;

import duskpeg.core.crew.WorkerId;
import java.time.LocalTime;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Somebody who comes to work.
 *
 * @param worker who
 * @param pauseFrom when her break begins, farm time; null for none that is known
 * @param pauseUntil when it ends; null where it has no beginning
 * @param notIn plantings she is not sent to, by name: not shown how, or not to be near them
 */
public record Duty(
        WorkerId worker,
        @Nullable LocalTime pauseFrom,
        @Nullable LocalTime pauseUntil,
        List<String> notIn) {

    /**
     * @throws IllegalArgumentException if a break has no end, no beginning, or ends before it begins
     */
    public Duty {
        notIn = List.copyOf(notIn);
        boolean pauses = pauseFrom != null && pauseUntil != null && pauseFrom.isBefore(pauseUntil);
        if (!pauses && (pauseFrom != null || pauseUntil != null)) {
            throw new IllegalArgumentException(
                    "a break needs a beginning and a later end: " + pauseFrom + " to " + pauseUntil);
        }
    }

    /** Somebody who works through, wherever she is needed. */
    public Duty(WorkerId worker) {
        this(worker, null, null, List.of());
    }
}
