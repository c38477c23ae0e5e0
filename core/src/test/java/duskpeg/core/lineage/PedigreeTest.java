package duskpeg.core.lineage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import duskpeg.core.lineage.Stock.Candidate;
import duskpeg.core.lineage.Stock.Fruit;
import duskpeg.core.lineage.Stock.Lot;
import duskpeg.core.lineage.Stock.Plant;
import duskpeg.core.lineage.Stock.Share;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

class PedigreeTest {

    /** A pedigree as it is written in textbooks. */
    private static final class Book {

        private final List<Stock> stocks = new ArrayList<>();

        Book founders(String... ids) {
            Arrays.stream(ids).map(Plant::founder).forEach(stocks::add);
            return this;
        }

        Book cross(String id, @Nullable String dam, @Nullable String sire) {
            stocks.add(Fruit.of("fruit " + id, dam, sire));
            stocks.add(new Plant(id, "fruit " + id));
            return this;
        }

        Pedigree pedigree() {
            return Pedigree.of(stocks);
        }
    }

    @Test
    void selfing() {
        // Falconer & Mackay ch. 5; from memory.
        Pedigree selfed = new Book()
                .founders("0")
                .cross("1", "0", "0")
                .cross("2", "1", "1")
                .cross("3", "2", "2")
                .pedigree();
        assertThat(List.of(selfed.inbreeding("1"), selfed.inbreeding("2"), selfed.inbreeding("3")))
                .containsExactly(0.5, 0.75, 0.875);
        assertThat(selfed.relationship("1", "1")).isEqualTo(1.5);
    }

    @Test
    void crossesOfKin() {
        // Falconer & Mackay ch. 5; from memory.
        Book family = new Book()
                .founders("a", "b", "c", "d", "e")
                .cross("ab1", "a", "b")
                .cross("ab2", "a", "b")
                .cross("ac", "a", "c")
                .cross("cousin1", "ab1", "d")
                .cross("cousin2", "ab2", "e");
        family.cross("of full sibs", "ab1", "ab2").cross("of half sibs", "ab1", "ac");
        family.cross("of first cousins", "cousin1", "cousin2");
        Pedigree pedigree = family.pedigree();
        assertThat(pedigree.inbreeding("of full sibs")).isEqualTo(0.25);
        assertThat(pedigree.inbreeding("of half sibs")).isEqualTo(0.125);
        assertThat(pedigree.inbreeding("of first cousins")).isEqualTo(0.0625);
        assertThat(pedigree.relationship("ab1", "a")).isEqualTo(0.5);
        assertThat(pedigree.relationship("ab1", "ab2")).isEqualTo(0.5);
        assertThat(pedigree.relationship("ab1", "ac")).isEqualTo(0.25);
        assertThat(pedigree.relationship("d", "e")).isZero();
    }

    @Test
    void fullSibsAgainAndAgain() {
        // Falconer & Mackay table 5.1; from memory.
        Book line = new Book().founders("0a", "0b");
        List<Double> inbreeding = new ArrayList<>();
        for (int i = 1; i <= 5; i++) {
            line.cross(i + "a", (i - 1) + "a", (i - 1) + "b").cross(i + "b", (i - 1) + "a", (i - 1) + "b");
        }
        Pedigree pedigree = line.pedigree();
        for (int i = 2; i <= 5; i++) {
            inbreeding.add(pedigree.inbreeding(i + "a"));
        }
        assertThat(inbreeding).containsExactly(0.25, 0.375, 0.5, 0.59375);
    }

    @Test
    void aTextbooksMatrix() {
        // Mrode, Linear Models for the Prediction of Animal Breeding Values, ch. 2: structure from memory, values
        // computed independently.
        Pedigree pedigree = new Book()
                .founders("1", "2")
                .cross("3", "1", "2")
                .cross("4", "1", null)
                .cross("5", "4", "3")
                .cross("6", "5", "2")
                .pedigree();
        double[][] expected = {
            {1, 0, .5, .5, .5, .25},
            {0, 1, .5, 0, .25, .625},
            {.5, .5, 1, .25, .625, .5625},
            {.5, 0, .25, 1, .625, .3125},
            {.5, .25, .625, .625, 1.125, .6875},
            {.25, .625, .5625, .3125, .6875, 1.125}
        };
        double[][] matrix = pedigree.relationships(List.of("1", "2", "3", "4", "5", "6"));
        for (int i = 0; i < 6; i++) {
            assertThat(matrix[i]).containsExactly(expected[i], within(1e-9));
            for (int j = 0; j < 6; j++) {
                assertThat(pedigree.relationship("" + (i + 1), "" + (j + 1))).isCloseTo(expected[i][j], within(1e-9));
            }
        }
    }

