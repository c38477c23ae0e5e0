package duskpeg.core.watch;

import duskpeg.core.act.Worded;

/**
 * Something to be told of.
 *
 * @param kind what
 * @param about the one thing it is about: a row, a cultivar, a caution; empty for the whole morning. What was told of
 *     it that day is not told again
 * @param words how it is said in a list: the row and a number, or a name and a number
 */
public record Alert(Kind kind, String about, String words) {

    /** What can be told. The names are stored: they are never changed. */
    public enum Kind implements Worded {
        NOBODY_STARTED,
        ROW_AT_RISK,
        ROW_SILENT,
        CUT_OFF_PASSED,
        MALES_SHORT,
        HEAT,
        SPRAY;

        /** Whether everybody is told, and not only the supervisors. */
        public boolean forAll() {
            return this == HEAT || this == SPRAY;
        }
    }
}
