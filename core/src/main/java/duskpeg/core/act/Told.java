package duskpeg.core.act;

import duskpeg.core.crew.WorkerId;
import java.time.Instant;

/**
 * Who said it, when it was done and when it was heard: the two times are kept apart because phones die and texts
 * come late.
 *
 * @param by the worker who reported
 * @param done when the work was done, as far as the report says; never after {@code heard}
 * @param heard when the report reached the server
 * @param text the message it came in
 * @param line which line of the message, from 1: acts of the same line are about the same flowers
 * @param seal hex SHA-256 of the message's salt and words (see {@link Seal}), so that the words kept beside the log
 *     can be shown to be the words that were sent
 */
public record Told(WorkerId by, Instant done, Instant heard, TextId text, int line, String seal) {

    /** Whether two acts were reported in the same line of the same message. */
    public boolean sameLine(Told other) {
        return text.equals(other.text) && line == other.line;
    }
}
