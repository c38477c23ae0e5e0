package duskpeg.core.growout;

/**
 * What was found, and what it shows. Whoever prints one of these says which it is, and the confidence.
 *
 * @param confidence of each of the two one-sided bounds by itself, and of the two-sided pair; between 0 and 1
 * @param upper the one-sided upper bound, a share from 0 to 1: so much at most
 * @param lower the one-sided lower bound: so much at least
 * @param twoSidedLower the lower bound of the two-sided pair
 * @param twoSidedUpper the upper bound of the two-sided pair
 */
public record Bounds(double confidence, double upper, double lower, double twoSidedLower, double twoSidedUpper) {

    /**
     * The bounds after Clopper and Pearson.
     *
     * @param found how many were found
     * @param among among how many
     * @param confidence between 0 and 1
     * @throws IllegalArgumentException if a number is out of its range
     */
    public static Bounds of(double found, double among, double confidence) {
        double each = (1 + confidence) / 2;
        return new Bounds(
                confidence,
                ClopperPearson.upper(found, among, confidence),
                ClopperPearson.lower(found, among, confidence),
                ClopperPearson.lower(found, among, each),
                ClopperPearson.upper(found, among, each));
    }
}
