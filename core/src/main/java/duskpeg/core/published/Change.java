package duskpeg.core.published;

import duskpeg.core.crew.WorkerId;

/**
 * A farm puts a value of its own in the place of a shipped one. No person's name belongs in it: it is kept for good.
 *
 * @param table the table
 * @param key the row, as {@link Row#id}
 * @param value the value, in the row's unit
 * @param source where the farm has it from
 * @param edition of which edition, or since when
 * @param by who entered it
 */
public record Change(Table table, String key, String value, String source, String edition, WorkerId by) {

    /** A source or an edition is no longer than that. */
    public static final int LONGEST = 200;

    /**
     * @throws IllegalArgumentException if source or edition are missing or too long
     */
    public Change {
        check("source", source);
        check("edition", edition);
    }

    private static void check(String what, String said) {
        if (said.isBlank() || said.length() > LONGEST) {
            throw new IllegalArgumentException(what + " must be said, in at most " + LONGEST + " characters");
        }
    }
}
