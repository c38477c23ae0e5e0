package duskpeg.core.lineage;

import duskpeg.core.lineage.EffectiveSize.Formula;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.Function;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;

/**
 * How many grams of each fruit's seed to take for a lot, so that the lot's effective size is as great as it can be.
 *
 * @param grams of each fruit, in the order in which they were given, in whole tenths of a gram
 * @param missing grams of the wanted lot that are not to be had, in whole tenths; above 0 everything is taken
 * @param before the effective size of as heavy a lot if all seed were just mixed and the lot taken of it
 * @param after the effective size of the lot with these grams
 */
public record Bulk(List<Taken> grams, double missing, EffectiveSize before, EffectiveSize after) {

    /** Grams are weighed to a tenth. */
    private static final int TENTHS = 10;

    private static final double ROUNDING = 1e-6;

    public Bulk {
        grams = List.copyOf(grams);
    }

    /**
     * A fruit's cleaned seed.
     *
     * @param fruit its id
     * @param dam the plant that bore it; null where that is not known, and then it counts as a dam of its own
     * @param grams of cleaned seed there are, 0 or more; less than a tenth is not weighed
     * @param thousandSeeds grams of a thousand seeds, above 0; null where they were not weighed. They count only where
     *     they are known of all the fruits: otherwise seeds are taken to be equally heavy
     */
    public record Available(
            String fruit,
            @Nullable String dam,
            double grams,
            @Nullable Double thousandSeeds) {

        /**
         * @throws IllegalArgumentException if a weight is out of its range
         */
        public Available {
            if (!(grams >= 0 && grams < Integer.MAX_VALUE)) {
                throw new IllegalArgumentException("not grams of " + fruit + ": " + grams);
            }
            if (thousandSeeds != null && !(thousandSeeds > 0 && thousandSeeds < Double.POSITIVE_INFINITY)) {
                throw new IllegalArgumentException("not grams of a thousand seeds of " + fruit + ": " + thousandSeeds);
            }
        }
    }

    /**
     * What is taken of a fruit.
     *
     * @param fruit its id
     * @param grams in whole tenths
     * @param part of the lot's seeds that come of it, 0 to 1
     */
    public record Taken(String fruit, double grams, double part) {}

    /** Grams in the lot, in whole tenths. */
    public double weight() {
        return Math.round(grams.stream().mapToDouble(Taken::grams).sum() * TENTHS) / (double) TENTHS;
    }

    /**
     * The lot in which dams are as equal as they can be, with dams taken to be no kin and fathers not looked at: the
     * greatest {@link Formula#DAMS}. A dam's fruits share what is taken of her as equally, so that the most fathers are
     * behind it.
     *
     * <p>With equally heavy seeds that is a level: each dam gives all she has, or as much as all others that are not
     * used up, to a tenth. For where it is not so, one dam gives a and another, who has more to give, b, at least two
     * tenths less; moving a tenth between them makes the sum of squares smaller by {@code 2(a - b - 1) > 0}. So the best
     * is the level, in whole tenths as well. Where seeds are not equally heavy it is searched for as in {@link #ofKin}.
     *
     * @param wanted grams, above 0, in whole tenths
     * @throws IllegalArgumentException if it isn't, no seed is there, or a fruit is given twice
     */
    public static Bulk ofDams(List<Available> fruits, double wanted) {
        Map<String, List<Integer>> dams = new LinkedHashMap<>();
        for (int i = 0; i < fruits.size(); i++) {
            Available fruit = fruits.get(i);
            dams.computeIfAbsent(
                            fruit.dam() == null ? "of fruit " + fruit.fruit() : "dam " + fruit.dam(),
                            dam -> new ArrayList<>())
                    .add(i);
        }
        Order order = new Order(fruits, wanted);
        long[] tenths;
        if (order.equallyHeavy()) {
            tenths = levelOfDams(order, List.copyOf(dams.values()));
        } else {
            double[][] same = new double[fruits.size()][fruits.size()];
            dams.values().forEach(dam -> dam.forEach(i -> dam.forEach(j -> same[i][j] = 1)));
            tenths = order.leastKin(same);
        }
        return order.bulk(
                tenths,
                parts -> EffectiveSize.ofDams(dams.values().stream()
                        .map(dam -> dam.stream().mapToDouble(i -> parts[i]).sum())
                        .toList()));
    }

    /**
     * The lot with the least coancestry, fathers and their kin included: the greatest {@link Formula#STATUS_NUMBER}. It
     * is the best to some millionths of its size, and then rounded to tenths of a gram.
     *
     * @param pedigree in which the fruits are entered
     * @param wanted grams, above 0, in whole tenths
     * @throws IllegalArgumentException if it isn't, no seed is there, or a fruit is given twice or not entered
     */
    public static Bulk ofKin(List<Available> fruits, Pedigree pedigree, double wanted) {
        Order order = new Order(fruits, wanted);
        double[][] kin =
                pedigree.relationships(fruits.stream().map(Available::fruit).toList());
        return order.bulk(order.leastKin(kin), parts -> EffectiveSize.ofCoancestry(LeastKin.square(kin, parts) / 2));
    }

