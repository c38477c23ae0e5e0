package duskpeg.core.seed;

import duskpeg.core.act.Worded;
import duskpeg.core.published.Figures;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import java.util.Arrays;
import java.util.List;

/**
 * What a thousand seeds weigh, from replicates of a hundred.
 *
 * @param thousandGrams what a thousand seeds weigh, grams
 * @param meanGrams the mean of the replicates that were used, grams
 * @param deviationGrams the standard deviation of all replicates, grams
 * @param variationPercent their coefficient of variation, percent
 * @param leftOut replicates that were left out, since they are too far from the mean; only of sixteen
 * @param row the most variation
 * @param outcome what to do
 * @param sentence it, in plain English
 */
public record SeedWeight(
        double thousandGrams,
        double meanGrams,
        double deviationGrams,
        double variationPercent,
        int leftOut,
        Row row,
        Outcome outcome,
        String sentence) {

    /** What to do. */
    public enum Outcome implements Worded {
        ACCEPT,
        /** Too uneven: as many again are weighed. */
        WEIGH_MORE,
        /** Fewer replicates than the procedure asks for. */
        TOO_FEW
    }

    /** What a thousand seeds weigh where so many weigh so much. */
    public static double thousandGrams(double grams, int seeds) {
        if (!(grams >= 0) || seeds < 1) {
            throw new IllegalArgumentException(grams + " g of " + seeds + " seeds");
        }
        return 1000 * grams / seeds;
    }

    /**
     * The result of some replicates of as many seeds as the procedure says, a hundred. Eight are weighed; where they are
     * too uneven eight more, and of all of them those are left out that are too far from the mean.
     *
     * @param replicatesGrams what each weighs, grams
     * @throws IllegalArgumentException if there are fewer than two, or one weighs nothing
     */
    public static SeedWeight of(List<Double> replicatesGrams, Published published) {
        double[] grams = replicatesGrams.stream().mapToDouble(one -> one).toArray();
        if (grams.length < 2 || Arrays.stream(grams).anyMatch(one -> !(one > 0))) {
            throw new IllegalArgumentException("two replicates at least, and each with a weight: " + replicatesGrams);
        }
        int wanted =
                published.get(Table.SEED_WEIGHT_METHOD, "replicates").number().intValueExact();
        int seeds = published.get(Table.SEED_WEIGHT_METHOD, "seeds").number().intValueExact();
        Row most = published.get(Table.SEED_WEIGHT_SPREAD, "most-variation");
        double mean = mean(grams);
        double deviation = Math.sqrt(
                Arrays.stream(grams).map(one -> (one - mean) * (one - mean)).sum() / (grams.length - 1));
        double variation = 100 * deviation / mean;
        double[] used = grams;
        Outcome outcome;
        if (grams.length < wanted) {
            outcome = Outcome.TOO_FEW;
        } else if (grams.length >= 2 * wanted) {
            double far = deviation
                    * published
                            .get(Table.SEED_WEIGHT_SPREAD, "most-deviation")
                            .number()
                            .doubleValue();
            used = Arrays.stream(grams)
                    .filter(one -> Math.abs(one - mean) <= far)
                    .toArray();
            outcome = Outcome.ACCEPT;
        } else {
            outcome = variation <= most.number().doubleValue() ? Outcome.ACCEPT : Outcome.WEIGH_MORE;
        }
        double usedMean = mean(used);
        double thousand = thousandGrams(usedMean, seeds);
        int leftOut = grams.length - used.length;
        String of = Figures.count(grams.length, "replicate") + " of " + seeds + " vary by "
                + Figures.plain(variation, 2) + "%";
        return new SeedWeight(
                thousand,
                usedMean,
                deviation,
                variation,
                leftOut,
                most,
                outcome,
                Figures.plain(thousand, 1) + " g a thousand seeds: " + of
                        + switch (outcome) {
                            case TOO_FEW ->
                                "; the procedure asks for "
                                        + published
                                                .get(Table.SEED_WEIGHT_METHOD, "replicates")
                                                .cited() + ".";
                            case WEIGH_MORE -> ", more than " + most.cited() + ": weigh " + wanted + " more.";
                            case ACCEPT ->
                                leftOut > 0
                                        ? "; " + leftOut + " too far from the mean were left out."
                                        : grams.length >= 2 * wanted
                                                ? "; none was too far from the mean."
                                                : ", not more than " + most.cited() + ".";
                        });
    }

    private static double mean(double[] grams) {
        double sum = 0;
        for (double one : grams) {
            sum += one;
        }
        return sum / grams.length;
    }
}
