package duskpeg.core.published;

import java.math.BigDecimal;
import java.math.RoundingMode;

/** Numbers as they stand in a sentence. */
public final class Figures {

    private Figures() {}

    /** With at most so many decimals, halves away from zero, and no zeros at the end. */
    public static String plain(double value, int decimals) {
        return plain(BigDecimal.valueOf(value), decimals);
    }

    /** With at most so many decimals, halves away from zero, and no zeros at the end. */
    public static String plain(BigDecimal value, int decimals) {
        BigDecimal rounded = value.setScale(decimals, RoundingMode.HALF_UP);
        return rounded.signum() == 0 ? "0" : rounded.stripTrailingZeros().toPlainString();
    }

    /** So many of something: {@code 1 seed}, {@code 2 seeds}. */
    public static String count(long number, String one) {
        return number + " " + one + (number == 1 ? "" : "s");
    }
}
