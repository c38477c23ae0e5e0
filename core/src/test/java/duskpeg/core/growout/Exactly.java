package duskpeg.core.growout;

import java.math.BigDecimal;
import java.math.MathContext;

/** The binomial distribution summed term by term with sixty digits: slow, and with nothing in common with ours. */
final class Exactly {

    private static final MathContext DIGITS = new MathContext(60);

    private Exactly() {}

    /** The chance of at most so many. */
    static double atMost(int found, int among, double share) {
        BigDecimal p = new BigDecimal(share);
        BigDecimal q = BigDecimal.ONE.subtract(p);
        BigDecimal term = q.pow(among, DIGITS);
        BigDecimal sum = term;
        for (int i = 1; i <= found; i++) {
            term = term.multiply(BigDecimal.valueOf(among - i + 1), DIGITS)
                    .multiply(p, DIGITS)
                    .divide(BigDecimal.valueOf(i).multiply(q, DIGITS), DIGITS);
            sum = sum.add(term, DIGITS);
        }
        return sum.doubleValue();
    }

    /** The chance of at least so many. */
    static double atLeast(int found, int among, double share) {
        return atMost(among - found, among, 1 - share);
    }
}
