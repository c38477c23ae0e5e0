import duskpeg.core.farm.FarmId;
import duskpeg.core.lineage.Bulk;
import duskpeg.core.lineage.Bulk.Available;
import duskpeg.core.lineage.Pairing;
import duskpeg.core.lineage.Pairing.Female;
import duskpeg.core.lineage.Pairing.Male;
import duskpeg.core.lineage.Pedigree;
import duskpeg.core.lineage.Stock;
import duskpeg.core.lineage.Stock.Fruit;
import duskpeg.core.lineage.Stock.Lot;
import duskpeg.core.lineage.Stock.Plant;
import duskpeg.core.planting.Ground;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.RowId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.function.Supplier;
import java.util.function.ToDoubleBiFunction;
import java.util.stream.IntStream;

/**
 * How long pedigrees, pairings and bulks take, each with something plainer beside it.
 *
 * <p>{@code java -cp projections/target/duskpeg.jar projections/src/bench/java/LineageBench.java [plants]}
 */
final class LineageBench {

    private static final int GENERATIONS = 10;
    private static final int TABULAR = 5_000;
    private static final int TIMES = 5;
    private static final FarmId FARM = new FarmId("bench");

    /** A pedigree, with its parents by number for the tabular method: dam and two candidates, or -1. */
    private static final class Line {

        private final List<Stock> stocks = new ArrayList<>();
        private final List<int[]> parents = new ArrayList<>();
    }

    public static void main(String[] arguments) {
        int plants = arguments.length > 0 ? Integer.parseInt(arguments[0]) : 10_000;
        inbreeding(plants);
        lots(plants);
        pairing(3);
        pairing(2);
        bulking(plants);
    }

    /** Plants of ten generations, each of a fruit of its own with two candidate males. */
    private static Line line(int plants) {
        SplittableRandom chance = new SplittableRandom(plants);
        Line line = new Line();
        int generation = plants / GENERATIONS;
        for (int i = 0; i < plants; i++) {
            int from = (i / generation - 1) * generation;
            if (from < 0) {
                line.stocks.add(Plant.founder("p" + i));
                line.parents.add(new int[] {-1, -1, -1});
            } else {
                int dam = from + chance.nextInt(generation);
                int one = from + chance.nextInt(generation);
                int other = from + (one - from + 1 + chance.nextInt(generation - 1)) % generation;
                line.stocks.add(Fruit.ofTwo("f" + i, "p" + dam, "p" + one, "p" + other));
                line.stocks.add(new Plant("p" + i, "f" + i));
                line.parents.add(new int[] {dam, one, other});
            }
        }
        return line;
    }

    private static void inbreeding(int plants) {
        Line line = line(plants);
        Pedigree pedigree = timed(
                "inbreeding of %,d plants, two candidates each".formatted(plants), () -> Pedigree.of(line.stocks));
        double mean = IntStream.range(plants - plants / GENERATIONS, plants)
                .mapToDouble(i -> pedigree.inbreeding("p" + i))
                .average()
                .orElseThrow();
        System.out.printf("  mean of the last generation %.5f%n", mean);
        timed("  relationship of two", () -> pedigree.relationship("p" + (plants - 1), "p" + (plants - 2)));
        Line small = line(TABULAR);
        double[] ours = timed("inbreeding of %,d plants".formatted(TABULAR), () -> {
            Pedigree found = Pedigree.of(small.stocks);
            return IntStream.range(0, TABULAR)
                    .mapToDouble(i -> found.inbreeding("p" + i))
                    .toArray();
        });
        double[] plain = timed("  by the tabular method", () -> tabular(small.parents));
        double off = IntStream.range(0, TABULAR)
                .mapToDouble(i -> Math.abs(ours[i] - plain[i]))
                .max()
                .orElseThrow();
        System.out.printf("  largest difference %.1e%n", off);
    }

    private static double[] tabular(List<int[]> parents) {
        double[][] a = new double[parents.size()][parents.size()];
        double[] inbreeding = new double[parents.size()];
        for (int i = 0; i < a.length; i++) {
            int[] of = parents.get(i);
            a[i][i] = 1;
            if (of[0] >= 0) {
                for (int j = 0; j < i; j++) {
                    a[i][j] = a[of[0]][j] / 2 + (a[of[1]][j] + a[of[2]][j]) / 4;
                    a[j][i] = a[i][j];
                }
                inbreeding[i] = (a[of[0]][of[1]] + a[of[0]][of[2]]) / 4;
                a[i][i] += inbreeding[i];
            }
        }
        return inbreeding;
    }

    /** The same number of plants, each generation grown of one lot of fifty fruits of the one before. */
    private static void lots(int plants) {
        SplittableRandom chance = new SplittableRandom(plants);
        List<Stock> stocks = new ArrayList<>();
        int generation = plants / GENERATIONS;
        for (int i = 0; i < plants; i++) {
            int now = i / generation;
            if (now > 0 && i % generation == 0) {
                Map<String, Double> grams = new LinkedHashMap<>();
                for (int fruit = 0; fruit < 50; fruit++) {
                    int one = chance.nextInt(generation);
                    String id = "f" + now + "-" + fruit;
                    String before = "p" + (now - 1) + "-";
                    stocks.add(Fruit.ofTwo(
                            id,
                            before + chance.nextInt(generation),
                            before + one,
                            before + (one + 1 + chance.nextInt(generation - 1)) % generation));
                    grams.put(id, 20 + 80 * chance.nextDouble());
                }
                stocks.add(Lot.of("lot" + now, grams));
            }
            stocks.add(new Plant("p" + now + "-" + i % generation, now == 0 ? null : "lot" + now));
        }
        Pedigree pedigree = timed("the same number of plants through lots", () -> Pedigree.of(stocks));
        System.out.printf(
                "  inbreeding of the last lot %.5f, status number %.1f%n",
                pedigree.inbreeding("lot" + (GENERATIONS - 1)),
                1 / pedigree.relationship("lot" + (GENERATIONS - 1), "lot" + (GENERATIONS - 1)));
    }

