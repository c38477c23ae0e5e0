package duskpeg.core.maturity;

import duskpeg.core.act.Worded;

/**
 * How the warmth of a day is reckoned from its highest and lowest temperature. How many degree-days squash seed needs
 * from pollination to ripeness was found in no publication: none is claimed.
 */
public enum DegreeDays implements Worded {
    /** The mean of the two temperatures over the base. */
    SIMPLE("simple average") {
        @Override
        double reckon(double highest, double lowest, double base, double upper) {
            return Math.max(0, (highest + lowest) / 2 - base);
        }
    },
    /** The same after both temperatures are brought between base and upper. */
    CLIPPED("average of both temperatures brought between base and upper") {
        @Override
        double reckon(double highest, double lowest, double base, double upper) {
            double high = Math.min(Math.max(highest, base), upper);
            double low = Math.min(Math.max(lowest, base), upper);
            return (high + low) / 2 - base;
        }
    },
    /** The area over the base under a sine of one day: Baskerville &amp; Emin 1969, Ecology 50:514-517 (from memory). */
    SINE("single sine") {
        @Override
        double reckon(double highest, double lowest, double base, double upper) {
            return over(highest, lowest, base);
        }
    },
    /** The same, and what is over the upper temperature does not count: a horizontal cutoff. */
    SINE_CUT_OFF("single sine with horizontal cutoff") {
        @Override
        double reckon(double highest, double lowest, double base, double upper) {
            return over(highest, lowest, base) - over(highest, lowest, upper);
        }
    };

    private final String title;

    DegreeDays(String title) {
        this.title = title;
    }

    /** What it is called, to print. */
    public String title() {
        return title;
    }

    abstract double reckon(double highest, double lowest, double base, double upper);

    /**
     * The degree-days of one day, all temperatures in degrees Celsius.
     *
     * @param highest its highest temperature
     * @param lowest its lowest
     * @param base below it nothing counts
     * @param upper above it nothing more counts, for those that have an upper temperature; the others take no heed of it
     * @return degree-days Celsius, 0 or more
     * @throws IllegalArgumentException if the lowest is over the highest, or the base over the upper
     */
    public double of(double highest, double lowest, double base, double upper) {
        if (!(lowest <= highest && base <= upper)) {
            throw new IllegalArgumentException(
                    "highest " + highest + ", lowest " + lowest + ", base " + base + ", upper " + upper);
        }
        return reckon(highest, lowest, base, upper);
    }

    private static double over(double highest, double lowest, double threshold) {
        double mean = (highest + lowest) / 2;
        if (lowest >= threshold) {
            return mean - threshold;
        }
        if (highest <= threshold) {
            return 0;
        }
        double swing = (highest - lowest) / 2;
        double from = Math.asin((threshold - mean) / swing);
        return ((mean - threshold) * (Math.PI / 2 - from) + swing * Math.cos(from)) / Math.PI;
    }
}
