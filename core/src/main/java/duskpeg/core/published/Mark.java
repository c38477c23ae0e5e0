package duskpeg.core.published;

/** How a number came here. */
public enum Mark {
    /** Read in a copy of the source. */
    READ('R', ""),
    /** Written down from memory. */
    MEMORY('M', "from memory, to be checked against the source"),
    /** Computed by us. */
    COMPUTED('C', "computed"),
    /** Common practice, or a default of ours. */
    PRACTICE('P', "common practice, no source");

    private final char letter;
    private final String caution;

    Mark(char letter, String caution) {
        this.letter = letter;
        this.caution = caution;
    }

    /** What stands in the files. */
    public char letter() {
        return letter;
    }

    /** What must be said beside the number; empty where nothing must. */
    public String caution() {
        return caution;
    }

    /**
     * The mark with that letter.
     *
     * @throws IllegalArgumentException if there is none
     */
    static Mark of(String letter) {
        for (Mark mark : values()) {
            if (letter.equals(String.valueOf(mark.letter))) {
                return mark;
            }
        }
        throw new IllegalArgumentException("mark is not one of R, M, C, P: " + letter);
    }
}