    private static void pairing(int each) {
        SplittableRandom chance = new SplittableRandom(each);
        List<RowId> rows = IntStream.rangeClosed(1, 24)
                .mapToObj(row -> new RowId(FARM, "" + row))
                .toList();
        Ground ground = new Ground(rows, 2.5, 0.8);
        List<PlantId> plants = new ArrayList<>();
        while (plants.size() < 100) {
            PlantId plant = new PlantId(rows.get(chance.nextInt(24)), 1 + chance.nextInt(60));
            if (!plants.contains(plant)) {
                plants.add(plant);
            }
        }
        double[][] matrix = Pedigree.of(line(1_000).stocks)
                .relationships(
                        IntStream.range(900, 1_000).mapToObj(i -> "p" + i).toList());
        Map<PlantId, Integer> numbers = new LinkedHashMap<>();
        plants.forEach(plant -> numbers.put(plant, numbers.size()));
        ToDoubleBiFunction<PlantId, PlantId> kin = (female, male) -> matrix[numbers.get(female)][numbers.get(male)];
        List<Female> females = plants.subList(0, 60).stream()
                .map(plant -> new Female(plant, 1))
                .toList();
        List<Male> males = plants.subList(60, 100).stream()
                .map(plant -> new Male(plant, each, 0))
                .toList();
        Pairing best = timed(
                "pairing 60 females and 40 plants of %d males".formatted(each),
                () -> Pairing.of(females, males, kin, ground));
        System.out.printf(
                "  served %d, relationships %.4f, ways %.1f m%n",
                best.pairs().size(), best.relationship(), best.metres());
        double[] greedy = timed("  each in turn takes what is best for her", () -> {
            int[] left = new int[males.size()];
            Arrays.fill(left, each);
            double[] sums = new double[3];
            for (Female female : females) {
                int[] order = IntStream.range(0, left.length)
                        .filter(male -> left[male] > 0)
                        .boxed()
                        .sorted((one, other) -> {
                            int nearer = Double.compare(
                                    kin.applyAsDouble(
                                            female.plant(), males.get(one).plant()),
                                    kin.applyAsDouble(
                                            female.plant(), males.get(other).plant()));
                            return nearer != 0
                                    ? nearer
                                    : Double.compare(
                                            ground.metres(males.get(one).plant(), female.plant()),
                                            ground.metres(males.get(other).plant(), female.plant()));
                        })
                        .mapToInt(Integer::intValue)
                        .limit(2)
                        .toArray();
                if (order.length == 2) {
                    sums[0]++;
                    for (int male : order) {
                        left[male]--;
                        sums[1] += kin.applyAsDouble(
                                female.plant(), males.get(male).plant());
                        sums[2] += ground.metres(males.get(male).plant(), female.plant());
                    }
                }
            }
            return sums;
        });
        System.out.printf("  served %.0f, relationships %.4f, ways %.1f m%n", greedy[0], greedy[1], greedy[2]);
    }

    private static void bulking(int plants) {
        SplittableRandom chance = new SplittableRandom(1);
        Line line = line(plants);
        Pedigree pedigree = Pedigree.of(line.stocks);
        List<Available> fruits = IntStream.range(plants - 200, plants)
                .mapToObj(i -> new Available(
                        "f" + i,
                        ((Fruit) line.stocks.get(line.stocks.size() - 2 * (plants - i))).dam(),
                        Math.round(chance.nextDouble() * chance.nextDouble() * 1_000) / 10.0,
                        180 + 100 * chance.nextDouble()))
                .toList();
        double wanted = Math.floor(fruits.stream().mapToDouble(Available::grams).sum() / 2);
        Bulk kin = timed("bulk of 200 fruits by kin", () -> Bulk.ofKin(fruits, pedigree, wanted));
        System.out.printf(
                "  %.1f g: status number %.2f, all mixed %.2f%n",
                kin.weight(), kin.after().value(), kin.before().value());
        timed(
                "  their relationships alone",
                () -> pedigree.relationships(
                        fruits.stream().map(Available::fruit).toList()));
        List<Available> alike = fruits.stream()
                .map(fruit -> new Available(fruit.fruit(), fruit.dam(), fruit.grams(), null))
                .toList();
        Bulk dams = timed("bulk of 200 fruits by dams", () -> Bulk.ofDams(alike, wanted));
        System.out.printf(
                "  effective dams %.2f, all mixed %.2f%n",
                dams.after().value(), dams.before().value());
    }

    /** Done once to warm up, then a few times; prints the median. */
    private static <T> T timed(String what, Supplier<T> work) {
        T result = work.get();
        double[] millis = new double[TIMES];
        for (int i = 0; i < TIMES; i++) {
            long start = System.nanoTime();
            result = work.get();
            millis[i] = (System.nanoTime() - start) / 1e6;
        }
        Arrays.sort(millis);
        System.out.printf(
                "%s: median %.2f ms, slowest %.2f ms of %d%n", what, millis[TIMES / 2], millis[TIMES - 1], TIMES);
        return result;
    }
}
