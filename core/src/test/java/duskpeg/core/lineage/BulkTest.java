package duskpeg.core.lineage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import duskpeg.core.lineage.Bulk.Available;
import duskpeg.core.lineage.Bulk.Taken;
import duskpeg.core.lineage.EffectiveSize.Formula;
import duskpeg.core.lineage.Stock.Fruit;
import duskpeg.core.lineage.Stock.Lot;
import duskpeg.core.lineage.Stock.Plant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import java.util.function.Consumer;
import java.util.stream.IntStream;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

class BulkTest {

    private static Available fruit(String id, @Nullable String dam, double grams) {
        return new Available(id, dam, grams, null);
    }

    @Test
    void damsAreMadeLevel() {
        // 4 + 10 + 13 + 13 by hand: the level is 13.
        Bulk bulk = Bulk.ofDams(
                List.of(
                        fruit("1", "a", 4),
                        fruit("2", "b", 10),
                        fruit("3", "c", 40),
                        fruit("4", "d", 3),
                        fruit("5", "d", 30)),
                40);
        assertThat(bulk.grams()).extracting(Taken::grams).containsExactly(4.0, 10.0, 13.0, 3.0, 10.0);
        assertThat(bulk.missing()).isZero();
        assertThat(bulk.weight()).isEqualTo(40);
        assertThat(bulk.after().formula()).isEqualTo(Formula.DAMS);
        assertThat(bulk.after().value()).isCloseTo(1600 / (16 + 100 + 169 + 169.0), within(1e-9));
        assertThat(bulk.before().value()).isCloseTo(87 * 87 / (16 + 100 + 1600 + 33 * 33.0), within(1e-2));
    }

    @Test
    void tenthsSumToWhatIsWanted() {
        Bulk bulk = Bulk.ofDams(List.of(fruit("1", "a", 9.99), fruit("2", "b", 9.99), fruit("3", null, 9.99)), 10);
        assertThat(bulk.grams()).extracting(Taken::grams).containsExactly(3.4, 3.3, 3.3);
        assertThat(bulk.weight()).isEqualTo(10);
        assertThat(bulk.grams().stream().mapToDouble(Taken::part).sum()).isCloseTo(1, within(1e-12));
    }

    @Test
    void whatIsNotThereIsSaid() {
        Bulk bulk = Bulk.ofDams(List.of(fruit("1", "a", 9.99), fruit("2", "b", 5)), 20);
        assertThat(bulk.grams()).extracting(Taken::grams).containsExactly(9.9, 5.0);
        assertThat(bulk.missing()).isEqualTo(5.1);
        assertThat(bulk.weight()).isEqualTo(14.9);
        assertThat(bulk.before()).isEqualTo(bulk.after());
    }

    @Test
    void fathersThatAreKinCountToo() {
        // b's fruit has the same two fathers as a's, c's has others: with 10 g of each there is more of c in the lot.
        Pedigree pedigree = Pedigree.of(List.of(
                Plant.founder("a"),
                Plant.founder("b"),
                Plant.founder("c"),
                Plant.founder("m"),
                Plant.founder("n"),
                Plant.founder("o"),
                Plant.founder("p"),
                Fruit.ofTwo("1", "a", "m", "n"),
                Fruit.ofTwo("2", "b", "m", "n"),
                Fruit.ofTwo("3", "c", "o", "p")));
        List<Available> fruits = List.of(fruit("1", "a", 10), fruit("2", "b", 10), fruit("3", "c", 10));
        Bulk bulk = Bulk.ofKin(fruits, pedigree, 15);
        // By hand: kin .375 and .125 among 1 and 2, so x = y, and .5 x = .375 z: x = 3/10, z = 4/10.
        assertThat(bulk.grams()).extracting(Taken::grams).containsExactly(4.5, 4.5, 6.0);
        assertThat(bulk.after().value()).isCloseTo(1 / (.375 * .34 + .25 * .09), within(1e-9));
        assertThat(bulk.after().formula()).isEqualTo(Formula.STATUS_NUMBER);
        assertThat(bulk.after().value())
                .isCloseTo(
                        EffectiveSize.ofCoancestry(pedigree.coancestry(Map.of("1", 4.5, "2", 4.5, "3", 6.0)))
                                .value(),
                        within(1e-9));
        assertThat(bulk.before().value()).isLessThan(bulk.after().value());
    }

    /** Every way to share so many units among these. */
    private static void all(long[] most, long sum, int next, long[] taken, Consumer<long[]> each) {
        if (next == most.length - 1) {
            if (sum <= most[next]) {
                taken[next] = sum;
                each.accept(taken);
            }
            return;
        }
        for (long i = 0; i <= Math.min(sum, most[next]); i++) {
            taken[next] = i;
            all(most, sum - i, next + 1, taken, each);
        }
    }

