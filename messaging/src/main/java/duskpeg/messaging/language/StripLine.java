package duskpeg.messaging.language;

import duskpeg.core.crew.Strip;
import duskpeg.core.fruit.TieNumber;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A line about ties before they are put on.
 *
 * @param kind what it says
 * @param worker whose strip, as said: a name, or the last four digits of a phone; null for the sender's own
 * @param to who gets it, likewise; null where nobody does
 * @param from the first tie it is about; null where it was not said
 * @param strip the new strip; null but for {@code ISSUED}
 * @param damaged the spoilt ties; none but for {@code DAMAGED}
 */
public record StripLine(
        Kind kind,
        @Nullable String worker,
        @Nullable String to,
        @Nullable TieNumber from,
        @Nullable Strip strip,
        List<TieNumber> damaged) {

    public StripLine {
        damaged = List.copyOf(damaged);
    }

    /** What a line about ties can say. */
    public enum Kind {
        /** Which strips are in her hands, and which tie is next. */
        ASKED,
        /** A new strip is in her hands. */
        ISSUED,
        HANDED_OVER,
        RETURNED,
        LOST,
        DAMAGED
    }
}
