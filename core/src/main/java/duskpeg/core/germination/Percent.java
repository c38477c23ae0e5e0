package duskpeg.core.germination;

import java.math.BigDecimal;
import java.math.RoundingMode;

/** Shares of counts, in percent. */
final class Percent {

    private Percent() {}

    /** In whole percent, halves up. */
    static int whole(int some, int all) {
        return of(some, all, 0).intValueExact();
    }

    /** With so many decimals, halves up. */
    static BigDecimal of(int some, int all, int decimals) {
        return BigDecimal.valueOf(100L * some).divide(BigDecimal.valueOf(all), decimals, RoundingMode.HALF_UP);
    }
}
