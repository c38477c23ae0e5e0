package duskpeg.core.lot;

import static duskpeg.core.Farm.HILL;
import static duskpeg.core.Farm.fruit;
import static duskpeg.core.Farm.worker;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.Standards;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.germination.Counted;
import duskpeg.core.germination.Replicate;
import duskpeg.core.lot.LotEvent.Begun;
import duskpeg.core.lot.LotEvent.Decided;
import duskpeg.core.lot.LotEvent.Decision;
import duskpeg.core.lot.LotEvent.Drawn;
import duskpeg.core.lot.LotEvent.FruitTaken;
import duskpeg.core.lot.LotEvent.Germinated;
import duskpeg.core.lot.LotEvent.Lost;
import duskpeg.core.lot.LotEvent.Packed;
import duskpeg.core.lot.LotEvent.Taken;
import duskpeg.core.lot.LotEvent.Weighed;
import duskpeg.core.lot.LotEvent.Withdrawn;
import duskpeg.core.planting.Species;
import duskpeg.core.published.Published;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class LotsTest {

    private static final WorkerId BOSS = worker("w8");
    private static final WorkerId OTHER = worker("w9");
    private static final Instant AT = Instant.parse("2026-11-02T10:00:00Z");
    private static final LocalDate DAY = LocalDate.of(2026, 11, 2);

    private static LotId lot(String name) {
        return new LotId(HILL, name);
    }

    private static Begun begun(String name) {
        return new Begun(lot(name), "Greycap Nine", Species.MAXIMA, BOSS, AT);
    }

    private static FruitTaken taken(String name, String... ties) {
        return new FruitTaken(
                lot(name),
                Arrays.stream(ties)
                        .map(tie -> new Taken(fruit(tie).id(), "pure", "1", null, List.of()))
                        .toList(),
                BOSS,
                AT);
    }

    private static Weighed weighed(String name, int day, double grams, @Nullable Double moisture) {
        return new Weighed(lot(name), DAY.plusDays(day), grams, moisture, BOSS, AT);
    }

    private static Drawn drawn(String from, String to, int day, double grams) {
        return new Drawn(lot(from), lot(to), DAY.plusDays(day), grams, BOSS, AT);
    }

    private static Packed packed(String name, int day, int first, int last, double grams) {
        return new Packed(lot(name), DAY.plusDays(day), first, last, grams, BOSS, AT);
    }

    private static Lots lots(LotEvent... events) {
        return new Lots(List.of(events));
    }

    private static Balance balance(String name, LotEvent... events) {
        return lots(events).lot(lot(name)).orElseThrow().balance();
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "gc9", "-A", "A/B", "A B", "ABCDEFGHIJKLMNOPQRSTU", "É1"})
    void whatIsNoNameIsRefused(String name) {
        assertThatIllegalArgumentException().isThrownBy(() -> lot(name));
    }

    /** Water is no loss: 1,000 g at 15% are 923.913 g at 8%, by w2 = w1 (100 - m1) / (100 - m2), common seed drying practice. */
    @Test
    void dryingIsNoLoss() {
        Balance balance = balance("A", begun("A"), weighed("A", 0, 1000, 15.0), weighed("A", 3, 923.9, 8.0));

        assertThat(balance.lines().get(1).expected()).isCloseTo(923.913, within(0.001));
        assertThat(balance.unexplained()).isEmpty();
        assertThat(balance.grams()).isEqualTo(923.9);
    }

    @Test
    void whatIsMissingMustBeExplained() {
        Balance balance = balance("A", weighed("A", 0, 1000, null), weighed("A", 1, 940, null));

        assertThat(balance.unexplained()).hasSize(1);
        assertThat(balance.unexplained().get(0).unexplained()).hasValue(60);
    }

    @Test
    void whatWasLostExplainsIt() {
        Balance balance = balance(
                "A",
                weighed("A", 0, 1000, null),
                weighed("A", 2, 940, null),
                new Lost(lot("A"), DAY.plusDays(1), 60, "light seed", BOSS, AT));

        assertThat(balance.unexplained()).isEmpty();
    }

    @Test
    void moreThanThereWasIsAskedAboutToo() {
        assertThat(balance("A", weighed("A", 0, 1000, null), weighed("A", 1, 1010, null))
                        .unexplained())
                .singleElement()
                .satisfies(line -> assertThat(line.unexplained()).hasValue(-10));
    }

    /** 600 of 1,000 g go to another lot, and 300 g into packets: 100 g are left here, 600 g are there. */
    @Test
    void whatGoesToAnotherLotComesOutThere() {
        LotEvent[] events = {
            begun("A"),
            weighed("A", 0, 1000, null),
            begun("B"),
            drawn("A", "B", 1, 600),
            packed("A", 2, 1, 30, 10),
            weighed("A", 3, 100, null),
            weighed("B", 3, 600, null)
        };

        assertThat(balance("A", events).unexplained()).isEmpty();
        assertThat(balance("A", events).grams()).isEqualTo(100);
        assertThat(balance("B", events).unexplained()).isEmpty();
        assertThat(balance("B", events).grams()).isEqualTo(600);
    }

    @Test
    void aWithdrawnEntryDoesNotCount() {
        Lots lots = lots(
                begun("A"),
                weighed("A", 0, 1000, null),
                weighed("A", 1, 1, null),
                new Withdrawn(lot("A"), 3, "a slip", BOSS, AT));
        Lot lot = lots.lot(lot("A")).orElseThrow();

        assertThat(lot.balance().unexplained()).isEmpty();
        assertThat(lot.balance().grams()).isEqualTo(1000);
        assertThat(lot.entries().get(2).withdrawn()).isNotNull();
    }

    @Test
    void aPacketIsTracedToItsFlowersAndAFlowerToItsPackets() {
        Lots lots = lots(
                begun("A"),
                taken("A", "004711", "004712"),
                begun("B"),
                taken("B", "004801"),
                begun("C"),
                drawn("A", "C", 1, 100),
                drawn("B", "C", 1, 50),
                packed("C", 2, 1, 15, 10),
                packed("B", 2, 1, 4, 10));

        assertThat(lots.flowers(lot("C")))
                .containsOnlyKeys(
                        fruit("004711").id(),
                        fruit("004712").id(),
                        fruit("004801").id())
                .containsEntry(fruit("004711").id(), lot("A"));
        assertThat(lots.flowers(lot("A"))).doesNotContainKey(fruit("004801").id());
        assertThat(lots.packets(fruit("004711").id()).keySet()).containsExactly(lot("C"));
        assertThat(lots.packets(fruit("004801").id()).keySet()).containsExactlyInAnyOrder(lot("B"), lot("C"));
        assertThat(lots.packets(fruit("009999").id())).isEmpty();
    }

    @Test
    void aRingOfDrawsEnds() {
        Lots lots =
                lots(taken("A", "004711"), drawn("A", "B", 0, 10), drawn("B", "A", 1, 10), packed("B", 2, 1, 1, 10));

        assertThat(lots.flowers(lot("B"))).containsOnlyKeys(fruit("004711").id());
        assertThat(lots.packets(fruit("004711").id())).containsOnlyKeys(lot("B"));
        assertThat(lots.shares(lot("B"))).containsOnlyKeys(fruit("004711").id());
    }

    /** Followed draw by draw, as somebody would on paper, in random genealogies. */
    @Test
    void tracingAgreesWithFollowingEachDraw() {
        Random random = new Random(7);
        for (int round = 0; round < 200; round++) {
            int many = 2 + random.nextInt(7);
            List<LotEvent> events = new ArrayList<>();
            boolean[][] to = new boolean[many][many];
            for (int one = 0; one < many; one++) {
                events.add(taken("L" + one, "00000" + one));
                events.add(packed("L" + one, 9, 1, 2, 5));
                for (int other = 0; other < many; other++) {
                    if (other != one && random.nextInt(4) == 0) {
                        to[one][other] = true;
                        events.add(drawn("L" + one, "L" + other, 1, 10));
                    }
                }
                to[one][one] = true;
            }
            for (int by = 0; by < many; by++) {
                for (int one = 0; one < many; one++) {
                    for (int other = 0; other < many; other++) {
                        to[one][other] |= to[one][by] && to[by][other];
                    }
                }
            }
            Lots lots = new Lots(events);
            for (int one = 0; one < many; one++) {
                int from = one;
                Set<LotId> expected = new HashSet<>(IntStream.range(0, many)
                        .filter(other -> to[from][other])
                        .mapToObj(other -> lot("L" + other))
                        .toList());
                Set<FruitId> flowers = new HashSet<>(IntStream.range(0, many)
                        .filter(other -> to[other][from])
                        .mapToObj(other -> fruit("00000" + other).id())
                        .toList());
                assertThat(lots.packets(fruit("00000" + one).id()).keySet()).isEqualTo(expected);
                assertThat(lots.flowers(lot("L" + one)).keySet()).isEqualTo(flowers);
            }
        }
    }

    /** 900 g of two fruit and 100 g of a third: 0.45, 0.45 and 0.1. */
    @Test
    void sharesFollowTheWeights() {
        Map<FruitId, Double> shares = lots(
                        taken("A", "004711", "004712"),
                        weighed("A", 0, 900, null),
                        taken("B", "004801"),
                        weighed("B", 0, 400, null),
                        drawn("A", "C", 1, 900),
                        drawn("B", "C", 1, 100))
                .shares(lot("C"));

        assertThat(shares.get(fruit("004711").id())).isCloseTo(0.45, within(1e-12));
        assertThat(shares.get(fruit("004712").id())).isCloseTo(0.45, within(1e-12));
        assertThat(shares.get(fruit("004801").id())).isCloseTo(0.1, within(1e-12));
    }

    @Test
    void aTestIsConfirmedBySomebodyElseOnly() {
        Germinated one = counted(90, BOSS);
        Germinated same = counted(90, OTHER);
        Germinated differs = counted(91, OTHER);

        assertThat(germination(one).isConfirmed()).isFalse();
        assertThat(germination(one, one).isConfirmed()).isFalse();
        assertThat(germination(one, same).isConfirmed()).isTrue();
        assertThat(germination(one, differs).agrees()).isFalse();
        assertThat(germination(one, differs, same).isConfirmed()).isTrue();
    }

    private static Germinated counted(int normal, WorkerId by) {
        Replicate replicate = new Replicate(100, new Counted(normal, 0, 0), new Counted(0, 100 - normal, 0));
        return new Germinated(lot("A"), 1, DAY, DAY.plusDays(4), DAY.plusDays(8), List.of(replicate), by, AT);
    }

    private static Twice<Germinated> germination(LotEvent... events) {
        return lots(events).lot(lot("A")).orElseThrow().germination().get(0);
    }

    @Test
    void aPacketNumberIsUsedOnce() {
        Lot lot = lots(packed("A", 0, 1, 10, 5), packed("A", 1, 9, 12, 5), packed("A", 1, 13, 14, 5))
                .lot(lot("A"))
                .orElseThrow();

        assertThat(lot.packetsTwice()).containsExactly(9, 10);
        assertThat(lot.hasPacket(12)).isTrue();
        assertThat(lot.hasPacket(15)).isFalse();
    }

    @Test
    void theLastDecisionStands() {
        Decided released = new Decided(lot("A"), Decision.RELEASED, "", List.of(), null, BOSS, AT);
        Decided held = new Decided(lot("A"), Decision.HELD, "a late report", List.of(), null, BOSS, AT);

        assertThat(lots(released, held).lot(lot("A")).orElseThrow().decided()).hasValue(held);
        assertThat(lots(released, held, new Withdrawn(lot("A"), 2, "a slip", BOSS, AT))
                        .lot(lot("A"))
                        .orElseThrow()
                        .decided())
                .hasValue(released);
    }

    @Test
    void whatIsSoldUntilADayIsExpiredAfterIt() {
        Decided released = new Decided(lot("A"), Decision.RELEASED, "", List.of(), DAY, BOSS, AT);
        Decided held = new Decided(lot("A"), Decision.HELD, "a late report", List.of(), DAY, BOSS, AT);

        Lot sold = lots(released).lot(lot("A")).orElseThrow();
        assertThat(sold.isExpired(DAY)).isFalse();
        assertThat(sold.isExpired(DAY.plusDays(1))).isTrue();
        assertThat(lots(released, held).lot(lot("A")).orElseThrow().isExpired(DAY.plusDays(1)))
                .isFalse();
    }

    /** By hand: 1,000 g, 76.087 of it water that dried off by w2 = w1 (100 - m1) / (100 - m2), 20 lost, 300 drawn, 400 packed. */
    @Test
    void allTheSeedIsSomewhere() {
        Balance.Whereabouts where = balance(
                        "A",
                        drawn("B", "A", 0, 100),
                        weighed("A", 1, 1000, 15.0),
                        weighed("A", 3, 923.913, 8.0),
                        new Lost(lot("A"), DAY.plusDays(4), 20, "light seed", BOSS, AT),
                        drawn("A", "C", 5, 300),
                        packed("A", 6, 1, 40, 10))
                .whereabouts()
                .orElseThrow();

        assertThat(where.packed()).isEqualTo(400);
        assertThat(where.drawn()).isEqualTo(300);
        assertThat(where.lost()).isEqualTo(20);
        assertThat(where.there()).isCloseTo(203.913, within(1e-9));
        assertThat(where.water()).isCloseTo(76.087, within(1e-9));
        assertThat(balance("A", packed("A", 1, 1, 9, 10)).whereabouts()).isEmpty();
        assertThat(balance("C", drawn("A", "C", 5, 300), packed("C", 6, 1, 10, 10))
                        .whereabouts())
                .hasValue(new Balance.Whereabouts(100, 0, 0, 200, 0));
    }

    @Test
    void whatGoesOutMustHaveBeenThere() {
        Balance balance =
                balance("A", weighed("A", 0, 100, null), packed("A", 1, 1, 9, 10), packed("A", 2, 10, 12, 10));

        assertThat(balance.grams()).isEqualTo(-20);
        assertThat(balance.overdrawn())
                .singleElement()
                .satisfies(line -> assertThat(line.on()).isEqualTo(DAY.plusDays(2)));
        assertThat(release("A", weighed("A", 0, 100, null), packed("A", 1, 1, 9, 10), packed("A", 2, 10, 12, 10))
                        .against())
                .contains("More went out on 2026-11-04 than was there: 3 packets.");
        assertThat(release("A", packed("A", 1, 1, 9, 10)).against())
                .contains("Seed went out of it that was never weighed.");
        assertThat(release("A", weighed("A", 0, 100, null), packed("A", 1, 1, 10, 10))
                        .against())
                .noneMatch(one -> one.startsWith("More went out"));
    }

    private static Release release(String name, LotEvent... events) {
        Lots lots = lots(events);
        return new Release(
                lots,
                lots.lot(lot(name)).orElseThrow(),
                Map.of(),
                Set.of(),
                Published.shipped(),
                Standards.NONE,
                DAY.plusDays(20));
    }

    @Test
    void seedOfAnotherCultivarOrStockIsNotDrawnIn() {
        LotEvent[] events = {
            begun("A"),
            stock("A", "004711", "GC9-25"),
            begun("B"),
            stock("B", "004712", "GC9-25"),
            begun("C"),
            stock("C", "004713", "GC9-24"),
            new Begun(lot("D"), "Amber Spindle", Species.PEPO, BOSS, AT),
            begun("E")
        };
        assertThat(drawing("A", "B", events)).isEmpty();
        assertThat(drawing("A", "E", events)).isEmpty();
        assertThat(drawing("A", "C", events))
                .containsExactly("The rows behind lot A were sown with GC9-25, those of lot C with GC9-24.");
        assertThat(drawing("E", "D", events)).containsExactly("Lot E is Greycap Nine, lot D is Amber Spindle.");
        LotEvent[] recalled = Arrays.copyOf(events, events.length + 1);
        recalled[events.length] = new Decided(lot("A"), Decision.RECALLED, "off-types", List.of(), null, BOSS, AT);
        assertThat(drawing("A", "B", recalled)).containsExactly("Lot A is recalled: off-types.");
    }

    private static List<String> drawing(String from, String to, LotEvent... events) {
        Lots lots = lots(events);
        return Admission.against(
                lots.lot(lot(from)).orElseThrow(), lots.lot(lot(to)).orElseThrow(), lots);
    }

    private static FruitTaken stock(String name, String tie, String stock) {
        return new FruitTaken(lot(name), List.of(new Taken(fruit(tie).id(), "pure", "1", stock, List.of())), BOSS, AT);
    }

    /** By way of two draws: what is wrong with a lot is wrong with what its seed went into. */
    @Test
    void whatStandsAgainstALotStandsAgainstWhatWasDrawnFromIt() {
        List<String> against = release(
                        "C",
                        begun("A"),
                        stock("A", "004711", "GC9-25"),
                        begun("B"),
                        stock("B", "004712", "GC9-24"),
                        drawn("A", "B", 0, 10),
                        begun("C"),
                        drawn("B", "C", 1, 10),
                        new Decided(lot("A"), Decision.HELD, "a late report", List.of(), null, BOSS, AT))
                .against();

        assertThat(against)
                .contains(
                        "Lot A is held: a late report.",
                        "Rows behind it were sown with different stock: GC9-24, GC9-25.");
    }

    /** 7 CFR 201.30a [read]: five months after the month of the test in an open container, 24 in a sealed one. */
    @Test
    void anOldTestStandsAgainstIt() {
        Lots lots = lots(begun("A"), counted(90, BOSS));
        Lot lot = lots.lot(lot("A")).orElseThrow();
        LocalDate last = LocalDate.of(2027, 4, 30);
        assertThat(on(last, lots, lot)).noneMatch(one -> one.contains("test again"));
        assertThat(on(last.plusDays(1), lots, lot))
                .anyMatch(one -> one.endsWith("test again, it held until 2027-04-30."));
    }

    private static List<String> on(LocalDate day, Lots lots, Lot lot) {
        return new Release(lots, lot, Map.of(), Set.of(), Published.shipped(), Standards.NONE, day).against();
    }
}
