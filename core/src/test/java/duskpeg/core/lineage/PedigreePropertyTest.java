package duskpeg.core.lineage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import duskpeg.core.lineage.Stock.Candidate;
import duskpeg.core.lineage.Stock.Fruit;
import duskpeg.core.lineage.Stock.Lot;
import duskpeg.core.lineage.Stock.Plant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.jspecify.annotations.Nullable;

/** Any pedigree, computed twice: by the plain tabular method, and as the mean over everything that may be so. */
class PedigreePropertyTest {

    /** Anything: oldest first, selfing, unknown parents, lots and lots of lots, one to three candidates. */
    static List<Stock> anyPedigree(Random chance, int entries) {
        List<Stock> stocks = new ArrayList<>();
        List<String> plants = new ArrayList<>();
        List<String> seed = new ArrayList<>();
        plants.add("p0");
        stocks.add(Plant.founder("p0"));
        for (int i = 1; i < entries; i++) {
            int kind = chance.nextInt(10);
            if (kind < 4) {
                List<Candidate> candidates = new ArrayList<>();
                int fathers = 1 + chance.nextInt(3);
                List<@Nullable String> left = new ArrayList<>(plants);
                left.add(null);
                double rest = 1;
                for (int father = 0; father < fathers && !left.isEmpty(); father++) {
                    boolean last = father == fathers - 1 || left.size() == 1;
                    double probability = last ? rest : rest * (1 + chance.nextInt(3)) / 4;
                    candidates.add(new Candidate(left.remove(chance.nextInt(left.size())), probability));
                    rest -= probability;
                }
                stocks.add(new Fruit("f" + i, chance.nextInt(8) == 0 ? null : any(chance, plants), candidates));
                seed.add("f" + i);
            } else if (kind == 4 && !seed.isEmpty()) {
                Map<String, Double> amounts = new LinkedHashMap<>();
                for (int share = 0; share < 3; share++) {
                    amounts.put(any(chance, seed), 1.0 + chance.nextInt(9));
                }
                stocks.add(Lot.of("l" + i, amounts));
                seed.add("l" + i);
            } else {
                stocks.add(new Plant("p" + i, seed.isEmpty() || chance.nextInt(6) == 0 ? null : any(chance, seed)));
                plants.add("p" + i);
            }
        }
        return stocks;
    }

    private static String any(Random chance, List<String> of) {
        return of.get(chance.nextInt(of.size()));
    }

    /** The same with a founder for each dam that nobody knows. */
    private static List<Stock> withDams(List<Stock> stocks) {
        List<Stock> all = new ArrayList<>();
        for (Stock stock : stocks) {
            if (stock instanceof Fruit fruit && fruit.dam() == null) {
                all.add(Plant.founder("dam of " + fruit.id()));
                all.add(new Fruit(fruit.id(), "dam of " + fruit.id(), fruit.candidates()));
            } else {
                all.add(stock);
            }
        }
        return all;
    }

    /** One thing that a seed may be, as far as its parents go. */
    private record Parents(@Nullable String dam, @Nullable String sire, double probability) {}

    private static List<Parents> parents(Map<String, Stock> stocks, @Nullable String seedOf) {
        List<Parents> all = new ArrayList<>();
        if (seedOf == null) {
            all.add(new Parents(null, null, 1));
        } else if (stocks.get(seedOf) instanceof Fruit fruit) {
            fruit.candidates()
                    .forEach(father -> all.add(new Parents(fruit.dam(), father.plant(), father.probability())));
        } else if (stocks.get(seedOf) instanceof Lot lot) {
            lot.shares()
                    .forEach(share -> parents(stocks, share.of())
                            .forEach(one ->
                                    all.add(new Parents(one.dam(), one.sire(), one.probability() * share.part()))));
        }
        return all;
    }

    /** The tabular method (Emik & Terrill 1949, from memory): one row after another, of the rows before it. */
    static double[][] tabular(List<Stock> oldestFirst) {
        Map<String, Stock> stocks = new HashMap<>();
        oldestFirst.forEach(stock -> stocks.put(stock.id(), stock));
        List<Plant> plants = plants(oldestFirst);
        Map<String, Integer> number = new HashMap<>();
        double[][] a = new double[plants.size()][plants.size()];
        for (int i = 0; i < a.length; i++) {
            number.put(plants.get(i).id(), i);
            a[i][i] = 1;
            for (Parents one : parents(stocks, plants.get(i).seedOf())) {
                Integer dam = number.get(one.dam());
                Integer sire = number.get(one.sire());
                for (int j = 0; j < i; j++) {
                    double half = one.probability() / 2;
                    a[i][j] += half * ((dam == null ? 0 : a[dam][j]) + (sire == null ? 0 : a[sire][j]));
                    a[j][i] = a[i][j];
                }
                if (dam != null && sire != null) {
                    a[i][i] += one.probability() / 2 * a[dam][sire];
                }
            }
        }
        return a;
    }

