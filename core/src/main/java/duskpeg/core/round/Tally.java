package duskpeg.core.round;

/**
 * A round in numbers of female flowers, and of males for {@code males}.
 *
 * @param pegged clipped shut the evening before
 * @param males males pegged for them; where a report did not say, two for each female is taken (common practice)
 * @param malesAssumed whether any of {@code males} was taken and not said
 * @param opened opened
 * @param pollinated pollinated
 * @param bagged bagged
 * @param tied tied
 * @param lost not used for seed
 */
public record Tally(
        int pegged, int males, boolean malesAssumed, int opened, int pollinated, int bagged, int tied, int lost) {

    /** Males for each female: common practice, no published source. */
    public static final int MALES_PER_FEMALE = 2;

    /** Flowers that must still be tied, never under 0. */
    public int left() {
        return Math.max(0, pegged - tied - lost);
    }

    /** How many males are missing, never under 0. */
    public int malesShort() {
        return Math.max(0, MALES_PER_FEMALE * pegged - males);
    }
}