    @Property(tries = 300)
    void noOtherWayGivesMoreDams(@ForAll long seed, @ForAll @IntRange(min = 1, max = 5) int number) {
        Random chance = new Random(seed);
        List<Available> fruits = new ArrayList<>();
        for (int i = 0; i < number; i++) {
            fruits.add(fruit(
                    "" + i, chance.nextInt(6) == 0 ? null : "" + chance.nextInt(4), (1 + chance.nextInt(8)) / 10.0));
        }
        long[] most = fruits.stream()
                .mapToLong(fruit -> Math.round(fruit.grams() * 10))
                .toArray();
        long wanted = 1 + chance.nextInt((int) Arrays.stream(most).sum());
        double[] best = {0};
        all(most, wanted, 0, new long[number], taken -> {
            Map<String, Double> dams = new TreeMap<>();
            for (int i = 0; i < number; i++) {
                String dam = fruits.get(i).dam();
                dams.merge(dam == null ? "fruit" + i : dam, (double) taken[i] / wanted, Double::sum);
            }
            best[0] = Math.max(
                    best[0], 1 / dams.values().stream().mapToDouble(c -> c * c).sum());
        });
        Bulk bulk = Bulk.ofDams(fruits, wanted / 10.0);
        assertThat(bulk.after().value()).isCloseTo(best[0], within(1e-9));
        assertThat(bulk.after().value()).isGreaterThanOrEqualTo(bulk.before().value() - 1e-9);
        assertThat(bulk.weight()).isEqualTo(wanted / 10.0);
    }

    /** Relationships of fruits among dams and fathers that are kin. */
    private static double[][] kin(Random chance, int number) {
        List<Stock> stocks = new ArrayList<>();
        for (int i = 0; i < 4; i++) {
            stocks.add(Plant.founder("g" + i));
        }
        for (int i = 0; i < 6; i++) {
            stocks.add(Fruit.ofTwo("h" + i, "g" + chance.nextInt(4), "g" + chance.nextInt(4), null));
            stocks.add(new Plant("p" + i, "h" + i));
        }
        List<String> fruits = new ArrayList<>();
        for (int i = 0; i < number; i++) {
            int father = chance.nextInt(6);
            stocks.add(Fruit.ofTwo("f" + i, "p" + chance.nextInt(6), "p" + father, "p" + (father + 1) % 6));
            fruits.add("f" + i);
        }
        return Pedigree.of(stocks).relationships(fruits);
    }

    private static double size(double[][] kin, double[] seeds, double[] amounts) {
        double[] numbers = IntStream.range(0, amounts.length)
                .mapToDouble(i -> amounts[i] * seeds[i])
                .toArray();
        double sum = Arrays.stream(numbers).sum();
        return sum * sum / LeastKin.square(kin, numbers);
    }

    @Property(tries = 300)
    void noPointOfAGridIsBetter(@ForAll long seed, @ForAll @IntRange(min = 1, max = 5) int number) {
        Random chance = new Random(seed);
        double[][] kin = kin(chance, number);
        boolean heavy = chance.nextBoolean();
        double[] seeds = IntStream.range(0, number)
                .mapToDouble(i -> heavy ? 1 : 1 / (150 + 150 * chance.nextDouble()))
                .toArray();
        long[] most =
                IntStream.range(0, number).mapToLong(i -> chance.nextInt(10)).toArray();
        most[0]++;
        long sum = 1 + chance.nextInt((int) Arrays.stream(most).sum());
        LeastKin found = new LeastKin(kin, seeds, most, sum);
        double[] amounts = found.amounts();
        double size = size(kin, seeds, amounts);
        assertThat(Arrays.stream(amounts).sum()).isCloseTo(sum, within(1e-9));
        for (int i = 0; i < number; i++) {
            assertThat(amounts[i]).isBetween(0.0, (double) most[i]);
        }
        all(
                most,
                sum,
                0,
                new long[number],
                grid -> assertThat(size(
                                kin, seeds, Arrays.stream(grid).asDoubleStream().toArray()))
                        .isLessThanOrEqualTo(size * (1 + 5e-6)));
    }

