package duskpeg.core.lineage;

import duskpeg.core.lineage.StrictMatching.Edge;
import duskpeg.core.planting.Ground;
import duskpeg.core.planting.PlantId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.ToDoubleBiFunction;
import java.util.stream.Stream;

/**
 * Which two males each waiting female is best given, where plants are named. Advice: which was given is what is reported.
 *
 * <p>In strict order: as many females as can be get two males, of two plants and neither her own, for one male is of no
 * use to her; then the sum of the relationships of females and their males is least, so that sibs are avoided wherever
 * they can be; then the sum of the ways; then plants of males are used as evenly as can be (the sum of the squares of
 * their uses is least). Relationships count in thousandths and ways in tenths of a metre. No answer is better: see
 * {@link StrictMatching}. Between answers that are as good, which one it is depends on the order of what is given, and on
 * nothing else.
 *
 * @param pairs the females that get two males, one for each flower, in the order in which they were given
 * @param without females that get none, since there are not enough males for them
 * @param uses what is used of each plant of males, in the order in which they were given
 */
public record Pairing(List<Pair> pairs, List<Female> without, List<Use> uses) {

    private static final int THOUSANDTHS = 1_000;
    private static final int TENTHS = 10;

    /** As many costs has each edge: without males, relationship, way, evenness. */
    private static final int COSTS = 4;

    /** A cost of nothing. */
    private static final int[] FREE = new int[COSTS];

    public Pairing {
        pairs = List.copyOf(pairs);
        without = List.copyOf(without);
        uses = List.copyOf(uses);
    }

    /**
     * Females of a plant that wait for males.
     *
     * @param plant the plant
     * @param flowers how many of them, at least 1
     */
    public record Female(PlantId plant, int flowers) {

        /**
         * @throws IllegalArgumentException if there is none
         */
        public Female {
            if (flowers < 1) {
                throw new IllegalArgumentException("no flowers: " + flowers);
            }
        }
    }

    /**
     * Pegged males of a plant.
     *
     * @param plant the plant
     * @param flowers how many of them, at least 1
     * @param used how many of its males were used for the same lot before, 0 or more; only evenness looks at it
     */
    public record Male(PlantId plant, int flowers, int used) {

        /**
         * @throws IllegalArgumentException if a number is out of its range
         */
        public Male {
            if (flowers < 1 || used < 0) {
                throw new IllegalArgumentException("no flowers: " + flowers + ", or used before: " + used);
            }
        }
    }

    /**
     * A male for a female.
     *
     * @param plant its plant
     * @param relationship of the two plants, 0 to 2
     * @param metres from its plant to hers
     */
    public record Given(PlantId plant, double relationship, double metres) {}

    /**
     * A female with her males.
     *
     * @param female her plant
     * @param one the nearer male
     * @param other the other one
     */
    public record Pair(PlantId female, Given one, Given other) {

        /** The inbreeding that is to be expected of her seeds, either male being the father of half of them; 0 to 1. */
        public double inbreeding() {
            return (one.relationship() + other.relationship()) / 4;
        }

        /** The sum of both relationships. */
        public double relationship() {
            return one.relationship() + other.relationship();
        }

        /** The sum of both ways. */
        public double metres() {
            return one.metres() + other.metres();
        }

        /** One sentence in plain English. */
        public String because() {
            return female.label() + " gets males of " + said(one) + " and of " + said(other) + ".";
        }

        private static String said(Given male) {
            return String.format(
                    Locale.ROOT,
                    "%s, relationship %.3f, %.1f m away",
                    male.plant().label(),
                    male.relationship(),
                    male.metres());
        }
    }

    /**
     * What is used of a plant's males.
     *
     * @param plant the plant
     * @param used how many of them this time
     * @param flowers how many there are
     */
    public record Use(PlantId plant, int used, int flowers) {}

    /** The sum of all relationships: what was made least first. */
    public double relationship() {
        return pairs.stream().mapToDouble(Pair::relationship).sum();
    }

    /** The sum of all ways in metres; no route, for nobody walks to each female anew. */
    public double metres() {
        return pairs.stream().mapToDouble(Pair::metres).sum();
    }

    /**
     * The best pairing.
     *
     * @param relationship of a female's plant and a male's, 0 to 2
     * @throws IllegalArgumentException if a plant is given twice as a female or as a male, is not on the ground, or a
     *     relationship is out of its range
     */
    public static Pairing of(
            List<Female> females, List<Male> males, ToDoubleBiFunction<PlantId, PlantId> relationship, Ground ground) {
        if (females.stream().map(Female::plant).distinct().count() < females.size()
                || males.stream().map(Male::plant).distinct().count() < males.size()) {
            throw new IllegalArgumentException("a plant is given twice");
        }
        return new Search(females, males, relationship, ground).best();
    }

    /**
     * The question as a matching. A female that gets both males or none makes it no flow: a flow could bring her one. So
     * each of her flowers is two nodes with an edge between them, which is matched if she gets none. For each plant of
     * males there is a bridge of two nodes between her and it, matched in itself or to one of her nodes and one of its
     * flowers: that she gets only one male of it. Males that are left are matched to each other; where they are odd in
     * number, one to a node that is nobody's.
     */
    private static final class Search {