    @Test
    void aSeedOfTwoCandidatesIsHalfOfEach() {
        // row = 1/2 dam + 1/4 m1 + 1/4 m2; F = 1/2 (1/2 a(dam, m1) + 1/2 a(dam, m2)); computed independently.
        Pedigree pedigree = Pedigree.of(List.of(
                Plant.founder("a"),
                Plant.founder("b"),
                Plant.founder("c"),
                Fruit.of("ab", "a", "b"),
                new Plant("sib", "ab"),
                Fruit.ofTwo("fruit", "a", "sib", "c"),
                new Plant("seed", "fruit")));
        assertThat(pedigree.inbreeding("seed")).isEqualTo(0.125);
        assertThat(pedigree.inbreeding("fruit")).isEqualTo(0.125);
        assertThat(pedigree.relationship("seed", "a")).isEqualTo(0.5 + 0.125);
        assertThat(pedigree.relationship("seed", "c")).isEqualTo(0.25);
        assertThat(pedigree.relationship("seed", "b")).isEqualTo(0.125);
    }

    @Test
    void thatTwoSeedsHaveTheSameUnknownFatherIsNotKnown() {
        // Where the average is not exact: if both are of the same male, whichever it is, they are full sibs, by 0.5.
        Pedigree pedigree = Pedigree.of(List.of(
                Plant.founder("a"),
                Plant.founder("b"),
                Plant.founder("c"),
                Fruit.ofTwo("fruit", "a", "b", "c"),
                new Plant("x", "fruit"),
                new Plant("y", "fruit")));
        assertThat(pedigree.relationship("x", "y")).isEqualTo((0.5 + 0.25) / 2);
    }

    @Test
    void aLotsRelationshipWithItselfIsThatOfTwoSeeds() {
        // Wright 1931: 10 dams and 20 sires that are no kin, equally used, are 4*10*20/30 = 26.67; from memory.
        List<Stock> stocks = new ArrayList<>();
        List<Share> shares = new ArrayList<>();
        for (int i = 0; i < 10; i++) {
            stocks.add(Plant.founder("dam" + i));
            stocks.add(Plant.founder("one" + i));
            stocks.add(Plant.founder("other" + i));
            stocks.add(Fruit.ofTwo("fruit" + i, "dam" + i, "one" + i, "other" + i));
            shares.add(new Share("fruit" + i, 0.1));
        }
        stocks.add(new Lot("lot", shares));
        stocks.add(new Plant("x", "lot"));
        stocks.add(new Plant("y", "lot"));
        Pedigree pedigree = Pedigree.of(stocks);
        assertThat(1 / pedigree.relationship("lot", "lot")).isCloseTo(4 * 10 * 20 / 30.0, within(1e-9));
        assertThat(EffectiveSize.ofContributions(pedigree.contributions("lot")).value())
                .isCloseTo(EffectiveSize.ofSexes(20, 10).value(), within(1e-9));
        assertThat(pedigree.relationship("x", "y")).isCloseTo(30 / 800.0, within(1e-12));
        assertThat(pedigree.relationship("x", "x")).isEqualTo(1);
        assertThat(pedigree.coancestry(Map.of("lot", 3.0))).isCloseTo(15 / 800.0, within(1e-12));
        assertThat(pedigree.contributions("lot")).hasSize(30).allSatisfy(given -> {
            boolean dam = given.plant().startsWith("dam");
            assertThat(given.asDam()).isCloseTo(dam ? 0.1 : 0, within(1e-12));
            assertThat(given.asSire()).isCloseTo(dam ? 0 : 0.05, within(1e-12));
            assertThat(given.genes()).isCloseTo(dam ? 0.05 : 0.025, within(1e-12));
        });
    }

