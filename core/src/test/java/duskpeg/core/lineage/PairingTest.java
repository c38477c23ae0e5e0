package duskpeg.core.lineage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import duskpeg.core.Farm;
import duskpeg.core.lineage.Pairing.Female;
import duskpeg.core.lineage.Pairing.Given;
import duskpeg.core.lineage.Pairing.Male;
import duskpeg.core.lineage.Pairing.Pair;
import duskpeg.core.lineage.Pairing.Use;
import duskpeg.core.planting.Ground;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.RowId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.function.Function;
import java.util.function.ToDoubleBiFunction;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.jgrapht.alg.flow.mincost.CapacityScalingMinimumCostFlow;
import org.jgrapht.alg.flow.mincost.MinimumCostFlowProblem.MinimumCostFlowProblemImpl;
import org.jgrapht.graph.DefaultWeightedEdge;
import org.jgrapht.graph.SimpleDirectedWeightedGraph;
import org.junit.jupiter.api.Test;

class PairingTest {

    private static final Ground GROUND = new Ground(
            IntStream.rangeClosed(1, 24)
                    .mapToObj(row -> Farm.row("" + row).id())
                    .toList(),
            2,
            1);

    private static PlantId plant(int row, int number) {
        return new PlantId(Farm.row("" + row).id(), number);
    }

    private static final ToDoubleBiFunction<PlantId, PlantId> NO_KIN = (female, male) -> 0;

    @Test
    void theNearestMalesThatAreNotHerOwn() {
        Pairing pairing = Pairing.of(
                List.of(new Female(plant(2, 7), 1)),
                List.of(
                        new Male(plant(2, 7), 5, 0),
                        new Male(plant(2, 20), 1, 0),
                        new Male(plant(3, 7), 3, 0),
                        new Male(plant(2, 10), 1, 0)),
                NO_KIN,
                GROUND);
        Pair pair = new Pair(plant(2, 7), new Given(plant(3, 7), 0, 2), new Given(plant(2, 10), 0, 3));
        assertThat(pairing.pairs()).containsExactly(pair);
        assertThat(pairing.without()).isEmpty();
        assertThat(pairing.metres()).isEqualTo(5);
        assertThat(pairing.uses())
                .containsExactly(
                        new Use(plant(2, 7), 0, 5),
                        new Use(plant(2, 20), 0, 1),
                        new Use(plant(3, 7), 1, 3),
                        new Use(plant(2, 10), 1, 1));
        assertThat(pair.because())
                .isEqualTo(
                        "2.7 gets males of 3.7, relationship 0.000, 2.0 m away and of 2.10, relationship 0.000, 3.0 m"
                                + " away.");
    }

    @Test
    void sibsAreAvoidedHoweverNear() {
        ToDoubleBiFunction<PlantId, PlantId> sibsInARow =
                (female, male) -> female.row().equals(male.row()) ? 0.5 : 0;
        List<Male> males = List.of(
                new Male(plant(1, 2), 1, 0),
                new Male(plant(1, 3), 1, 0),
                new Male(plant(20, 90), 1, 0),
                new Male(plant(21, 90), 1, 0));
        Pairing pairing = Pairing.of(List.of(new Female(plant(1, 1), 1)), males, sibsInARow, GROUND);
        assertThat(pairing.relationship()).isZero();
        Pairing cannot = Pairing.of(List.of(new Female(plant(1, 1), 2)), males, sibsInARow, GROUND);
        assertThat(cannot.relationship()).isEqualTo(1);
        assertThat(cannot.pairs().stream().mapToDouble(Pair::inbreeding).sum()).isEqualTo(0.25);
    }

    @Test
    void oneMaleIsOfNoUse() {
        // Three males for two females: one is served, and her neighbour is named.
        Pairing pairing = Pairing.of(
                List.of(new Female(plant(1, 1), 1), new Female(plant(1, 9), 1)),
                List.of(new Male(plant(1, 2), 1, 0), new Male(plant(1, 8), 1, 0), new Male(plant(1, 10), 1, 0)),
                NO_KIN,
                GROUND);
        assertThat(pairing.pairs())
                .containsExactly(new Pair(plant(1, 9), new Given(plant(1, 8), 0, 1), new Given(plant(1, 10), 0, 1)));
        assertThat(pairing.without()).containsExactly(new Female(plant(1, 1), 1));
    }

