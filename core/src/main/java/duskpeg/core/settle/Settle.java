package duskpeg.core.settle;

import duskpeg.core.act.Subject;
import duskpeg.core.act.TextId;
import duskpeg.core.act.Worded;
import duskpeg.core.crew.WorkerId;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/** Settle something that waits. Each is a command, answered with a {@link Result}; sent twice it settles once. */
public sealed interface Settle {

    /** The supervisor who settles. */
    WorkerId by();

    /** When. */
    Instant at();

    /**
     * Words of the supervisor's own, kept as a text of hers.
     *
     * @param id the id of that text
     * @param words what she wrote
     * @param salt 32 random hex digits for the seal of the words
     */
    record Own(TextId id, String words, String salt) {}

    /**
     * A line was meant so.
     *
     * @param text the text that waits
     * @param line its line, from 1; 0 for the whole text
     * @param worker who said it; null for the worker known to have sent it
     * @param reading the line as it should have been
     */
    record ReadSo(TextId text, int line, @Nullable WorkerId worker, Own reading, WorkerId by, Instant at)
            implements Settle {}

    /**
     * A text from a number that is on no crew list is that worker's.
     *
     * @param text the text that waits
     * @param worker whose it is
     * @param herNumber whether the number it came from is hers from now on, in place of the one on the crew list
     */
    record SaidBy(TextId text, WorkerId worker, boolean herNumber, WorkerId by, Instant at) implements Settle {}

    /**
     * There is nothing to record in a line.
     *
     * @param text the text that waits
     * @param line its line, from 1; 0 for the whole text
     * @param how why
     */
    record Nothing(TextId text, int line, How how, WorkerId by, Instant at) implements Settle {}

    /**
     * What is questioned is as it was reported.
     *
     * @param subject the round or the fruit
     * @param question the key of the question
     * @param note what the supervisor found; null if she wrote nothing
     */
    record AsReported(
            Subject subject, String question, @Nullable Own note, WorkerId by, Instant at) implements Settle {}

    /** What became of it. */
    enum Result implements Worded {
        /** It is settled. */
        SETTLED,
        /** It was settled before, or asked no more; nothing was changed. */
        NOT_WAITING,
        /** Only a supervisor settles. */
        NOT_A_SUPERVISOR,
        /** A second person must settle it, or the worker named is not on the crew. */
        NOT_THE_SAME,
        /** The words given can't be read, not all of them are reports, or the farm has no such row. */
        NOT_READ,
        /** They take something back. Only the worker herself can, since what she means is her last report. */
        TAKES_BACK
    }
}
