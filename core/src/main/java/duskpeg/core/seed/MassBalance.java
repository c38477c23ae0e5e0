package duskpeg.core.seed;

import duskpeg.core.act.Worded;
import duskpeg.core.published.Figures;
import java.math.BigDecimal;
import java.math.MathContext;
import java.util.List;

/**
 * What went into a step of the work, what came out of it, and what was lost on the way: cleaning, drying, packing.
 * Where water was lost between two weighings it is a loss of its own ({@link Moisture#weightAt}). Weights are exact
 * decimals, so that what was weighed adds up to what is printed.
 *
 * @param inputs what went in
 * @param outputs what came out
 * @param losses what is known to be lost, by name
 * @param remainderGrams what went in less all the others, grams; below 0 where more came out
 * @param toleranceGrams how much of that needs no explanation, grams
 * @param outcome whether it adds up
 * @param sentence it, in plain English
 */
public record MassBalance(
        List<Weighed> inputs,
        List<Weighed> outputs,
        List<Weighed> losses,
        BigDecimal remainderGrams,
        BigDecimal toleranceGrams,
        Outcome outcome,
        String sentence) {

    private static final BigDecimal HUNDRED = BigDecimal.valueOf(100);

    public MassBalance {
        inputs = List.copyOf(inputs);
        outputs = List.copyOf(outputs);
        losses = List.copyOf(losses);
    }

    /** Whether a balance adds up. */
    public enum Outcome implements Worded {
        ADDS_UP,
        MUST_BE_EXPLAINED
    }

    /**
     * Something that was weighed.
     *
     * @param what its name
     * @param grams grams
     */
    public record Weighed(String what, BigDecimal grams) {

        /**
         * @throws IllegalArgumentException if it has no name or weighs less than nothing
         */
        public Weighed {
            if (what.isBlank() || grams.signum() < 0) {
                throw new IllegalArgumentException(what + ": " + grams + " g");
            }
        }
    }

    /**
     * Draws a balance.
     *
     * @param tolerancePercent how much may be missing or too much, in percent of what went in, 0 to 100: the farm's own
     *     rule, for none is published
     * @throws IllegalArgumentException if nothing went in, or the tolerance is out of its range
     */
    public static MassBalance of(
            List<Weighed> inputs, List<Weighed> outputs, List<Weighed> losses, BigDecimal tolerancePercent) {
        BigDecimal in = total(inputs);
        if (in.signum() == 0) {
            throw new IllegalArgumentException("nothing went in");
        }
        if (tolerancePercent.signum() < 0 || tolerancePercent.compareTo(HUNDRED) > 0) {
            throw new IllegalArgumentException("tolerance " + tolerancePercent + "%");
        }
        BigDecimal out = total(outputs);
        BigDecimal lost = total(losses);
        BigDecimal remainder = in.subtract(out).subtract(lost);
        BigDecimal tolerance = in.multiply(tolerancePercent).divide(HUNDRED);
        boolean addsUp = remainder.abs().compareTo(tolerance) <= 0;
        String rest = remainder.signum() == 0
                ? "nothing is left over"
                : grams(remainder.abs()) + (remainder.signum() > 0 ? " are missing" : " are too many");
        return new MassBalance(
                inputs,
                outputs,
                losses,
                remainder,
                tolerance,
                addsUp ? Outcome.ADDS_UP : Outcome.MUST_BE_EXPLAINED,
                grams(in) + " in, " + grams(out) + " out, " + grams(lost) + " lost: " + rest + " ("
                        + Figures.plain(percent(remainder.abs(), in), 2) + "%, tolerance "
                        + Figures.plain(tolerancePercent, 2) + "%). "
                        + (addsUp ? "It adds up." : "It must be explained."));
    }

    /** What part of all that went in this is, in percent. */
    public BigDecimal percentOfInput(Weighed weighed) {
        return percent(weighed.grams(), total(inputs));
    }

    private static BigDecimal percent(BigDecimal some, BigDecimal all) {
        return some.multiply(HUNDRED).divide(all, MathContext.DECIMAL64);
    }

    private static BigDecimal total(List<Weighed> all) {
        return all.stream().map(Weighed::grams).reduce(BigDecimal.ZERO, BigDecimal::add);
    }

    private static String grams(BigDecimal grams) {
        return Figures.plain(grams, 3) + " g";
    }
}
