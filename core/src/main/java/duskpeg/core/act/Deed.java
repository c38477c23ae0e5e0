package duskpeg.core.act;

/** The kinds of act, by the key or the two keys that stand for them in texts and calls: the order of the work. */
public enum Deed implements Worded {
    PEGGED(1),
    OPENED(2),
    POLLINATED(3),
    BAGGED(4),
    TIED(5),
    FINISHED(90),
    UNBAGGED(40),
    CULLED(6),
    HARVESTED(7),
    LOST(8),
    TAKEN_BACK(0);

    private final int digit;

    Deed(int digit) {
        this.digit = digit;
    }

    /** The key for it; two keys as one number, where it has two. */
    public int digit() {
        return digit;
    }

    /**
     * The deed of that key, or of those two.
     *
     * @throws IllegalArgumentException for 9, which asks, and for anything that stands for no deed
     */
    public static Deed of(int digit) {
        for (Deed deed : values()) {
            if (deed.digit == digit) {
                return deed;
            }
        }
        throw new IllegalArgumentException("no deed " + digit);
    }

    /** Whether it belongs to the morning's visit to a flower: opened, pollinated, bagged, tied. */
    public boolean ofTheVisit() {
        return digit >= OPENED.digit && digit <= TIED.digit;
    }
}
