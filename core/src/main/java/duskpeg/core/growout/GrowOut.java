package duskpeg.core.growout;

import duskpeg.core.published.Figures;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Plants of a lot that were grown and looked at.
 *
 * @param plants how many could be judged
 * @param offTypes how many of them were off-types
 * @param fruits of how many fruits their seed was; null where nobody knows
 */
public record GrowOut(int plants, int offTypes, @Nullable Integer fruits) {

    /** What must be said beside a result. */
    public enum Caution {
        FRUITS_UNKNOWN(
                "It is not known of how many fruits the seed was. Seeds of one fruit are alike: if it was of few,"
                        + " the bounds are too narrow. Sample many fruits."),
        SEEDS_OF_ONE_FRUIT("More than one plant was of the same fruit. Seeds of one fruit are alike, so they tell less"
                + " than as many of different fruits, and the bounds are too narrow. Sample many fruits.");

        private final String sentence;

        Caution(String sentence) {
            this.sentence = sentence;
        }

        /** It, in plain English. */
        public String sentence() {
            return sentence;
        }
    }

    /**
     * What a grow-out shows.
     *
     * @param growOut the grow-out
     * @param effect the design effect that was used
     * @param bounds bounds of the share of off-types
     * @param cautions what must be said beside it
     * @param sentence the result in plain English; it says which bound, and the confidence
     */
    public record Shown(GrowOut growOut, DesignEffect effect, Bounds bounds, List<Caution> cautions, String sentence) {

        public Shown {
            cautions = List.copyOf(cautions);
        }
    }

    /**
     * @throws IllegalArgumentException if there are no plants, or more off-types or fruits than plants
     */
    public GrowOut {
        if (plants < 1 || offTypes < 0 || offTypes > plants) {
            throw new IllegalArgumentException(offTypes + " off-types can't be among " + plants + " plants");
        }
        if (fruits != null && (fruits < 1 || fruits > plants)) {
            throw new IllegalArgumentException(plants + " plants can't be from " + fruits + " fruits");
        }
    }

    /** What it shows, every plant counted as drawn independently; errors as for the other. */
    public Shown shows(double confidence) {
        return shows(confidence, DesignEffect.NONE);
    }

    /**
     * What it shows. With a design effect both numbers are divided by it, after Korn &amp; Graubard 1998, Survey
     * Methodology 24:193-201 (from memory).
     *
     * @param confidence between 0 and 1, as in 0.95
     * @throws IllegalArgumentException if the confidence is not between 0 and 1
     */
    public Shown shows(double confidence, DesignEffect effect) {
        Bounds bounds = Bounds.of(offTypes / effect.times(), plants / effect.times(), confidence);
        List<Caution> cautions = new ArrayList<>();
        if (fruits == null) {
            cautions.add(Caution.FRUITS_UNKNOWN);
        } else if (fruits < plants && effect.times() == 1) {
            cautions.add(Caution.SEEDS_OF_ONE_FRUIT);
        }
        String sentence =
                Figures.count(offTypes, "off-type") + " among " + Figures.count(plants, "plant") + ": at most "
                        + percent(bounds.upper()) + " of the lot are off-types (one-sided upper bound, "
                        + percent(confidence) + " confidence, Clopper-Pearson, " + effect.because() + "); between "
                        + percent(bounds.twoSidedLower()) + " and " + percent(bounds.twoSidedUpper()) + " (two-sided, "
                        + percent(confidence) + " confidence).";
        return new Shown(this, effect, bounds, cautions, sentence);
    }

    static String percent(double share) {
        return Figures.plain(share * 100, 3) + "%";
    }
}
