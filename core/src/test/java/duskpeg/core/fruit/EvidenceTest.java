package duskpeg.core.fruit;

import static duskpeg.core.Farm.fruit;
import static duskpeg.core.Farm.row;
import static duskpeg.core.Farm.takenBack;
import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.Farm;
import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.fruit.Evidence.Grade;
import duskpeg.core.round.RoundId;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class EvidenceTest {

    private static final Act PEGGED = row("12").pegged(14).males(28).by("w1").at("17:10");

    /** The history of tie 004711, of what was said of the fruit itself and on the rounds of its row. */
    private static List<Evidence> history(List<Act> said) {
        List<Act> onRounds =
                said.stream().filter(act -> act.subject() instanceof RoundId).toList();
        return Evidence.of(Fruit.of(fruit("004711").id(), said), onRounds);
    }

    private static List<Act> said(Object... tellings) {
        List<Act> acts = new ArrayList<>();
        for (Object telling : tellings) {
            if (telling instanceof Act act) {
                acts.add(act);
            } else {
                ((List<?>) telling).forEach(act -> acts.add((Act) act));
            }
        }
        return acts;
    }

    private static Evidence ofFruit(Act act) {
        return new Evidence(act, Grade.FRUIT);
    }

    private static Evidence ofRow(Act act) {
        return new Evidence(act, Grade.ROW);
    }

    @Test
    void ofAFruitOfWhichNothingIsSaidIsEmpty() {
        assertThat(history(List.of())).isEmpty();
    }

    @Test
    void allFourActsOfItsLineAreOfTheFruit() {
        // 2345 12 2: these two flowers had all four acts.
        List<Act> line = row("12").worked(2, "004711", "004712").by("w1").at("07:20");

        assertThat(history(line))
                .containsExactly(
                        ofFruit(line.get(0)), ofFruit(line.get(1)), ofFruit(line.get(2)), ofFruit(line.get(3)));
    }

    @Test
    void peggingIsOfTheRow() {
        // 1 12 14: this flower may or may not be one of the fourteen.
        List<Act> line = row("12").worked(1, "004711").only(Deed.TIED).by("w1").at("07:20");

        assertThat(history(said(PEGGED, line))).containsExactly(ofRow(PEGGED), ofFruit(line.get(0)));
    }

    @Test
    void anotherLineOfTheSameMessageIsOfTheRow() {
        Act opened = row("12").opened(14).by("w1").line(1).at("07:20");
        Act tied = row("12").tied(1, "004711").by("w1").line(2).at("07:20");

        assertThat(history(List.of(opened, tied))).containsExactly(ofRow(opened), ofFruit(tied));
    }

    @Test
    void theSameLineOfAnotherMessageIsOfTheRow() {
        Act opened = row("12").opened(14).by("w2").line(1).at("07:10");
        Act tied = row("12").tied(1, "004711").by("w1").line(1).at("07:20");

        assertThat(history(List.of(opened, tied))).containsExactly(ofRow(opened), ofFruit(tied));
    }

    @Test
    void theLineOfOtherFruitIsLeftOut() {
        List<Act> others = row("12").worked(2, "004713", "004714").by("w2").at("07:00");
        Act tied = row("12").tied(1, "004711").by("w1").at("07:20");

        assertThat(history(said(others, tied))).containsExactly(ofFruit(tied));
    }

    @Test
    void aTyingWithoutKnownNumbersIsOfTheRow() {
        List<Act> unnumbered = row("12").worked(2).by("w2").at("07:00");
        Act tied = row("12").tied(1, "004711").by("w1").at("07:20");

        assertThat(history(said(unnumbered, tied)))
                .containsExactly(
                        ofRow(unnumbered.get(0)),
                        ofRow(unnumbered.get(1)),
                        ofRow(unnumbered.get(2)),
                        ofRow(unnumbered.get(3)),
                        ofFruit(tied));
    }

    @Test
    void aTyingWithSomeNumbersUnknownIsOfTheRow() {
        // Three were tied, two numbers are known: this fruit may be the third.
        List<Act> partly = row("12").worked(3, "004729", "004730").by("w2").at("07:00");
        Act tied = row("12").tied(1, "004711").by("w1").at("07:20");

        assertThat(history(said(partly, tied)))
                .extracting(Evidence::grade)
                .containsExactly(Grade.ROW, Grade.ROW, Grade.ROW, Grade.ROW, Grade.FRUIT);
    }

    @Test
    void losingIsOfTheRow() {
        Act lost = row("12").lost(1).by("w1").at("07:00");
        Act tied = row("12").tied(1, "004711").by("w1").at("07:20");

        assertThat(history(List.of(lost, tied))).containsExactly(ofRow(lost), ofFruit(tied));
    }

    @Test
    void whatNamesItsTieIsOfTheFruit() {
        Act tied = row("12").tied(1, "004711").by("w1").at("07:20");
        Act harvested = fruit("004711").harvested().by("w2").daysLater(60).at("09:00");

        assertThat(history(List.of(tied, harvested))).containsExactly(ofFruit(tied), ofFruit(harvested));
    }

    @Test
    void whatWasTakenBackIsNoEvidence() {
        Act wrong = row("12").pegged(41).by("w2").at("17:20");
        Act back = takenBack(row("12").round(), "w2-1720").by("w2").at("17:21");
        Act tied = row("12").tied(1, "004711").by("w1").at("07:20");

        assertThat(history(List.of(wrong, back, tied))).containsExactly(ofFruit(tied));
    }

    @Test
    void isToldByWhenThingsWereDone() {
        Act tied = row("12").tied(1, "004711").by("w1").at("07:20");
        Act opened = row("12").opened(14).by("w2").at("06:05");

        assertThat(history(List.of(tied, opened, PEGGED))).containsExactly(ofRow(PEGGED), ofRow(opened), ofFruit(tied));
    }

    @Test
    void whatWasDoneAtOnceIsToldInTheOrderItWasSaid() {
        Act lost = row("12").lost(1).by("w1").line(1).at("07:20");
        Act tied = row("12").tied(1, "004711").by("w1").line(2).at("07:20");
        Act opened = row("12").opened(1).by("w2").at("07:20");

        assertThat(history(List.of(lost, tied, opened))).containsExactly(ofRow(lost), ofFruit(tied), ofRow(opened));
    }

    @Test
    void whatWasDoneToTheFruitAtOnceIsToldLast() {
        Act tied = row("12").tied(1, "004711").by("w1").line(1).at("07:20");
        Act culled = fruit("004711").culled().by("w1").line(2).at("07:20");

        assertThat(history(List.of(culled, tied))).containsExactly(ofFruit(tied), ofFruit(culled));
    }

    @Test
    void whereItsTieIsOnTwoFruitBothTyingsAreTold() {
        Act twelve = row("12").tied(1, "004711").by("w1").at("07:20");
        Act thirteen = row("13").tied(1, "004711").by("w1").at("07:40");

        assertThat(history(List.of(twelve, thirteen))).containsExactly(ofFruit(twelve), ofFruit(thirteen));
    }

    @Test
    void aGradeHasAWordForPublishedData() {
        assertThat(Grade.FRUIT.word()).isEqualTo("fruit");
        assertThat(Grade.ROW.word()).isEqualTo("row");
    }

    @Test
    void whatIsSaidOfAnotherPlantIsNotOfThisFruit() {
        Act tied = row("12").tied(1, "004711").on(7).by("w1").at("07:30");
        Act same = row("12").opened(1).on(7).by("w1").at("07:00");
        Act other = row("12").opened(1).on(9).by("w1").at("07:10");
        Act unsaid = row("12").opened(3).by("w1").at("07:20");
        List<Act> acts = List.of(tied, same, other, unsaid);

        assertThat(Evidence.of(Fruit.of(fruit("004711").id(), acts), acts))
                .containsExactly(
                        new Evidence(same, Evidence.Grade.ROW),
                        new Evidence(unsaid, Evidence.Grade.ROW),
                        new Evidence(tied, Evidence.Grade.FRUIT));
        assertThat(Fruit.of(fruit("004711").id(), acts).plant()).contains(Farm.plant("12.7"));
    }

    @Test
    void bagsTakenOffAfterItWasTiedAreOfItsRowOrOfItself() {
        Act tied = row("12").tied(1, "004711").by("w1").at("07:30");
        Act before = row("12").unbagged(9).by("w1").at("07:00");
        Act byRow = row("12").unbagged(6).by("w1").daysLater(4).at("09:00");
        Act byTie = fruit("004711").unbagged().by("w1").daysLater(5).at("09:00");
        Act elsewhere = row("13").unbagged(6).by("w1").daysLater(4).at("09:00");
        List<Act> acts = List.of(tied, before, byRow, elsewhere);
        Fruit fruit = Fruit.of(fruit("004711").id(), List.of(tied, byTie));

        assertThat(Evidence.of(fruit, acts))
                .containsExactly(
                        new Evidence(tied, Evidence.Grade.FRUIT),
                        new Evidence(byRow, Evidence.Grade.ROW),
                        new Evidence(byTie, Evidence.Grade.FRUIT));
        assertThat(fruit.state()).contains(Fruit.State.TIED);
    }

    /** Next year's bags in the same row are not of a fruit that was brought in. */
    @Test
    void bagsTakenOffItsRowAfterItWasGoneAreNotOfIt() {
        Act tied = row("12").tied(1, "004711").by("w1").at("07:30");
        Act harvested = fruit("004711").harvested().by("w1").daysLater(60).at("09:00");
        Act later = row("12").unbagged(6).by("w1").daysLater(366).at("09:00");
        Fruit fruit = Fruit.of(fruit("004711").id(), List.of(tied, harvested));

        assertThat(Evidence.of(fruit, List.of(tied, later)))
                .extracting(Evidence::act)
                .containsExactly(tied, harvested);
    }
}
