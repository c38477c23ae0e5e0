package duskpeg.core.report;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.crew.Handled;
import duskpeg.core.crew.Handling;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.RowId;
import duskpeg.core.round.Round;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** What was made of one statement: what was written down, and how things stand after it. */
public sealed interface Entry {

    /**
     * Flowers of a row were reported.
     *
     * @param statement what was said
     * @param done when it was done
     * @param round the round after it
     * @param ties the ties that are now known to be on, in order; empty where the statement was of no ties or their
     *     numbers are not known
     * @param questions what must be asked about this statement: about its counts, its hour or its ties
     */
    record OfRound(
            Statement.OnFlowers statement, Done done, Round round, List<TieNumber> ties, List<Question> questions)
            implements Entry {
        public OfRound {
            ties = List.copyOf(ties);
            questions = List.copyOf(questions);
        }
    }

    /**
     * A row was reported finished.
     *
     * @param done when it was
     * @param round the round after it
     * @param questions what must be asked about it
     */
    record OfFinish(Done done, Round round, List<Question> questions) implements Entry {
        public OfFinish {
            questions = List.copyOf(questions);
        }
    }

    /**
     * Tied fruit was reported: bag off, culled or harvested.
     *
     * @param deed which
     * @param done when it was done
     * @param fruit the fruit after it
     * @param questions what must be asked about them
     * @param early the youngest of them that were brought in, where its seed is taken for unripe; null where none's is
     */
    record OfFruit(
            Deed deed,
            Done done,
            List<Fruit> fruit,
            List<Question> questions,
            @Nullable Early early) implements Entry {
        public OfFruit {
            fruit = List.copyOf(fruit);
            questions = List.copyOf(questions);
        }
    }

    /**
     * A fruit that was brought in early.
     *
     * @param days since its flower opened
     */
    record Early(TieNumber tie, long days) {}

    /**
     * Fruit of a row, not named by ties, was reported: bag off, culled or harvested.
     *
     * @param statement what was said
     * @param done when it was done
     */
    record OfRow(Statement.OnRow statement, Done done) implements Entry {}

    /**
     * Something was taken back.
     *
     * @param acts what no longer stands
     * @param stands what still stands of the lines that were taken back in part, told anew
     * @param custody what no longer stands of what was said of ties in somebody's hands; where this and the acts are
     *     empty, there was nothing to take back
     */
    record OfTakeBack(List<Act> acts, List<Act> stands, List<CustodyEvent> custody) implements Entry {
        public OfTakeBack {
            acts = List.copyOf(acts);
            stands = List.copyOf(stands);
            custody = List.copyOf(custody);
        }

        /** Acts alone. */
        public OfTakeBack(List<Act> acts, List<Act> stands) {
            this(acts, stands, List.of());
        }

        /** All of it was taken back. */
        public OfTakeBack(List<Act> acts) {
            this(acts, List.of());
        }
    }

    /**
     * Something was said anew.
     *
     * @param was what no longer stands; empty where there was nothing to take back
     * @param now what was written down in its place
     */
    record OfCorrection(List<Act> was, Entry now) implements Entry {
        public OfCorrection {
            was = List.copyOf(was);
        }
    }

    /**
     * Something was said of ties in somebody's hands.
     *
     * @param handling what
     * @param handled what became of it
     */
    record OfStrip(Handling handling, Handled handled) implements Entry {}

    /** The farm has no such row, so nothing was written down; the words are kept with the message. */
    record NoSuchRow(RowId row) implements Entry {}
}
