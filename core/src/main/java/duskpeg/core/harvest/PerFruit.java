package duskpeg.core.harvest;

import duskpeg.core.growout.Bounds;
import java.util.List;
import java.util.Optional;
import org.apache.commons.statistics.distribution.TDistribution;

/**
 * How much one fruit gives, learnt from lots of which only the sum is known. Fruit are taken to give on average the same,
 * and to scatter round it alike and by themselves, so a lot of f fruit scatters by the square root of f: a regression
 * through the origin with weights 1/f. Its spread is learnt from the lots with one degree of freedom less than there are
 * lots, and intervals are Student's. Lots of other plantings or other years may differ by more than fruit within them do;
 * then an interval is too narrow.
 *
 * @param mean what one fruit gives
 * @param spread the standard deviation between single fruit
 * @param lots from so many lots
 * @param fruit with so many fruit together
 */
public record PerFruit(double mean, double spread, int lots, int fruit) {

    /** With fewer lots nothing is said: of two the interval would be so wide that nobody is helped. */
    public static final int FEWEST_LOTS = 3;

    /** How often an interval is to hold what it is for. */
    public static final double CONFIDENCE = 0.95;

    /**
     * What a lot gave.
     *
     * @param fruit how many fruit, 1 or more
     * @param amount how much together: grams, or seeds
     */
    public record Gave(int fruit, double amount) {

        /**
         * @throws IllegalArgumentException if there is no fruit, or nothing was given
         */
        public Gave {
            if (fruit < 1 || !(amount > 0)) {
                throw new IllegalArgumentException(amount + " of " + fruit + " fruit");
            }
        }
    }

    /**
     * What became of ties that were on the vine long ago.
     *
     * @param ties how many, 1 or more
     * @param broughtIn how many of them were brought in
     */
    public record Kept(int ties, int broughtIn) {

        /**
         * @throws IllegalArgumentException if there were none, or more were brought in than there were
         */
        public Kept {
            if (ties < 1 || broughtIn < 0 || broughtIn > ties) {
                throw new IllegalArgumentException(broughtIn + " brought in of " + ties);
            }
        }

        /** The share in percent, with the bounds of Clopper and Pearson that hold it 95 times in 100 at least. */
        public Interval percent() {
            Bounds bounds = Bounds.of(broughtIn, ties, CONFIDENCE);
            return new Interval(100.0 * broughtIn / ties, 100 * bounds.twoSidedLower(), 100 * bounds.twoSidedUpper());
        }
    }

    /**
     * An interval.
     *
     * @param middle what is expected
     * @param low its lower end, 0 or more
     * @param high its upper end
     */
    public record Interval(double middle, double low, double high) {}

    /** What lots show; empty where there are fewer than {@link #FEWEST_LOTS}. */
    public static Optional<PerFruit> of(List<Gave> lots) {
        if (lots.size() < FEWEST_LOTS) {
            return Optional.empty();
        }
        int fruit = lots.stream().mapToInt(Gave::fruit).sum();
        double mean = lots.stream().mapToDouble(Gave::amount).sum() / fruit;
        double squares = lots.stream()
                .mapToDouble(lot -> Math.pow(lot.amount() - lot.fruit() * mean, 2) / lot.fruit())
                .sum();
        return Optional.of(new PerFruit(mean, Math.sqrt(squares / (lots.size() - 1)), lots.size(), fruit));
    }

    /** The mean, with the interval that holds the true one 95 times in 100. */
    public Interval interval() {
        return around(mean, spread / Math.sqrt(fruit));
    }

    /**
     * What so many further fruit will give together, with the interval that holds it 95 times in 100.
     *
     * @param further 0 or more
     */
    public Interval forecast(int further) {
        return around(further * mean, spread * Math.sqrt(further + (double) further * further / fruit));
    }

    /**
     * What so many ties on the vine will give, when some of them are never brought in: how many are is learnt from ties
     * whose fate is known. The share has Jeffreys' prior, so the number that comes in is beta-binomial; its scatter is added
     * to that of the seed, and the interval is Student's as for the others (a default of ours; it holds at least as often as
     * it says where fruit scatter as is assumed, which a simulation in the tests shows).
     *
     * @param ties 0 or more
     * @param kept what became of earlier ties
     */
    public Interval forecast(int ties, Kept kept) {
        double in = kept.broughtIn() + 0.5;
        double out = kept.ties() - kept.broughtIn() + 0.5;
        double all = in + out;
        double expected = ties * in / all;
        double scatter = ties * in * out * (all + ties) / (all * all * (all + 1));
        double error = spread * spread * (expected + (expected * expected + scatter) / fruit) + mean * mean * scatter;
        return around(expected * mean, Math.sqrt(error));
    }

    private Interval around(double middle, double error) {
        double wide = TDistribution.of(lots - 1.0).inverseCumulativeProbability((1 + CONFIDENCE) / 2) * error;
        return new Interval(middle, Math.max(0, middle - wide), middle + wide);
    }
}
