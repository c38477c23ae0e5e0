package duskpeg.core.growout;

import duskpeg.core.published.Figures;

/**
 * How many plants weigh as much as one that was drawn independently. Seeds of one fruit have one mother and at most a
 * few fathers, so what happened to one of them probably happened to others. Kish 1965, Survey Sampling (from memory).
 *
 * @param times 1 or more
 * @param because where it comes from, a half sentence
 */
public record DesignEffect(double times, String because) {

    /** Every plant counts by itself. */
    public static final DesignEffect NONE = new DesignEffect(1, "every plant counted as drawn independently");

    /**
     * @throws IllegalArgumentException if it is below 1
     */
    public DesignEffect {
        if (!(times >= 1 && times < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("a design effect is 1 or more: " + times);
        }
    }

    /**
     * Of plants from so many fruits, about as many from each: {@code 1 + (plants/fruits - 1) alikeness}.
     *
     * @param plants the plants that were grown
     * @param fruits from how many fruits they came, at most {@code plants}
     * @param alikeness the intra-class correlation: 0 where seeds of a fruit are no more alike than others, 1 where they
     *     are all pure or all not. No published number for hand-pollinated squash was found: it is the farm's.
     * @throws IllegalArgumentException if a number is out of its range
     */
    public static DesignEffect of(int plants, int fruits, double alikeness) {
        if (fruits < 1 || fruits > plants) {
            throw new IllegalArgumentException(plants + " plants can't be from " + fruits + " fruits");
        }
        if (!(alikeness >= 0 && alikeness <= 1)) {
            throw new IllegalArgumentException("alikeness is not from 0 to 1: " + alikeness);
        }
        double times = 1 + ((double) plants / fruits - 1) * alikeness;
        return new DesignEffect(
                times,
                "plants of one fruit counted as alike by " + Figures.plain(alikeness, 3) + ", so that "
                        + Figures.plain(times, 2) + " of them weigh as one");
    }
}
