package duskpeg.core.crew;

import duskpeg.core.act.FieldEvent;
import duskpeg.core.act.Subject;
import duskpeg.core.act.TextId;
import duskpeg.core.act.Worded;
import duskpeg.core.fruit.TieNumber;
import java.time.Instant;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * What became of ties before they were put on: the chain of custody of a strip. Each event says about whom it is, which
 * ties, when, and who entered it. What they mean together is folded by {@link Holdings}.
 *
 * <p>Stored forever: fields are only ever added, each with a new revision.
 */
public sealed interface CustodyEvent extends FieldEvent {

    /** Whose hands it is about. */
    WorkerId worker();

    /** The ties it is about. */
    Strip ties();

    /** When it was entered. */
    Instant at();

    /** Who entered it; null only where it was set up with the farm. */
    @Nullable
    Entered entered();

    /** The message it came in, if it came in one. */
    default Optional<TextId> text() {
        return Optional.ofNullable(entered()).map(Entered::text);
    }

    @Override
    default Subject subject() {
        return worker();
    }

    /** The kinds of event. */
    enum Kind implements Worded {
        ISSUED,
        CLAIMED,
        HANDED_OVER,
        RETURNED,
        LOST,
        DAMAGED
    }

    /** Which kind it is, for exhaustive switches. */
    Kind kind();

    /**
     * A strip was handed to a worker.
     *
     * @param entered null where it was set up with the farm, and in events stored before this was asked
     */
    record StripIssued(
            WorkerId worker,
            Strip strip,
            Instant at,
            @Nullable Entered entered) implements CustodyEvent {

        /** With the farm's first set-up. */
        public StripIssued(WorkerId worker, Strip strip, Instant at) {
            this(worker, strip, at, null);
        }

        @Override
        public Strip ties() {
            return strip;
        }

        @Override
        public Kind kind() {
            return Kind.ISSUED;
        }
    }

    /**
     * A worker says she holds a strip, but it was not free: in somebody's hands, or used. She does not hold it by that;
     * somebody must look.
     */
    record StripClaimed(WorkerId worker, Strip strip, Instant at, Entered entered) implements CustodyEvent {
        @Override
        public Strip ties() {
            return strip;
        }

        @Override
        public Kind kind() {
            return Kind.CLAIMED;
        }
    }

    /**
     * A worker gave what was left of a strip to another.
     *
     * @param to who holds it from then on
     * @param left from the first tie handed over to the last
     */
    record StripHandedOver(WorkerId worker, WorkerId to, Strip left, Instant at, Entered entered)
            implements CustodyEvent {
        @Override
        public Strip ties() {
            return left;
        }

        @Override
        public Kind kind() {
            return Kind.HANDED_OVER;
        }
    }

    /**
     * What was left of a strip came back to the shed, where it can be issued again.
     *
     * @param left from the first tie that came back to the last
     */
    record StripReturned(WorkerId worker, Strip left, Instant at, Entered entered) implements CustodyEvent {
        @Override
        public Strip ties() {
            return left;
        }

        @Override
        public Kind kind() {
            return Kind.RETURNED;
        }
    }

    /**
     * What was left of a strip was lost.
     *
     * @param left from the first tie that was lost to the last
     */
    record StripLost(WorkerId worker, Strip left, Instant at, Entered entered) implements CustodyEvent {
        @Override
        public Strip ties() {
            return left;
        }

        @Override
        public Kind kind() {
            return Kind.LOST;
        }
    }

    /** A tie was spoilt and is on no fruit. */
    record TieDamaged(WorkerId worker, TieNumber tie, Instant at, Entered entered) implements CustodyEvent {
        @Override
        public Strip ties() {
            return new Strip(tie, tie);
        }

        @Override
        public Kind kind() {
            return Kind.DAMAGED;
        }
    }
}