        private final List<Female> females;
        private final List<Male> males;
        private final Given[][] given;
        private final List<Edge> edges = new ArrayList<>();
        private int nodes;

        Search(
                List<Female> females,
                List<Male> males,
                ToDoubleBiFunction<PlantId, PlantId> relationship,
                Ground ground) {
            this.females = females;
            this.males = males;
            given = new Given[females.size()][males.size()];
            for (int i = 0; i < females.size(); i++) {
                for (int j = 0; j < males.size(); j++) {
                    PlantId female = females.get(i).plant();
                    PlantId male = males.get(j).plant();
                    double related = relationship.applyAsDouble(female, male);
                    if (!(related >= 0 && related <= 2)) {
                        throw new IllegalArgumentException(
                                "not a relationship: " + related + " of " + female + " and " + male);
                    }
                    given[i][j] = new Given(male, related, ground.metres(male, female));
                }
            }
        }

        private int node() {
            return nodes++;
        }

        private void edge(int one, int other, int... costs) {
            edges.add(new Edge(one, other, costs));
        }

        Pairing best() {
            int waiting = females.stream().mapToInt(Female::flowers).sum();
            List<int[]> flowersOf = males.stream()
                    .map(male -> new int[Math.min(male.flowers(), waiting)])
                    .toList();
            flowersOf.forEach(flowers -> Arrays.setAll(flowers, flower -> node()));
            matchWhatIsLeft();
            // Which female flower, and which male, a node is between.
            Map<Integer, int[]> bridges = new HashMap<>();
            int flower = 0;
            for (int i = 0; i < females.size(); i++) {
                for (int each = 0; each < females.get(i).flowers(); each++) {
                    int first = node();
                    int second = node();
                    edge(first, second, 1, 0, 0, 0);
                    for (int j = 0; j < males.size(); j++) {
                        if (!males.get(j).plant().equals(females.get(i).plant())) {
                            bridges.put(bridge(first, second, i, j, flowersOf.get(j)), new int[] {flower, j});
                        }
                    }
                    flower++;
                }
            }
            List<List<Integer>> malesOf = Stream.generate(() -> (List<Integer>) new ArrayList<Integer>())
                    .limit(waiting)
                    .toList();
            for (Edge edge : nodes == 0 ? List.<Edge>of() : StrictMatching.best(nodes, edges, COSTS)) {
                int[] between = bridges.get(edge.other());
                if (between != null) {
                    malesOf.get(between[0]).add(between[1]);
                }
            }
            return answer(malesOf);
        }

        /** Returns the node near the female, at which an edge of the matching ends only if she gets that male. */
        private int bridge(int first, int second, int female, int male, int[] flowers) {
            int nearFemale = node();
            int nearMale = node();
            Given way = given[female][male];
            int related = (int) Math.round(way.relationship() * THOUSANDTHS);
            int metres = (int) Math.round(way.metres() * TENTHS);
            edge(first, nearFemale, 0, related, metres, 0);
            edge(second, nearFemale, 0, related, metres, 0);
            // From the bridge outwards, so that none but a female's edge ends near her.
            edge(nearFemale, nearMale, FREE);
            for (int k = 0; k < flowers.length; k++) {
                // What one use more adds to the square of all.
                edge(nearMale, flowers[k], 0, 0, 0, 2 * (males.get(male).used() + k) + 1);
            }
            return nearFemale;
        }

        private void matchWhatIsLeft() {
            int flowers = nodes;
            int all = flowers % 2 == 0 ? flowers : flowers + 1;
            nodes = all;
            for (int i = 0; i < all; i++) {
                for (int j = i + 1; j < all; j++) {
                    edge(i, j, FREE);
                }
            }
        }

        private Pairing answer(List<List<Integer>> malesOf) {
            List<Pair> pairs = new ArrayList<>();
            List<Female> without = new ArrayList<>();
            int[] used = new int[males.size()];
            int flower = 0;
            for (int i = 0; i < females.size(); i++) {
                Given[] ways = given[i];
                int none = 0;
                for (int each = 0; each < females.get(i).flowers(); each++) {
                    List<Integer> chosen = malesOf.get(flower++);
                    if (chosen.isEmpty()) {
                        none++;
                    } else {
                        chosen.forEach(male -> used[male]++);
                        List<Given> nearestFirst = chosen.stream()
                                .sorted()
                                .map(male -> ways[male])
                                .sorted(Comparator.comparingDouble(Given::metres))
                                .toList();
                        pairs.add(new Pair(females.get(i).plant(), nearestFirst.get(0), nearestFirst.get(1)));
                    }
                }
                if (none > 0) {
                    without.add(new Female(females.get(i).plant(), none));
                }
            }
            List<Use> uses = new ArrayList<>();
            for (int j = 0; j < used.length; j++) {
                uses.add(new Use(males.get(j).plant(), used[j], males.get(j).flowers()));
            }
            return new Pairing(pairs, without, uses);
        }
    }
}
