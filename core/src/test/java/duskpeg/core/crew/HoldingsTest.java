package duskpeg.core.crew;

import static duskpeg.core.Farm.at;
import static duskpeg.core.Farm.enteredBy;
import static duskpeg.core.Farm.stripOf;
import static duskpeg.core.Farm.worker;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import duskpeg.core.crew.Holding.End;
import duskpeg.core.crew.Holding.State;
import duskpeg.core.fruit.Numbering;
import duskpeg.core.fruit.TieNumber;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class HoldingsTest {

    private static final CustodyEvent ISSUED =
            new CustodyEvent.StripIssued(worker("w1"), stripOf("004700", "004749"), at("17:00"));

    private static Holdings of(CustodyEvent... events) {
        List<Holdings.Placed> placed = new ArrayList<>();
        for (CustodyEvent event : events) {
            placed.add(new Holdings.Placed(placed.size(), event));
        }
        return Holdings.of(placed);
    }

    private static CustodyEvent handedOver(String to, String first, String last, String clock) {
        return new CustodyEvent.StripHandedOver(
                worker("w1"), worker(to), stripOf(first, last), at(clock), enteredBy("w1"));
    }

    private static CustodyEvent lost(String first, String last, String clock) {
        return new CustodyEvent.StripLost(worker("w1"), stripOf(first, last), at(clock), enteredBy("w1"));
    }

    private static CustodyEvent returned(String first, String last, String clock) {
        return new CustodyEvent.StripReturned(worker("w1"), stripOf(first, last), at(clock), enteredBy("w8"));
    }

    private static WorkerId holder(Holdings holdings, String tie, String clock) {
        return holdings.of(new TieNumber(tie), at(clock)).orElseThrow().worker();
    }

    private static State state(Holdings holdings, String tie, String clock) {
        return holdings.of(new TieNumber(tie), at(clock)).orElseThrow().stateAt(at(clock));
    }

    @Test
    void aStripIsHeldByWhoWasGivenIt() {
        assertThat(of(ISSUED).all())
                .containsExactly(new Holding(0, stripOf("004700", "004749"), worker("w1"), at("17:00"), null));
    }

    @Test
    void whatWasHandedOverWasHersBeforeAndIsHisAfter() {
        Holdings holdings = of(ISSUED, handedOver("w2", "004716", "004749", "07:00"));

        assertThat(holdings.all())
                .containsExactly(
                        new Holding(0, stripOf("004700", "004715"), worker("w1"), at("17:00"), null),
                        new Holding(
                                0,
                                stripOf("004716", "004749"),
                                worker("w1"),
                                at("17:00"),
                                new End(CustodyEvent.Kind.HANDED_OVER, at("07:00"))),
                        new Holding(1, stripOf("004716", "004749"), worker("w2"), at("07:00"), null));
        assertThat(holder(holdings, "004716", "06:59")).isEqualTo(worker("w1"));
        assertThat(holder(holdings, "004716", "07:00")).isEqualTo(worker("w2"));
        assertThat(holder(holdings, "004715", "09:00")).isEqualTo(worker("w1"));
    }

    @Test
    void whatWasLostIsLostFromThenOn() {
        Holdings holdings = of(ISSUED, lost("004716", "004749", "07:00"));

        assertThat(state(holdings, "004716", "07:00")).isEqualTo(State.HELD);
        assertThat(state(holdings, "004716", "07:01")).isEqualTo(State.LOST);
        assertThat(state(holdings, "004715", "09:00")).isEqualTo(State.HELD);
    }

    @Test
    void whatCameBackCanBeGivenToAnother() {
        Holdings holdings = of(
                ISSUED,
                returned("004716", "004749", "07:00"),
                new CustodyEvent.StripIssued(worker("w2"), stripOf("004716", "004730"), at("08:00"), enteredBy("w8")));

        assertThat(state(holdings, "004716", "07:30")).isEqualTo(State.RETURNED);
        assertThat(holder(holdings, "004716", "08:10")).isEqualTo(worker("w2"));
        assertThat(state(holdings, "004716", "08:10")).isEqualTo(State.HELD);
        assertThat(state(holdings, "004731", "08:10")).isEqualTo(State.RETURNED);
        assertThat(holder(holdings, "004716", "06:30")).isEqualTo(worker("w1"));
    }

    @Test
    void aPieceFromTheMiddleLeavesBothEndsWithHer() {
        assertThat(of(ISSUED, lost("004710", "004719", "07:00")).all())
                .extracting(Holding::ties, Holding::isOpen)
                .containsExactly(
                        tuple(stripOf("004700", "004709"), true),
                        tuple(stripOf("004710", "004719"), false),
                        tuple(stripOf("004720", "004749"), true));
    }

    @Test
    void aPrintedStripIsCutBetweenTwoTags() {
        Strip printed = new Strip(new TieNumber("005724"), new TieNumber("005756"), Numbering.CHECKED);
        Strip left = new Strip(new TieNumber("005743"), new TieNumber("005756"), Numbering.CHECKED);

        Holdings holdings = of(
                new CustodyEvent.StripIssued(worker("w1"), printed, at("17:00")),
                new CustodyEvent.StripHandedOver(worker("w1"), worker("w2"), left, at("07:00"), enteredBy("w1")));

        assertThat(holdings.all())
                .extracting(Holding::ties)
                .containsExactly(
                        new Strip(new TieNumber("005724"), new TieNumber("005735"), Numbering.CHECKED), left, left);
        assertThat(holdings.numberingOf(new TieNumber("005736"))).isEqualTo(Numbering.CHECKED);
        assertThat(holdings.numberingOf(new TieNumber("004711"))).isEqualTo(Numbering.PLAIN);
        assertThat(holdings.of(new TieNumber("005736"), at("08:00"))).isEmpty();
    }

    @Test
    void whatWasUsedBeforeItsStripWasEnteredIsItsFirstHolders() {
        assertThat(holder(of(ISSUED), "004700", "16:00")).isEqualTo(worker("w1"));
        assertThat(of(ISSUED).of(new TieNumber("004750"), at("09:00"))).isEmpty();
    }

    @Test
    void claimsAndDamageChangeNoHands() {
        Holdings holdings = of(
                ISSUED,
                new CustodyEvent.StripClaimed(worker("w2"), stripOf("004700", "004749"), at("07:00"), enteredBy("w2")),
                new CustodyEvent.TieDamaged(worker("w2"), new TieNumber("004700"), at("07:00"), enteredBy("w2")));

        assertThat(holdings).isEqualTo(of(ISSUED));
    }

    @Test
    void whatIsLostTwiceIsLostSinceTheFirstTime() {
        assertThat(of(ISSUED, lost("004716", "004749", "07:00"), lost("004716", "004749", "08:00")))
                .isEqualTo(of(ISSUED, lost("004716", "004749", "07:00")));
    }

    @Test
    void theLogDecidesWhereClocksDisagree() {
        // Issued by a clock that was a year fast.
        CustodyEvent issued = new CustodyEvent.StripIssued(
                worker("w1"), stripOf("004700", "004749"), at("17:00").plusSeconds(31_536_000));
        Holdings holdings = of(issued, handedOver("w2", "004716", "004749", "07:00"));

        assertThat(holder(holdings, "004716", "06:59")).isEqualTo(worker("w1"));
        assertThat(holder(holdings, "004716", "07:01")).isEqualTo(worker("w2"));
        assertThat(holdings.of(new TieNumber("004716"), Instant.MAX)
                        .orElseThrow()
                        .worker())
                .isEqualTo(worker("w2"));
    }
}