    @Test
    void manyMalesOfOnePlantDoNotServeAFemale() {
        Pairing pairing =
                Pairing.of(List.of(new Female(plant(1, 1), 2)), List.of(new Male(plant(1, 2), 9, 0)), NO_KIN, GROUND);
        assertThat(pairing.pairs()).isEmpty();
        assertThat(pairing.without()).containsExactly(new Female(plant(1, 1), 2));
        assertThat(Pairing.of(List.of(), List.of(), NO_KIN, GROUND).pairs()).isEmpty();
        assertThat(Pairing.of(List.of(new Female(plant(1, 1), 1)), List.of(), NO_KIN, GROUND)
                        .without())
                .hasSize(1);
    }

    @Test
    void plantsAreUsedEvenly() {
        List<Male> males = List.of(
                new Male(plant(1, 1), 4, 0),
                new Male(plant(3, 1), 4, 0),
                new Male(plant(1, 3), 4, 2),
                new Male(plant(3, 3), 4, 0));
        Pairing pairing = Pairing.of(List.of(new Female(plant(2, 2), 3)), males, NO_KIN, GROUND);
        assertThat(pairing.uses()).extracting(Use::used).containsExactly(2, 2, 0, 2);
    }

    /** What there is to be told apart: females without, thousandths, tenths of a metre, squares. */
    private record Worth(long without, long related, long tenths, long squares) implements Comparable<Worth> {

        @Override
        public int compareTo(Worth other) {
            return Arrays.compare(
                    new long[] {without, related, tenths, squares},
                    new long[] {other.without, other.related, other.tenths, other.squares});
        }
    }

    private static Worth worth(Pairing pairing, List<Male> males) {
        Map<PlantId, Integer> before = males.stream().collect(Collectors.toMap(Male::plant, Male::used));
        return new Worth(
                pairing.without().stream().mapToInt(Female::flowers).sum(),
                pairing.pairs().stream()
                        .mapToLong(pair -> Math.round(pair.one().relationship() * 1000)
                                + Math.round(pair.other().relationship() * 1000))
                        .sum(),
                pairing.pairs().stream()
                        .mapToLong(pair -> Math.round(pair.one().metres() * 10)
                                + Math.round(pair.other().metres() * 10))
                        .sum(),
                pairing.uses().stream()
                        .mapToLong(
                                use -> square(before.get(use.plant()) + use.used()) - square(before.get(use.plant())))
                        .sum());
    }

    private static long square(long number) {
        return number * number;
    }

    /** An evening. */
    private record Evening(List<Female> females, List<Male> males, Map<String, Double> kin) {

        static Evening random(Random chance, int femalePlants, int malePlants, int mostMales) {
            List<PlantId> plants = new ArrayList<>();
            while (plants.size() < femalePlants + malePlants) {
                PlantId plant = plant(1 + chance.nextInt(4), 1 + chance.nextInt(12));
                if (!plants.contains(plant)) {
                    plants.add(plant);
                }
            }
            // Some plants have females and males.
            int shared = chance.nextInt(Math.min(femalePlants, malePlants) + 1);
            List<Female> females = plants.subList(0, femalePlants).stream()
                    .map(plant -> new Female(plant, chance.nextInt(4) == 0 ? 2 : 1))
                    .toList();
            List<Male> males = plants.subList(femalePlants - shared, femalePlants - shared + malePlants).stream()
                    .map(plant -> new Male(plant, 1 + chance.nextInt(mostMales), chance.nextInt(3)))
                    .toList();
            double[] levels = {0, 0, 0.125, 0.25, 0.5, 0.3125};
            Map<String, Double> kin = new HashMap<>();
            for (Female female : females) {
                for (Male male : males) {
                    kin.put(female.plant() + " " + male.plant(), levels[chance.nextInt(levels.length)]);
                }
            }
            return new Evening(females, males, kin);
        }

