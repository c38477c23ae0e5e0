package duskpeg.core.lineage;

import duskpeg.core.lineage.Stock.Candidate;
import duskpeg.core.lineage.Stock.Fruit;
import duskpeg.core.lineage.Stock.Lot;
import duskpeg.core.lineage.Stock.Plant;
import duskpeg.core.lineage.Stock.Share;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.Comparator;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Stream;

/**
 * Plants, fruits and lots over generations, with their relationships.
 *
 * <p>The relationship of two is the numerator relationship: twice the chance that a gene of the one and a gene of the
 * other, drawn at random at one locus, are copies of one ancestor's gene. Of a plant with itself it is 1 more than its
 * inbreeding; of parent and child without inbreeding 0.5. A fruit or a lot stands for a seed drawn from it at random,
 * and its relationship with itself is that of two different seeds.
 *
 * <p>Where a father is one of several candidates, or a plant grew from a bulked lot, what is given is the average over
 * everything that may be so (Henderson 1988, J. Anim. Sci. 66; from memory). It assumes that
 *
 * <ul>
 *   <li>founders and parents nobody knows are no kin and not inbred; so inbreeding is counted from them on;
 *   <li>each seed draws its father, and each plant of a lot its fruit, by itself. Then the average is exact for every
 *       two plants, and for every plant's inbreeding. It is not exact where two entries are known to share a father
 *       that nobody knows, nor for anything that isn't linear in relationships: an effective size computed from
 *       averages is not the average of effective sizes;
 *   <li>a lot is well mixed and so big that drawing seeds doesn't change it;
 *   <li>all seeds are equally good. Selection, mutation and linkage are left out.
 * </ul>
 *
 * <p>A dam or father in a fruit is a plant. Where it was not named, enter an unnamed plant of its lot for each; that two
 * of them may be the same one is then left out.
 *
 * <p>Entries may come in any order. Immutable, and safe to share.
 */
public final class Pedigree {

    /**
     * A mixture of nodes. A plant is a node of its own, and so is a lot; a fruit is only ever a mixture, half its dam and
     * half its candidates.
     */
    private static final class Mix {

        static final Mix EMPTY = new Mix(new int[0], new double[0]);

        private final int[] of;
        private final double[] parts;

        Mix(int[] of, double[] parts) {
            this.of = of;
            this.parts = parts;
        }

        static Mix only(int node) {
            return new Mix(new int[] {node}, new double[] {1});
        }
    }

    /**
     * What is known of an entry.
     *
     * @param mix what it is made of
     * @param inbreeding its own, or that of its seeds on average
     * @param among how its seeds are related among each other; of a plant, its relationship with itself
     */
    private record Known(Mix mix, double inbreeding, double among) {}

    private final Map<String, Stock> stocks = new TreeMap<>();
    private final Map<String, Known> entries = new HashMap<>();

    /** The relationships are {@code T D T'}: a node is the mixture of its parents, and what is new in it. */
    private final Mix[] parents;

    /** What is new in a node: how much plants of one origin differ by what each drew; nothing in a lot. */
    private final double[] own;

    private int nodes;

    private Pedigree(Collection<? extends Stock> all) {
        for (Stock stock : all) {
            if (stocks.put(stock.id(), stock) != null) {
                throw new IllegalArgumentException(stock.id() + " is entered twice");
            }
        }
        stocks.values().forEach(this::checkNames);
        parents = new Mix[stocks.size()];
        own = new double[stocks.size()];
        // Two traces at a time, kept for all of them: filling them anew each time would take longer than tracing.
        double[] one = new double[stocks.size()];
        double[] other = new double[stocks.size()];
        for (Stock stock : oldestFirst()) {
            if (stock instanceof Plant plant) {
                enter(plant);
            } else if (stock instanceof Fruit fruit) {
                enter(fruit, one, other);
            } else if (stock instanceof Lot lot) {
                enter(lot, one);
            }
        }
    }

    /**
     * A pedigree of these.
     *
     * @throws IllegalArgumentException if an id is entered twice, one that is named is not entered or is of the wrong
     *     kind, or something descends from itself; the message names it
     */
    public static Pedigree of(Collection<? extends Stock> entries) {
        return new Pedigree(entries);
    }

    private static Stream<String> named(Stock stock) {
        if (stock instanceof Plant plant) {
            return Stream.ofNullable(plant.seedOf());
        }
        if (stock instanceof Fruit fruit) {
            return Stream.concat(
                    Stream.ofNullable(fruit.dam()),
                    fruit.candidates().stream().map(Candidate::plant).flatMap(Stream::ofNullable));
        }
        return ((Lot) stock).shares().stream().map(Share::of);
    }

