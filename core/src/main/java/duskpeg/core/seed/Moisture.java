package duskpeg.core.seed;

/** Moisture on a wet basis: water in percent of what is weighed, from 0 to under 100. Dry matter does not change. */
public final class Moisture {

    private Moisture() {}

    /**
     * What seed weighs at another moisture: {@code w2 = w1 (100 - m1) / (100 - m2)}.
     *
     * @param grams what it weighs
     * @param percent its moisture, wet basis
     * @param wantedPercent the other moisture, wet basis
     * @return grams
     * @throws IllegalArgumentException if a moisture is not from 0 to under 100, or the weight below 0
     */
    public static double weightAt(double grams, double percent, double wantedPercent) {
        check(grams, percent);
        check(grams, wantedPercent);
        return grams * (100 - percent) / (100 - wantedPercent);
    }

    /**
     * The moisture of seed that weighs something else than it did, when nothing but water came or went.
     *
     * @param grams what it weighed
     * @param percent its moisture then, wet basis
     * @param nowGrams what it weighs
     * @return percent, wet basis
     * @throws IllegalArgumentException as for {@link #weightAt}, or if it weighs less than its dry matter
     */
    public static double percentAt(double grams, double percent, double nowGrams) {
        check(grams, percent);
        double dry = grams * (100 - percent) / 100;
        if (!(nowGrams >= dry && nowGrams > 0)) {
            throw new IllegalArgumentException(nowGrams + " g is less than the dry matter, " + dry + " g");
        }
        return 100 * (nowGrams - dry) / nowGrams;
    }

    private static void check(double grams, double percent) {
        if (!(grams >= 0 && percent >= 0 && percent < 100)) {
            throw new IllegalArgumentException(grams + " g at " + percent + "% moisture");
        }
    }
}
