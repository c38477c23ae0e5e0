package duskpeg.core.lineage;

import java.util.Arrays;

/**
 * The mixture with the least relationship among its seeds: {@code n'Kn / (sum of n)^2} for the numbers n of seeds,
 * within what there is of each and with the wanted weight.
 *
 * <p>As long as it helps, weight is moved from the one whose loss helps most to the one with which it helps most, as
 * much as is best for these two: a quadratic over the square of a line, least where its derivative is 0, which happens
 * once. (Platt 1998, Fan et al. 2005, for support vector machines; from memory.) The root of what is made smaller is a
 * convex function over a line, so no other mixture is better once no move helps, and how much a move still helps bounds
 * how much better any other can be: that bound is the end of the search.
 */
final class LeastKin {

    /**
     * How far from the best it may be, as a share of the root; more by as much as the seeds differ in weight, twofold at
     * most as a rule.
     */
    private static final double NEAR = 1e-6;

    /** Two with less of a curve between them are as good as one. */
    private static final double FLAT = 1e-12;

    /** As a rule some tens of moves for each are enough. */
    private static final int MOVES = 100_000;

    private final double[][] kin;
    private final double[] seeds;
    private final long[] most;
    private final double sum;
    private final double[] amounts;

    /** Of each, how it is related to all that is in the mixture. */
    private final double[] related;

    /**
     * @param kin relationships, symmetric, positive semidefinite, with a diagonal above 0, as those of fruits are
     * @param seeds in a unit of weight of each
     * @param most units of weight there are of each
     * @param sum units of weight wanted, above 0 and not above the sum of the most
     */
    LeastKin(double[][] kin, double[] seeds, long[] most, long sum) {
        this.kin = kin;
        this.seeds = seeds;
        this.most = most;
        this.sum = sum;
        double all = Arrays.stream(most).sum();
        amounts = Arrays.stream(most).mapToDouble(each -> each * (sum / all)).toArray();
        related = new double[most.length];
        for (int i = 0; i < related.length; i++) {
            add(i, amounts[i] * seeds[i]);
        }
        for (long move = 0; move < (long) MOVES * most.length; move++) {
            if (!move()) {
                return;
            }
        }
        throw new IllegalStateException("no end of moves");
    }

    /** Units of weight of each. */
    double[] amounts() {
        return amounts.clone();
    }

    /** How much is gained, as a share of the root, by the best of all moves of the whole weight: at most that is lost. */
    double gap() {
        double square = square();
        double number = number();
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < amounts.length; i++) {
            double slope = slope(i, square, number);
            least = canGain(i) ? Math.min(least, slope) : least;
            most = canLose(i) ? Math.max(most, slope) : most;
        }
        return sum * Math.max(0, most - least);
    }

    private boolean canGain(int i) {
        return amounts[i] < most[i];
    }

    private boolean canLose(int i) {
        return amounts[i] > 0;
    }

    private void add(int to, double number) {
        for (int i = 0; i < related.length; i++) {
            related[i] += number * kin[to][i];
        }
    }

    private double number() {
        double number = 0;
        for (int i = 0; i < amounts.length; i++) {
            number += amounts[i] * seeds[i];
        }
        return number;
    }

    private double square() {
        double square = 0;
        for (int i = 0; i < amounts.length; i++) {
            square += amounts[i] * seeds[i] * related[i];
        }
        return square;
    }

    /** What a unit more of it does to the logarithm of the root. */
    private double slope(int i, double square, double number) {
        return seeds[i] * (related[i] / square - 1 / number);
    }

    private double curve(int to, int from) {
        return seeds[to] * seeds[to] * kin[to][to]
                - 2 * seeds[to] * seeds[from] * kin[to][from]
                + seeds[from] * seeds[from] * kin[from][from];
    }

    private boolean move() {
        double square = square();
        double number = number();
        int from = -1;
        double steepest = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < amounts.length; i++) {
            double slope = slope(i, square, number);
            if (canLose(i) && slope > steepest) {
                from = i;
                steepest = slope;
            }
        }
        int to = -1;
        double gain = 0;
        double gap = 0;
        for (int i = 0; i < amounts.length; i++) {
            double less = steepest - slope(i, square, number);
            if (canGain(i) && less > 0) {
                gap = Math.max(gap, sum * less);
                double gained = less * less / Math.max(curve(i, from), FLAT);
                if (gained > gain) {
                    to = i;
                    gain = gained;
                }
            }
        }
        if (to < 0 || gap <= NEAR) {
            return false;
        }
        double half = seeds[to] * related[to] - seeds[from] * related[from];
        double more = seeds[to] - seeds[from];
        double room = Math.min(most[to] - amounts[to], amounts[from]);
        double bend = curve(to, from) * number - half * more;
        double step = bend > 0 ? Math.min(room, (more * square - half * number) / bend) : room;
        double before = amounts[to];
        // To the very end, or what is left over by rounding would be moved for ever.
        amounts[to] = step == most[to] - before ? most[to] : before + step;
        amounts[from] = step == amounts[from] ? 0 : amounts[from] - step;
        add(to, step * seeds[to]);
        add(from, -step * seeds[from]);
        return amounts[to] != before;
    }

    /** {@code x'Kx}. */
    static double square(double[][] kin, double[] parts) {
        double square = 0;
        for (int i = 0; i < parts.length; i++) {
            for (int j = 0; j < parts.length; j++) {
                square += parts[i] * kin[i][j] * parts[j];
            }
        }
        return square;
    }
}
