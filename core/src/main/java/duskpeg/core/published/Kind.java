package duskpeg.core.published;

import java.math.BigDecimal;
import java.util.regex.Pattern;

/** What kind of value stands in a table. */
enum Kind {
    /** 0 to 100, of percent or of percentage points. */
    PERCENT("a number from 0 to 100", "\\d{1,3}(\\.\\d{1,4})?", 0, 100),
    /** A whole number from 1. */
    COUNT("a whole number from 1", "\\d{1,6}", 1, 999_999),
    /** Above 0 and any decimals. */
    AMOUNT("a number above 0", "\\d{1,6}(\\.\\d{1,4})?", 0.0001, 999_999),
    /** From 0 and any decimals; a temperature that is meant here is never below it. */
    MEASURE("a number from 0", "\\d{1,6}(\\.\\d{1,4})?", 0, 999_999),
    /** Temperatures in degrees Celsius: constant, as {@code 25}, or of night and day, as {@code 20<=>30}. */
    TEMPERATURES("temperatures like 20<=>30 or 25", "\\d{1,2}(<=>\\d{1,2})?( or \\d{1,2}(<=>\\d{1,2})?)*"),
    /** How likely two species cross. */
    CROSSING("full, low or very-low", "full|low|very-low");

    private final String wanted;
    private final Pattern form;
    private final double least;
    private final double most;

    Kind(String wanted, String form) {
        this(wanted, form, Double.NaN, Double.NaN);
    }

    Kind(String wanted, String form, double least, double most) {
        this.wanted = wanted;
        this.form = Pattern.compile(form);
        this.least = least;
        this.most = most;
    }

    boolean isNumber() {
        return !Double.isNaN(least);
    }

    /**
     * @throws IllegalArgumentException if the value is not of this kind
     */
    void check(String value) {
        boolean good = form.matcher(value).matches();
        if (good && isNumber()) {
            double number = new BigDecimal(value).doubleValue();
            good = number >= least && number <= most;
        }
        if (!good) {
            throw new IllegalArgumentException("value is not " + wanted + ": " + value);
        }
    }
}