    private void checkNames(Stock stock) {
        named(stock).forEach(name -> {
            Stock there = stocks.get(name);
            if (there == null) {
                throw new IllegalArgumentException(stock.id() + " names " + name + ", which is not entered");
            }
            if (there instanceof Plant != stock instanceof Fruit) {
                throw new IllegalArgumentException(stock.id() + " can't come of " + name + ", which is "
                        + (there instanceof Plant ? "a plant" : "no plant"));
            }
        });
    }

    /** All entries, none before what it comes of. Not recursive, so that a long pedigree needs no deep stack. */
    private List<Stock> oldestFirst() {
        List<Stock> sorted = new ArrayList<>();
        Map<String, Boolean> done = new HashMap<>();
        Deque<Stock> open = new ArrayDeque<>();
        for (Stock start : stocks.values()) {
            open.push(start);
            while (!open.isEmpty()) {
                Stock stock = open.element();
                Boolean state = done.putIfAbsent(stock.id(), false);
                if (state == null) {
                    named(stock).forEach(name -> {
                        Boolean there = done.get(name);
                        if (there == null) {
                            Optional.ofNullable(stocks.get(name)).ifPresent(open::push);
                        } else if (!there) {
                            throw new IllegalArgumentException(name + " descends from itself, by way of " + stock.id());
                        }
                    });
                } else {
                    open.pop();
                    if (!state) {
                        done.put(stock.id(), true);
                        sorted.add(stock);
                    }
                }
            }
        }
        return sorted;
    }

    private Mix node(Mix of, double isNew) {
        parents[nodes] = of;
        own[nodes] = isNew;
        return Mix.only(nodes++);
    }

    private void enter(Plant plant) {
        String seedOf = plant.seedOf();
        if (seedOf == null) {
            entries.put(plant.id(), new Known(node(Mix.EMPTY, 1), 0, 1));
        } else {
            Known seed = known(seedOf);
            double itself = 1 + seed.inbreeding();
            // Of a dam and one sire this is the usual 1/2 - (F of dam + F of sire)/4.
            Mix mix = node(seed.mix(), Math.max(0, itself - seed.among()));
            entries.put(plant.id(), new Known(mix, seed.inbreeding(), itself));
        }
    }

    private void enter(Fruit fruit, double[] ofDam, double[] ofFathers) {
        String bearer = fruit.dam();
        // Nobody may know who she was, but all seeds of a fruit have the same.
        Known dam = bearer == null ? new Known(node(Mix.EMPTY, 1), 0, 1) : known(bearer);
        Map<String, Double> probabilities = new TreeMap<>();
        fruit.candidates().forEach(candidate -> {
            if (candidate.plant() != null) {
                probabilities.put(candidate.plant(), candidate.probability());
            }
        });
        Mix fathers = mixed(probabilities);
        int upToDam = trace(dam.mix(), ofDam);
        int upToFathers = trace(fathers, ofFathers);
        double damAndFather = dot(ofDam, ofFathers, Math.min(upToDam, upToFathers));
        double among = (dam.among() + 2 * damAndFather + dot(ofFathers, ofFathers, upToFathers)) / 4;
        Arrays.fill(ofDam, 0, upToDam + 1, 0);
        Arrays.fill(ofFathers, 0, upToFathers + 1, 0);
        entries.put(fruit.id(), new Known(halves(dam.mix(), fathers), damAndFather / 2, among));
    }

    private void enter(Lot lot, double[] row) {
        Map<String, Double> shares = new TreeMap<>();
        lot.shares().forEach(share -> shares.put(share.of(), share.part()));
        double inbred = 0;
        for (Map.Entry<String, Double> share : shares.entrySet()) {
            inbred += share.getValue() * known(share.getKey()).inbreeding();
        }
        Mix mix = mixed(shares);
        int upTo = trace(mix, row);
        double among = dot(row, row, upTo);
        Arrays.fill(row, 0, upTo + 1, 0);
        // A node of its own, so that what is in a lot is gone through once and not for each plant of it.
        entries.put(lot.id(), new Known(node(mix, 0), inbred, among));
    }

    private static Mix halves(Mix dam, Mix fathers) {
        Map<Integer, Double> parts = new TreeMap<>();
        add(parts, dam, 0.5);
        add(parts, fathers, 0.5);
        return mix(parts);
    }

    private Mix mixed(Map<String, Double> weights) {
        Map<Integer, Double> parts = new TreeMap<>();
        weights.forEach((id, weight) -> add(parts, known(id).mix(), weight));
        return mix(parts);
    }

    private static void add(Map<Integer, Double> parts, Mix mix, double weight) {
        for (int i = 0; i < mix.of.length; i++) {
            parts.merge(mix.of[i], weight * mix.parts[i], Double::sum);
        }
    }

    private static Mix mix(Map<Integer, Double> parts) {
        return new Mix(
                parts.keySet().stream().mapToInt(Integer::intValue).toArray(),
                parts.values().stream().mapToDouble(Double::doubleValue).toArray());
    }