    @Property(tries = 100)
    void noMoveHelps(@ForAll long seed, @ForAll @IntRange(min = 2, max = 60) int number) {
        // Karush, Kuhn and Tucker's conditions, with slopes by differences and not by the formula.
        Random chance = new Random(seed);
        double[][] kin = kin(chance, number);
        double[] seeds = IntStream.range(0, number)
                .mapToDouble(i -> 1 / (150 + 150 * chance.nextDouble()))
                .toArray();
        long[] most = IntStream.range(0, number)
                .mapToLong(i -> 1 + chance.nextInt(600))
                .toArray();
        long sum = 1 + chance.nextInt((int) Arrays.stream(most).sum());
        LeastKin found = new LeastKin(kin, seeds, most, sum);
        double[] amounts = found.amounts();
        assertThat(found.gap()).isLessThan(2e-6);
        double size = size(kin, seeds, amounts);
        for (int to = 0; to < number; to++) {
            for (int from = 0; from < number; from++) {
                double step = Math.min(1e-3 * sum, Math.min(most[to] - amounts[to], amounts[from]));
                if (to != from && step > 0) {
                    double[] moved = amounts.clone();
                    moved[to] += step;
                    moved[from] -= step;
                    assertThat(size(kin, seeds, moved)).isLessThanOrEqualTo(size * (1 + 5e-6));
                }
            }
        }
    }

    @Property(tries = 200)
    void theLevelAndTheSearchAgree(@ForAll long seed, @ForAll @IntRange(min = 1, max = 30) int number) {
        Random chance = new Random(seed);
        long[] most =
                IntStream.range(0, number).mapToLong(i -> chance.nextInt(500)).toArray();
        most[0]++;
        long sum = 1 + chance.nextInt((int) Arrays.stream(most).sum());
        double[][] noKin = new double[number][number];
        IntStream.range(0, number).forEach(i -> noKin[i][i] = 1);
        double[] ones = new double[number];
        Arrays.fill(ones, 1);
        double[] found = new LeastKin(noKin, ones, most, sum).amounts();
        long[] level = Bulk.level(most, sum);
        assertThat(Arrays.stream(level).sum()).isEqualTo(sum);
        for (int i = 0; i < number; i++) {
            assertThat((double) level[i]).isCloseTo(found[i], within(1 + 2e-3 * sum));
        }
    }

    @Test
    void lightSeedCountsForMore() {
        // Half as heavy seeds are twice as many: 10 g of them are as good as 20 g of the others.
        Bulk bulk = Bulk.ofDams(List.of(new Available("1", "a", 100, 100.0), new Available("2", "b", 100, 200.0)), 30);
        assertThat(bulk.grams()).extracting(Taken::grams).containsExactly(10.0, 20.0);
        assertThat(bulk.after().value()).isCloseTo(2, within(1e-9));
        Bulk oneUnknown = Bulk.ofDams(List.of(new Available("1", "a", 100, 100.0), fruit("2", "b", 100)), 30);
        assertThat(oneUnknown.grams()).extracting(Taken::grams).containsExactly(15.0, 15.0);
    }

    @Test
    void aLotOfThoseGramsHasThatSize() {
        Pedigree fruits = Pedigree.of(
                List.of(Plant.founder("a"), Plant.founder("b"), Fruit.of("1", "a", "b"), Fruit.of("2", "b", "a")));
        Bulk bulk = Bulk.ofKin(List.of(fruit("1", "a", 30), fruit("2", "b", 5)), fruits, 20);
        Map<String, Double> amounts = new TreeMap<>();
        bulk.grams().forEach(taken -> amounts.put(taken.fruit(), taken.grams()));
        Pedigree withLot = Pedigree.of(List.of(
                Plant.founder("a"),
                Plant.founder("b"),
                Fruit.of("1", "a", "b"),
                Fruit.of("2", "b", "a"),
                Lot.of("lot", amounts)));
        assertThat(bulk.after().value()).isCloseTo(1 / withLot.relationship("lot", "lot"), within(1e-9));
    }

    @Test
    void whatCannotBeMixedIsRefused() {
        List<Available> one = List.of(fruit("1", "a", 10));
        assertThatIllegalArgumentException().isThrownBy(() -> Bulk.ofDams(one, 0));
        assertThatIllegalArgumentException().isThrownBy(() -> Bulk.ofDams(one, 1.25));
        assertThatIllegalArgumentException().isThrownBy(() -> Bulk.ofDams(one, Double.NaN));
        assertThatIllegalArgumentException().isThrownBy(() -> Bulk.ofDams(List.of(), 1));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Bulk.ofDams(List.of(fruit("1", "a", 0.09)), 1))
                .withMessage("no seed");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Bulk.ofDams(List.of(fruit("1", "a", 1), fruit("1", "b", 1)), 1));
        assertThatIllegalArgumentException().isThrownBy(() -> fruit("1", "a", -1));
        assertThatIllegalArgumentException().isThrownBy(() -> new Available("1", "a", 1, 0.0));
        Pedigree empty = Pedigree.of(List.of());
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Bulk.ofKin(one, empty, 1))
                .withMessage("1 is not entered");
    }
}