    @Test
    void contributionsGoThroughLotsOfLots() {
        Pedigree pedigree = Pedigree.of(List.of(
                Plant.founder("a"),
                Plant.founder("b"),
                Fruit.of("f", "a", "b"),
                Fruit.of("g", "b", null),
                Lot.of("one", Map.of("f", 30.0, "g", 10.0)),
                Lot.of("both", Map.of("one", 60.0, "g", 20.0))));
        assertThat(pedigree.contributions("both"))
                .containsExactly(
                        new Contribution("a", 0.5625, 0),
                        new Contribution("b", 0.4375, 0.5625),
                        new Contribution(null, 0, 0.4375));
    }

    @Test
    void theOrderOfEntriesMattersNot() {
        List<Stock> stocks = new ArrayList<>(PedigreePropertyTest.anyPedigree(new Random(7), 60));
        List<String> ids = stocks.stream().map(Stock::id).toList();
        double[][] expected = Pedigree.of(stocks).relationships(ids);
        for (int i = 0; i < 20; i++) {
            Collections.shuffle(stocks, new Random(i));
            double[][] shuffled = Pedigree.of(stocks).relationships(ids);
            for (int row = 0; row < expected.length; row++) {
                assertThat(shuffled[row]).containsExactly(expected[row], within(1e-12));
            }
        }
    }

    @Test
    void aLongLineNeedsNoDeepStack() {
        Book line = new Book().founders("0");
        for (int i = 1; i <= 5_000; i++) {
            line.cross("" + i, "" + (i - 1), null);
        }
        assertThat(line.pedigree().inbreeding("5000")).isZero();
    }

    private static void refused(String message, Stock... stocks) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Pedigree.of(List.of(stocks)))
                .withMessage(message);
    }

    @Test
    void whatCannotBeIsRefusedByName() {
        Plant a = Plant.founder("a");
        refused("a is entered twice", a, new Plant("a", null));
        refused("f names b, which is not entered", a, Fruit.of("f", "a", "b"));
        refused("p names f, which is not entered", new Plant("p", "f"));
        refused("f can't come of g, which is no plant", a, Fruit.of("g", "a", "a"), Fruit.of("f", "a", "g"));
        refused("p can't come of a, which is a plant", a, new Plant("p", "a"));
        refused("l can't come of a, which is a plant", a, new Lot("l", List.of(new Share("a", 1))));
        refused("f descends from itself, by way of p", a, new Plant("p", "f"), Fruit.of("f", "p", "a"));
        refused("l descends from itself, by way of l", new Lot("l", List.of(new Share("l", 1))));
    }

    @Test
    void partsThatDoNotAddUpAreRefused() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Fruit("f", "a", List.of(new Candidate("b", 0.5), new Candidate("c", 0.4))))
                .withMessage("fathers of f add up to 0.9, not to 1");
        assertThatIllegalArgumentException().isThrownBy(() -> new Fruit("f", "a", List.of()));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Fruit.ofTwo("f", "a", "b", "b"))
                .withMessage("a father of f is named twice: b");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Lot("l", List.of(new Share("f", 0.5))))
                .withMessage("shares of l add up to 0.5, not to 1");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Lot("l", List.of(new Share("f", 0.5), new Share("f", 0.5))));
        assertThatIllegalArgumentException().isThrownBy(() -> new Share("f", 0));
        assertThatIllegalArgumentException().isThrownBy(() -> new Candidate("b", Double.NaN));
        assertThatIllegalArgumentException().isThrownBy(() -> Lot.of("l", Map.of()));
        assertThatIllegalArgumentException().isThrownBy(() -> Lot.of("l", Map.of("f", 2.0, "g", -1.0)));
        Pedigree pedigree = Pedigree.of(List.of(Plant.founder("a")));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> pedigree.inbreeding("b"))
                .withMessage("b is not entered");
        assertThatIllegalArgumentException().isThrownBy(() -> pedigree.contributions("a"));
        assertThatIllegalArgumentException().isThrownBy(() -> pedigree.coancestry(Map.of()));
    }
}