    /**
     * What of a mixture comes by way of each node: a row of {@code T}, as in Meuwissen & Luo 1992 (Genet. Sel. Evol. 24;
     * from memory). The row must be empty.
     *
     * @return the youngest node there is anything of; -1 where there is none
     */
    private int trace(Mix start, double[] row) {
        int youngest = -1;
        for (int i = 0; i < start.of.length; i++) {
            row[start.of[i]] = start.parts[i];
            youngest = Math.max(youngest, start.of[i]);
        }
        for (int node = youngest; node >= 0; node--) {
            double part = row[node];
            if (part != 0) {
                Mix of = parents[node];
                for (int i = 0; i < of.of.length; i++) {
                    row[of.of[i]] += part * of.parts[i];
                }
            }
        }
        return youngest;
    }

    /** The relationship of two mixtures, of their rows. */
    private double dot(double[] one, double[] other, int youngest) {
        double sum = 0;
        for (int node = 0; node <= youngest; node++) {
            sum += one[node] * own[node] * other[node];
        }
        return sum;
    }

    private Known known(String id) {
        Known known = entries.get(id);
        if (known == null) {
            throw new IllegalArgumentException(id + " is not entered");
        }
        return known;
    }

    /**
     * Its inbreeding, 0 to 1; of a fruit or a lot, what its seeds have on average.
     *
     * @throws IllegalArgumentException if it is not entered
     */
    public double inbreeding(String id) {
        return known(id).inbreeding();
    }

    /**
     * The relationship of two, 0 to 2. Takes time in proportion to the number of entries.
     *
     * @throws IllegalArgumentException if one is not entered
     */
    public double relationship(String one, String other) {
        double[] ofOne = new double[nodes];
        double[] ofOther = new double[nodes];
        int upToOne = trace(known(one).mix(), ofOne);
        return dot(ofOne, ofOther, Math.min(upToOne, trace(known(other).mix(), ofOther)));
    }

    /**
     * The relationships of each of these with each, in their order. Each takes time in proportion to the number of all
     * entries (Colleau 2002, Genet. Sel. Evol. 34; from memory); the whole matrix is made of all ids.
     *
     * @throws IllegalArgumentException if one is not entered
     */
    public double[][] relationships(List<String> ids) {
        List<Mix> all = ids.stream().map(id -> known(id).mix()).toList();
        double[][] matrix = new double[ids.size()][];
        for (int i = 0; i < matrix.length; i++) {
            double[] with = new double[nodes];
            trace(all.get(i), with);
            for (int node = 0; node < nodes; node++) {
                with[node] = own[node] * with[node] + sum(parents[node], with);
            }
            matrix[i] = all.stream().mapToDouble(mix -> sum(mix, with)).toArray();
        }
        return matrix;
    }

    private static double sum(Mix mix, double[] values) {
        double sum = 0;
        for (int i = 0; i < mix.of.length; i++) {
            sum += mix.parts[i] * values[mix.of[i]];
        }
        return sum;
    }

    /**
     * The coancestry of a group, 0 to 1: half the relationship of two that are drawn from it, the second after the first
     * was put back. Of a lot, that is half its relationship with itself.
     *
     * @param parts how often each is drawn; they are divided by their sum
     * @throws IllegalArgumentException if one is not entered, or the sum is not above 0
     */
    public double coancestry(Map<String, Double> parts) {
        double all = parts.values().stream().mapToDouble(Double::doubleValue).sum();
        if (!(all > 0)) {
            throw new IllegalArgumentException("a group of nothing");
        }
        double[] row = new double[nodes];
        int upTo = trace(mixed(parts), row);
        return dot(row, row, upTo) / (all * all) / 2;
    }

    /**
     * What each plant gave to a lot or a fruit, by id; those nobody knows come together, last.
     *
     * @throws IllegalArgumentException if it is not entered, or is a plant
     */
    public List<Contribution> contributions(String id) {
        known(id);
        Map<Optional<String>, double[]> given = new HashMap<>();
        give(id, 1, given);
        return given.entrySet().stream()
                .map(plant -> new Contribution(plant.getKey().orElse(null), plant.getValue()[0], plant.getValue()[1]))
                .sorted(Comparator.comparing(Contribution::plant, Comparator.nullsLast(Comparator.naturalOrder())))
                .toList();
    }

    private void give(String id, double part, Map<Optional<String>, double[]> given) {
        Stock stock = stocks.get(id);
        if (stock instanceof Lot lot) {
            lot.shares().forEach(share -> give(share.of(), part * share.part(), given));
        } else if (stock instanceof Fruit fruit) {
            given.computeIfAbsent(Optional.ofNullable(fruit.dam()), plant -> new double[2])[0] += part;
            fruit.candidates()
                    .forEach(candidate ->
                            given.computeIfAbsent(Optional.ofNullable(candidate.plant()), plant -> new double[2])[1] +=
                                    part * candidate.probability());
        } else {
            throw new IllegalArgumentException(id + " is a plant, and no seed");
        }
    }
}
