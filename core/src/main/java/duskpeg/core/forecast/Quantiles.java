package duskpeg.core.forecast;

import org.apache.commons.statistics.distribution.ContinuousDistribution;
import org.apache.commons.statistics.distribution.GammaDistribution;
import org.apache.commons.statistics.distribution.NormalDistribution;

/** The quantiles of a distribution in a table, as they are asked for a hundred thousand times. */
final class Quantiles {

    private static final int STEPS = 32;

    static final Quantiles NORMAL = new Quantiles(NormalDistribution.of(0, 1));

    private final double[] table = new double[STEPS];

    private Quantiles(ContinuousDistribution distribution) {
        for (int step = 0; step < STEPS; step++) {
            table[step] = distribution.inverseCumulativeProbability((step + 0.5) / STEPS);
        }
    }

    /** Of a gamma distribution with that shape and mean 1. */
    static Quantiles gamma(double shape) {
        return new Quantiles(GammaDistribution.of(shape, 1 / shape));
    }

    /** The quantile of that probability; beyond the table's ends, which are within two hundredths of 0 and 1, the ends. */
    double at(double probability) {
        double place = probability * STEPS - 0.5;
        int step = (int) Math.floor(place);
        if (step < 0) {
            return table[0];
        }
        return step >= STEPS - 1 ? table[STEPS - 1] : table[step] + (place - step) * (table[step + 1] - table[step]);
    }
}
