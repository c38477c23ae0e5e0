package duskpeg.core.seed;

import duskpeg.core.act.Worded;
import duskpeg.core.published.Figures;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import java.util.List;

/**
 * Moisture by weighing, drying in an oven and weighing again.
 *
 * @param portions the portions
 * @param percent the mean of their moistures, wet basis
 * @param difference the highest less the lowest of them, in percentage points
 * @param row the most that they may be apart
 * @param outcome whether they are near enough
 * @param sentence it, in plain English
 */
public record OvenTest(
        List<Portion> portions, double percent, double difference, Row row, Outcome outcome, String sentence) {

    /** Weights are no more exact than that. */
    private static final double HAIR = 1e-9;

    public OvenTest {
        portions = List.copyOf(portions);
    }

    /** Whether the portions agree. */
    public enum Outcome implements Worded {
        ACCEPT,
        RETEST,
        /** One portion says nothing of that. */
        NOT_CHECKED
    }

    /**
     * A portion in its dish.
     *
     * @param tareGrams the dish with its lid
     * @param wetGrams both before drying
     * @param dryGrams both after it
     */
    public record Portion(double tareGrams, double wetGrams, double dryGrams) {

        /**
         * @throws IllegalArgumentException if they are not in their order: dish, dry, wet
         */
        public Portion {
            if (!(tareGrams >= 0 && tareGrams < dryGrams && dryGrams <= wetGrams && wetGrams < Double.MAX_VALUE)) {
                throw new IllegalArgumentException(
                        "dish " + tareGrams + " g, before drying " + wetGrams + " g, after " + dryGrams + " g");
            }
        }

        /** Its moisture, percent, wet basis. */
        public double percent() {
            return 100 * (wetGrams - dryGrams) / (wetGrams - tareGrams);
        }
    }

    /**
     * The result of some portions of one sample.
     *
     * @throws IllegalArgumentException if there are none
     */
    public static OvenTest of(List<Portion> portions, Published published) {
        double[] percents =
                portions.stream().mapToDouble(Portion::percent).sorted().toArray();
        if (percents.length == 0) {
            throw new IllegalArgumentException("no portions");
        }
        double sum = 0;
        for (double percent : percents) {
            sum += percent;
        }
        double mean = sum / percents.length;
        double difference = percents[percents.length - 1] - percents[0];
        Row row = published.get(Table.OVEN_TEST, "most-difference");
        Outcome outcome;
        if (percents.length == 1) {
            outcome = Outcome.NOT_CHECKED;
        } else {
            outcome = difference <= row.number().doubleValue() + HAIR ? Outcome.ACCEPT : Outcome.RETEST;
        }
        String apart = Figures.plain(difference, 2) + " points apart where there may be " + row.cited();
        return new OvenTest(
                portions,
                mean,
                difference,
                row,
                outcome,
                Figures.plain(mean, 1) + "% moisture, wet basis, of " + Figures.count(percents.length, "portion")
                        + switch (outcome) {
                            case ACCEPT -> ", " + apart + ": accepted.";
                            case RETEST -> ", " + apart + ": test again.";
                            case NOT_CHECKED -> ": with one portion nothing shows whether it is right.";
                        });
    }
}