        double related(PlantId female, PlantId male) {
            return kin.get(female + " " + male);
        }

        Pairing best() {
            return Pairing.of(females, males, this::related, GROUND);
        }

        List<PlantId> waiting() {
            return females.stream()
                    .flatMap(female -> IntStream.range(0, female.flowers()).mapToObj(i -> female.plant()))
                    .toList();
        }
    }

    /** The best of everything that can be done, by trying it. */
    private static Worth bruteForce(Evening evening) {
        int[] left = evening.males().stream().mapToInt(Male::flowers).toArray();
        return bruteForce(evening, evening.waiting(), 0, left, new Worth(0, 0, 0, 0));
    }

    private static Worth bruteForce(Evening evening, List<PlantId> waiting, int next, int[] left, Worth soFar) {
        if (next == waiting.size()) {
            long squares = 0;
            for (int j = 0; j < left.length; j++) {
                Male male = evening.males().get(j);
                squares += square(male.used() + male.flowers() - left[j]) - square(male.used());
            }
            return new Worth(soFar.without(), soFar.related(), soFar.tenths(), squares);
        }
        PlantId female = waiting.get(next);
        Worth best = bruteForce(
                evening, waiting, next + 1, left, new Worth(soFar.without() + 1, soFar.related(), soFar.tenths(), 0));
        for (int one = 0; one < left.length; one++) {
            for (int other = one + 1; other < left.length; other++) {
                PlantId first = evening.males().get(one).plant();
                PlantId second = evening.males().get(other).plant();
                if (left[one] > 0 && left[other] > 0 && !first.equals(female) && !second.equals(female)) {
                    left[one]--;
                    left[other]--;
                    Worth with = bruteForce(
                            evening,
                            waiting,
                            next + 1,
                            left,
                            new Worth(
                                    soFar.without(),
                                    soFar.related()
                                            + Math.round(evening.related(female, first) * 1000)
                                            + Math.round(evening.related(female, second) * 1000),
                                    soFar.tenths()
                                            + Math.round(GROUND.metres(first, female) * 10)
                                            + Math.round(GROUND.metres(second, female) * 10),
                                    0));
                    best = with.compareTo(best) < 0 ? with : best;
                    left[one]++;
                    left[other]++;
                }
            }
        }
        return best;
    }

    private static void isSound(Evening evening, Pairing pairing) {
        Map<PlantId, Long> given = pairing.pairs().stream()
                .flatMap(pair -> List.of(pair.one().plant(), pair.other().plant()).stream())
                .collect(Collectors.groupingBy(Function.identity(), Collectors.counting()));
        for (Male male : evening.males()) {
            assertThat(given.getOrDefault(male.plant(), 0L)).isLessThanOrEqualTo(male.flowers());
        }
        pairing.pairs().forEach(pair -> {
            assertThat(pair.one().plant()).isNotEqualTo(pair.other().plant()).isNotEqualTo(pair.female());
            assertThat(pair.other().plant()).isNotEqualTo(pair.female());
            assertThat(pair.one().metres()).isLessThanOrEqualTo(pair.other().metres());
        });
        Map<PlantId, Integer> answered = new HashMap<>();
        pairing.pairs().forEach(pair -> answered.merge(pair.female(), 1, Integer::sum));
        pairing.without().forEach(female -> answered.merge(female.plant(), female.flowers(), Integer::sum));
        evening.females().forEach(female -> assertThat(answered).containsEntry(female.plant(), female.flowers()));
    }

