package duskpeg.core.growout;

import org.apache.commons.statistics.distribution.BetaDistribution;

/**
 * Exact bounds of a share of which some were found among some that were looked at: Clopper &amp; Pearson 1934,
 * Biometrika 26:404-413 (from memory), by way of the beta distribution. The confidence is at least what is asked for.
 */
public final class ClopperPearson {

    private ClopperPearson() {}

    /**
     * The one-sided upper bound.
     *
     * @param found how many were found, from 0 to {@code among}; a fraction where a design effect made fewer of them
     * @param among among how many, more than 0; likewise
     * @param confidence between 0 and 1
     * @return a share, 0 to 1
     * @throws IllegalArgumentException if a number is out of its range
     */
    public static double upper(double found, double among, double confidence) {
        check(found, among, confidence);
        return found >= among
                ? 1
                : BetaDistribution.of(found + 1, among - found).inverseCumulativeProbability(confidence);
    }

    /** The one-sided lower bound; parameters, result and errors as for {@link #upper}. */
    public static double lower(double found, double among, double confidence) {
        check(found, among, confidence);
        return found <= 0 ? 0 : BetaDistribution.of(found, among - found + 1).inverseSurvivalProbability(confidence);
    }

    private static void check(double found, double among, double confidence) {
        if (!(among > 0 && found >= 0 && found <= among)) {
            throw new IllegalArgumentException(found + " can't be found among " + among);
        }
        if (!(confidence > 0 && confidence < 1)) {
            throw new IllegalArgumentException("confidence is not between 0 and 1: " + confidence);
        }
    }
}
