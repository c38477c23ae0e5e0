package duskpeg.core.growout;

import duskpeg.core.published.Figures;
import org.apache.commons.statistics.distribution.BinomialDistribution;
import org.apache.commons.statistics.distribution.PoissonDistribution;

/**
 * With how many off-types a lot is rejected that should be of some purity. It keeps good lots from being rejected by
 * chance. A lot that passes is not shown to be pure: only the upper bound of its grow-out shows something.
 *
 * @param plants how many plants are grown
 * @param purityPercent the purity that is asked for, in percent of plants
 * @param alpha the most chance of rejecting a lot that just has it
 * @param reject so many off-types or more reject the lot
 * @param sentence it, in plain English, with its warning
 */
public record RejectNumber(int plants, double purityPercent, double alpha, int reject, String sentence) {

    /**
     * The least number that a lot of just that purity reaches with a chance of at most alpha, off-types being few
     * enough to come as in a Poisson distribution.
     *
     * @throws IllegalArgumentException if there are no plants, the purity is not above 0 and below 100, or alpha is not
     *     between 0 and 1
     */
    public static RejectNumber of(int plants, double purityPercent, double alpha) {
        if (plants < 1 || !(purityPercent > 0 && purityPercent < 100 && alpha > 0 && alpha < 1)) {
            throw new IllegalArgumentException(
                    plants + " plants, purity " + purityPercent + "%, alpha " + alpha + ": out of range");
        }
        PoissonDistribution offTypes = PoissonDistribution.of(plants * (100 - purityPercent) / 100);
        int reject = 0;
        while (offTypes.survivalProbability(reject - 1) > alpha) {
            reject++;
        }
        double twice = Math.min(1, 2 * (100 - purityPercent) / 100);
        return new RejectNumber(
                plants,
                purityPercent,
                alpha,
                reject,
                "Rejected with " + Figures.count(reject, "off-type") + " or more among "
                        + Figures.count(plants, "plant") + " (purity asked for " + Figures.plain(purityPercent, 3)
                        + "%, Poisson, alpha " + Figures.plain(alpha, 3)
                        + "). To pass is no proof of purity: a lot with twice as many off-types as allowed passes with a"
                        + " chance of " + Figures.plain(100 * passing(plants, reject, twice), 0) + "%.");
    }

    /**
     * The chance that a lot passes.
     *
     * @param share its share of off-types, 0 to 1
     * @throws IllegalArgumentException if the share is not from 0 to 1
     */
    public double chanceOfPassing(double share) {
        return passing(plants, reject, share);
    }

    private static double passing(int plants, int reject, double share) {
        return BinomialDistribution.of(plants, share).cumulativeProbability(reject - 1);
    }
}