    @Test
    void noOtherPairingIsBetter() {
        Random chance = new Random(20260101);
        int scarce = 0;
        for (int i = 0; i < 500; i++) {
            Evening evening =
                    Evening.random(chance, 1 + chance.nextInt(4), 1 + chance.nextInt(5), 1 + chance.nextInt(3));
            Pairing pairing = evening.best();
            isSound(evening, pairing);
            assertThat(worth(pairing, evening.males())).as("evening %d", i).isEqualTo(bruteForce(evening));
            scarce += pairing.without().isEmpty() ? 0 : 1;
        }
        // Both with enough males and without.
        assertThat(scarce).isBetween(100, 400);
    }

    @Test
    void withEnoughMalesAFlowSaysTheSame() {
        // Where all can be served it is a flow; the library's other solver knows those. Relationship only.
        Random chance = new Random(3);
        int compared = 0;
        for (int i = 0; i < 10; i++) {
            Evening evening = Evening.random(chance, 15, 12, 12);
            Pairing pairing = evening.best();
            isSound(evening, pairing);
            if (pairing.without().isEmpty()) {
                assertThat(pairing.relationship() * 1000).isCloseTo(byFlow(evening), within(1e-6));
                compared++;
            }
        }
        assertThat(compared).isGreaterThan(5);
    }

    private static double byFlow(Evening evening) {
        SimpleDirectedWeightedGraph<String, DefaultWeightedEdge> graph =
                new SimpleDirectedWeightedGraph<>(DefaultWeightedEdge.class);
        Map<DefaultWeightedEdge, Integer> room = new HashMap<>();
        List<PlantId> waiting = evening.waiting();
        graph.addVertex("to");
        for (Male male : evening.males()) {
            graph.addVertex(male.plant().toString());
            room.put(graph.addEdge(male.plant().toString(), "to"), male.flowers());
            graph.setEdgeWeight(male.plant().toString(), "to", 0);
        }
        for (int flower = 0; flower < waiting.size(); flower++) {
            graph.addVertex("flower " + flower);
            for (Male male : evening.males()) {
                if (!male.plant().equals(waiting.get(flower))) {
                    DefaultWeightedEdge edge =
                            graph.addEdge("flower " + flower, male.plant().toString());
                    graph.setEdgeWeight(edge, Math.round(evening.related(waiting.get(flower), male.plant()) * 1000));
                    room.put(edge, 1);
                }
            }
        }
        return new CapacityScalingMinimumCostFlow<String, DefaultWeightedEdge>()
                .getMinimumCostFlow(new MinimumCostFlowProblemImpl<>(
                        graph,
                        node -> node.startsWith("flower") ? 2 : node.equals("to") ? -2 * waiting.size() : 0,
                        room::get,
                        edge -> 0))
                .getCost();
    }

    @Test
    void aBigEveningWithTooFewMalesIsSound() {
        Evening evening = Evening.random(new Random(5), 20, 15, 2);
        Pairing pairing = evening.best();
        isSound(evening, pairing);
        int flowers = evening.males().stream().mapToInt(Male::flowers).sum();
        assertThat(pairing.pairs()).hasSize(Math.min(evening.waiting().size(), flowers / 2));
    }

    @Test
    void whatCannotBeIsRefused() {
        Male male = new Male(plant(1, 2), 1, 0);
        Female female = new Female(plant(1, 1), 1);
        assertThatIllegalArgumentException().isThrownBy(() -> new Female(plant(1, 1), 0));
        assertThatIllegalArgumentException().isThrownBy(() -> new Male(plant(1, 1), 1, -1));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Pairing.of(List.of(female, female), List.of(male), NO_KIN, GROUND));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Pairing.of(List.of(female), List.of(male, male), NO_KIN, GROUND));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Pairing.of(List.of(female), List.of(male), (one, other) -> 3, GROUND));
        RowId row = Farm.row("25").id();
        assertThatIllegalArgumentException()
                .isThrownBy(() ->
                        Pairing.of(List.of(female), List.of(new Male(new PlantId(row, 1), 1, 0)), NO_KIN, GROUND));
        assertThatIllegalArgumentException().isThrownBy(() -> new Ground(List.of(row, row), 1, 1));
        assertThatIllegalArgumentException().isThrownBy(() -> new Ground(List.of(row), 0, 1));
    }
}
