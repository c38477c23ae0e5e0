package duskpeg.core.growout;

import duskpeg.core.published.Figures;
import org.apache.commons.statistics.distribution.BinomialDistribution;

/**
 * How many plants to grow.
 *
 * @param plants how many can be judged in the end; sow more, for some will not come up
 * @param allowed the most off-types among them with which the share is shown
 * @param share the share of off-types that is then shown not to be passed, between 0 and 1
 * @param confidence the confidence of that one-sided upper bound, between 0 and 1
 * @param effect the design effect that was reckoned with
 * @param sentence it, in plain English
 */
public record SampleSize(
        int plants, int allowed, double share, double confidence, DesignEffect effect, String sentence) {

    /** Nobody grows more than that. */
    public static final int MOST = 10_000_000;

    /**
     * The fewest plants with which so many off-types still show the share: the fewest of which so few would turn up
     * with a chance of at most {@code 1 - confidence} if the share were {@code share}.
     *
     * @throws IllegalArgumentException if a number is out of its range, or more than {@link #MOST} plants are needed
     */
    public static SampleSize of(double share, int allowed, double confidence, DesignEffect effect) {
        if (!(share > 0 && share < 1 && confidence > 0 && confidence < 1) || allowed < 0) {
            throw new IllegalArgumentException(
                    "share " + share + ", allowed " + allowed + ", confidence " + confidence);
        }
        int few = allowed;
        int enough = allowed + 1;
        while (!shows(enough, share, allowed, confidence)) {
            if (enough > MOST / 2) {
                throw new IllegalArgumentException("more than " + MOST + " plants");
            }
            few = enough;
            enough *= 2;
        }
        while (enough - few > 1) {
            int middle = (few + enough) / 2;
            if (shows(middle, share, allowed, confidence)) {
                enough = middle;
            } else {
                few = middle;
            }
        }
        double plants = Math.ceil(enough * effect.times());
        if (plants > MOST) {
            throw new IllegalArgumentException("more than " + MOST + " plants");
        }
        return new SampleSize(
                (int) plants,
                allowed,
                share,
                confidence,
                effect,
                "With at most " + Figures.count(allowed, "off-type") + " among " + Figures.count((long) plants, "plant")
                        + " the lot has at most " + GrowOut.percent(share) + " off-types (one-sided upper bound, "
                        + GrowOut.percent(confidence) + " confidence, " + effect.because() + ").");
    }

    private static boolean shows(int plants, double share, int allowed, double confidence) {
        return BinomialDistribution.of(plants, share).cumulativeProbability(allowed) <= 1 - confidence;
    }
}
