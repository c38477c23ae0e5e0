package duskpeg.core.crew;

import duskpeg.core.fruit.TieNumber;
import java.util.List;
import java.util.Optional;

/** What became of a {@link Handling}. */
public sealed interface Handled {

    /**
     * It was written down.
     *
     * @param events as they were written, at least one
     * @param next the next tie of whoever it is about, or who holds the ties from now on
     */
    record Done(List<CustodyEvent> events, Optional<TieNumber> next) implements Handled {
        public Done {
            events = List.copyOf(events);
        }
    }

    /**
     * The strip was not free. That she claims it was written down, and must be looked into.
     *
     * @param claim as it was written
     * @param tie a tie that stands against it
     * @param holder who holds it; empty where it is on a fruit already
     */
    record NotFree(CustodyEvent.StripClaimed claim, TieNumber tie, Optional<WorkerId> holder) implements Handled {}

    /** She holds no such tie, or none that is left, so nothing was written down. */
    record NothingInHand() implements Handled {}

    /**
     * She holds several strips, so it is not known which is meant, and nothing was written down.
     *
     * @param strips what is left of each
     */
    record WhichStrip(List<Strip> strips) implements Handled {
        public WhichStrip {
            strips = List.copyOf(strips);
        }
    }
}