    private static long[] levelOfDams(Order order, List<List<Integer>> dams) {
        long[] ofDams = level(
                dams.stream()
                        .mapToLong(dam ->
                                dam.stream().mapToLong(i -> order.most[i]).sum())
                        .toArray(),
                order.tenths);
        long[] taken = new long[order.most.length];
        for (int i = 0; i < ofDams.length; i++) {
            List<Integer> fruits = dams.get(i);
            long[] ofFruits =
                    level(fruits.stream().mapToLong(fruit -> order.most[fruit]).toArray(), ofDams[i]);
            for (int j = 0; j < ofFruits.length; j++) {
                taken[fruits.get(j)] = ofFruits[j];
            }
        }
        return taken;
    }

    /**
     * As equal numbers as can be.
     *
     * @param most that each can be
     * @param sum of all, not above the sum of the most
     */
    static long[] level(long[] most, long sum) {
        long[] sorted = most.clone();
        Arrays.sort(sorted);
        long rest = sum;
        int left = sorted.length;
        while (left > 0 && sorted[sorted.length - left] <= rest / left) {
            rest -= sorted[sorted.length - left];
            left--;
        }
        long level = left == 0 ? 0 : rest / left;
        long over = left == 0 ? 0 : rest % left;
        long[] taken = new long[most.length];
        for (int i = 0; i < most.length; i++) {
            boolean above = left > 0 && most[i] > level;
            taken[i] = above ? level : most[i];
            if (above && over > 0) {
                taken[i]++;
                over--;
            }
        }
        return taken;
    }

    /** What is there and what is wanted, in tenths of a gram. */
    private static final class Order {

        private final List<Available> fruits;
        private final long[] most;
        private final double[] seeds;
        private final long tenths;
        private final long missing;

        Order(List<Available> fruits, double wanted) {
            long asked = Math.round(wanted * TENTHS);
            if (!(wanted > 0) || Math.abs(wanted * TENTHS - asked) > ROUNDING) {
                throw new IllegalArgumentException("not a lot's weight in tenths of a gram: " + wanted);
            }
            if (fruits.stream().map(Available::fruit).distinct().count() < fruits.size()) {
                throw new IllegalArgumentException("a fruit is given twice");
            }
            this.fruits = fruits;
            most = fruits.stream()
                    .mapToLong(fruit -> (long) Math.floor(fruit.grams() * TENTHS + ROUNDING))
                    .toArray();
            boolean known = fruits.stream().allMatch(fruit -> fruit.thousandSeeds() != null);
            seeds = fruits.stream()
                    .mapToDouble(fruit -> known ? 1 / Objects.requireNonNull(fruit.thousandSeeds()) : 1)
                    .toArray();
            long there = Arrays.stream(most).sum();
            if (there == 0) {
                throw new IllegalArgumentException("no seed");
            }
            tenths = Math.min(asked, there);
            missing = asked - tenths;
        }

        boolean equallyHeavy() {
            return Arrays.stream(seeds).allMatch(each -> each == seeds[0]);
        }

        long[] leastKin(double[][] kin) {
            return whole(new LeastKin(kin, seeds, most, tenths).amounts());
        }

        /** Whole tenths with the same sum: those with the most left of a tenth get a whole one. */
        private long[] whole(double[] amounts) {
            long[] whole = Arrays.stream(amounts)
                    .mapToLong(amount -> (long) Math.floor(amount + ROUNDING))
                    .toArray();
            long over = tenths - Arrays.stream(whole).sum();
            IntStream.range(0, whole.length)
                    .boxed()
                    .filter(i -> whole[i] < most[i])
                    .sorted((i, j) -> Double.compare(amounts[j] - whole[j], amounts[i] - whole[i]))
                    .limit(over)
                    .forEach(i -> whole[i]++);
            return whole;
        }

        private double[] parts(long[] amounts) {
            double[] parts = IntStream.range(0, amounts.length)
                    .mapToDouble(i -> amounts[i] * seeds[i])
                    .toArray();
            double all = Arrays.stream(parts).sum();
            return Arrays.stream(parts).map(part -> part / all).toArray();
        }

        Bulk bulk(long[] taken, Function<double[], EffectiveSize> size) {
            double[] parts = parts(taken);
            double share = tenths / (double) Arrays.stream(most).sum();
            long[] mixed = whole(
                    Arrays.stream(most).mapToDouble(there -> there * share).toArray());
            List<Taken> grams = IntStream.range(0, taken.length)
                    .mapToObj(i -> new Taken(fruits.get(i).fruit(), taken[i] / (double) TENTHS, parts[i]))
                    .toList();
            return new Bulk(grams, missing / (double) TENTHS, size.apply(parts(mixed)), size.apply(parts));
        }
    }
}