    private static List<Plant> plants(List<Stock> stocks) {
        return stocks.stream()
                .filter(Plant.class::isInstance)
                .map(Plant.class::cast)
                .toList();
    }

    @Property(tries = 300)
    void isWhatTheTabularMethodGives(@ForAll long seed, @ForAll @IntRange(min = 1, max = 80) int entries) {
        List<Stock> stocks = anyPedigree(new Random(seed), entries);
        double[][] expected = tabular(withDams(stocks));
        List<String> ids = plants(withDams(stocks)).stream().map(Plant::id).toList();
        Pedigree pedigree = Pedigree.of(stocks);
        double[][] matrix = Pedigree.of(withDams(stocks)).relationships(ids);
        for (int i = 0; i < expected.length; i++) {
            assertThat(matrix[i]).containsExactly(expected[i], within(1e-9));
            int other = new Random(seed).nextInt(expected.length);
            if (ids.get(i).startsWith("p") && ids.get(other).startsWith("p")) {
                assertThat(1 + pedigree.inbreeding(ids.get(i))).isCloseTo(expected[i][i], within(1e-9));
                assertThat(pedigree.relationship(ids.get(i), ids.get(other)))
                        .isCloseTo(expected[i][other], within(1e-9));
            }
        }
    }

    @Property(tries = 100)
    void isTheMeanOfEverythingThatMayBeSo(@ForAll long seed, @ForAll @IntRange(min = 1, max = 12) int entries) {
        List<Stock> stocks = withDams(anyPedigree(new Random(seed), entries));
        Map<String, Stock> byId = new HashMap<>();
        stocks.forEach(stock -> byId.put(stock.id(), stock));
        List<Plant> plants = plants(stocks);
        double[][] mean = new double[plants.size()][plants.size()];
        resolve(byId, plants, 0, 1, new ArrayList<>(), mean);
        double[][] matrix =
                Pedigree.of(stocks).relationships(plants.stream().map(Plant::id).toList());
        for (int i = 0; i < mean.length; i++) {
            assertThat(matrix[i]).containsExactly(mean[i], within(1e-9));
        }
    }

    /** Every way in which the plants may have come of one dam and one sire each, with its probability. */
    private static void resolve(
            Map<String, Stock> stocks,
            List<Plant> plants,
            int next,
            double probability,
            List<Parents> chosen,
            double[][] mean) {
        if (next == plants.size()) {
            Map<String, Parents> by = new HashMap<>();
            for (int i = 0; i < chosen.size(); i++) {
                by.put(plants.get(i).id(), chosen.get(i));
            }
            for (int i = 0; i < mean.length; i++) {
                for (int j = 0; j < mean.length; j++) {
                    mean[i][j] += probability * related(by, plants, i, j);
                }
            }
            return;
        }
        for (Parents one : parents(stocks, plants.get(next).seedOf())) {
            chosen.add(one);
            resolve(stocks, plants, next + 1, probability * one.probability(), chosen, mean);
            chosen.remove(chosen.size() - 1);
        }
    }

    /** By recursion from the younger one to its parents: the definition of coancestry, twice. */
    private static double related(Map<String, Parents> by, List<Plant> plants, int i, int j) {
        if (i < 0 || j < 0) {
            return 0;
        }
        Parents of = by.get(plants.get(Math.max(i, j)).id());
        int dam = number(plants, of.dam());
        int sire = number(plants, of.sire());
        if (i == j) {
            return 1 + related(by, plants, dam, sire) / 2;
        }
        int older = Math.min(i, j);
        return (related(by, plants, dam, older) + related(by, plants, sire, older)) / 2;
    }

    private static int number(List<Plant> plants, @Nullable String id) {
        for (int i = 0; i < plants.size(); i++) {
            if (plants.get(i).id().equals(id)) {
                return i;
            }
        }
        return -1;
    }
}
