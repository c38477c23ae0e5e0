package duskpeg.core.germination;

/**
 * What was taken out of a replicate at one count.
 *
 * @param normal normal seedlings
 * @param abnormal abnormal seedlings
 * @param dead dead or not germinated seeds
 */
public record Counted(int normal, int abnormal, int dead) {

    /**
     * @throws IllegalArgumentException if a number is below 0
     */
    public Counted {
        if (normal < 0 || abnormal < 0 || dead < 0) {
            throw new IllegalArgumentException("a count is below 0: " + normal + ", " + abnormal + ", " + dead);
        }
    }

    /** All of them. */
    public int total() {
        return normal + abnormal + dead;
    }
}
