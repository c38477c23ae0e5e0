package duskpeg.core.crew;

import duskpeg.core.act.Worded;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * Ties in one worker's hands for a while.
 *
 * @param place its place among all that were ever given out: a worker uses up first what she got first
 * @param ties which ties
 * @param worker who holds or held them
 * @param since from when on
 * @param end how it ended; null while she holds them
 */
public record Holding(
        long place,
        Strip ties,
        WorkerId worker,
        Instant since,
        @Nullable End end) {

    /**
     * How she came to hold them no longer.
     *
     * @param kind handed over, returned or lost
     * @param at when
     */
    public record End(CustodyEvent.Kind kind, Instant at) {}

    /** Where ties are. */
    public enum State implements Worded {
        /** In somebody's hands: hers, or after handing them over another's. */
        HELD,
        /** In the shed. */
        RETURNED,
        LOST
    }

    /** Whether she still holds them. */
    public boolean isOpen() {
        return end == null;
    }

    /** Where they were at that time. What was done in the very moment of a return was done before it. */
    public State stateAt(Instant at) {
        if (end == null || !at.isAfter(end.at())) {
            return State.HELD;
        }
        return switch (end.kind()) {
            case RETURNED -> State.RETURNED;
            case LOST -> State.LOST;
            case ISSUED, CLAIMED, HANDED_OVER, DAMAGED -> State.HELD;
        };
    }

    Holding of(Strip part) {
        return new Holding(place, part, worker, since, end);
    }

    Holding ended(CustodyEvent.Kind kind, Instant at) {
        return new Holding(place, ties, worker, since, new End(kind, at));
    }
}
