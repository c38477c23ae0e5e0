package duskpeg.core.fruit;

import static duskpeg.core.Farm.at;
import static duskpeg.core.Farm.enteredBy;
import static duskpeg.core.Farm.fruit;
import static duskpeg.core.Farm.noStrips;
import static duskpeg.core.Farm.row;
import static duskpeg.core.Farm.strip;
import static duskpeg.core.Farm.stripOf;
import static duskpeg.core.Farm.text;
import static duskpeg.core.Farm.worker;
import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.Farm.Ties;
import duskpeg.core.act.Act;
import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.report.Question;
import duskpeg.core.report.Question.Kind;
import java.util.List;
import org.junit.jupiter.api.Test;

class TieQuestionsTest {

    private static final TieNumber TIE = new TieNumber("004716");

    private static Act tied(String by, String clock) {
        return row("12").tied(1, "004716").by(by).at(clock);
    }

    private static List<Question> asked(Ties ties, Act... acts) {
        return TieQuestions.of(TIE, List.of(acts), ties.after(List.of(acts)));
    }

    private static Ties handedOverAtSeven() {
        return strip("w1", "004700", "004749")
                .with(new CustodyEvent.StripHandedOver(
                        worker("w1"), worker("w2"), stripOf("004716", "004749"), at("07:00"), enteredBy("w1")));
    }

    private static Ties lostAtSeven() {
        return strip("w1", "004700", "004749")
                .with(new CustodyEvent.StripLost(
                        worker("w1"), stripOf("004716", "004749"), at("07:00"), enteredBy("w1")));
    }

    @Test
    void aTieOnHerOwnStripIsNotAsked() {
        assertThat(asked(strip("w1", "004700", "004749"), tied("w1", "06:40"))).isEmpty();
    }

    @Test
    void ofNoStrip() {
        assertThat(asked(noStrips(), tied("w1", "06:40")))
                .containsExactly(new Question(Kind.TIE_ON_NO_STRIP, List.of("004716"), List.of(text("w1-0640"))));
    }

    @Test
    void beforeItWasHandedOverItWasTheFormerHolders() {
        assertThat(asked(handedOverAtSeven(), tied("w1", "06:40"))).isEmpty();
        assertThat(asked(handedOverAtSeven(), tied("w2", "06:40")))
                .extracting(Question::kind)
                .containsExactly(Kind.TIE_OF_ANOTHER);
    }

    @Test
    void afterItWasHandedOverItIsTheOthers() {
        assertThat(asked(handedOverAtSeven(), tied("w2", "07:40"))).isEmpty();
        assertThat(asked(handedOverAtSeven(), tied("w1", "07:40")))
                .containsExactly(new Question(Kind.TIE_OF_ANOTHER, List.of("004716"), List.of(text("w1-0740"))));
    }

    @Test
    void ofALostStripThatTurnsUp() {
        assertThat(asked(lostAtSeven(), tied("w1", "06:40"))).isEmpty();
        assertThat(asked(lostAtSeven(), tied("w2", "07:40")))
                .containsExactly(new Question(Kind.TIE_OF_LOST_STRIP, List.of("004716"), List.of(text("w2-0740"))));
        assertThat(asked(lostAtSeven(), tied("w2", "07:40")).get(0).sentence())
                .isEqualTo("tie 004716 is of a strip that was reported lost");
    }

    @Test
    void ofALostStripThatTurnsUpAtHarvest() {
        assertThat(asked(
                        lostAtSeven(),
                        fruit("004716").harvested().by("w2").daysLater(60).at("09:00")))
                .extracting(Question::kind)
                .containsExactly(Kind.TIE_OF_LOST_STRIP);
    }

    @Test
    void ofAStripThatIsInTheShed() {
        Ties returned = strip("w1", "004700", "004749")
                .with(new CustodyEvent.StripReturned(
                        worker("w1"), stripOf("004716", "004749"), at("07:00"), enteredBy("w8")));

        assertThat(asked(returned, tied("w1", "07:40")))
                .containsExactly(new Question(Kind.TIE_OF_RETURNED_STRIP, List.of("004716"), List.of(text("w1-0740"))));
    }

    @Test
    void thatWasDamaged() {
        assertThat(asked(strip("w1", "004700", "004749").damaged("004716"), tied("w1", "06:40")))
                .containsExactly(new Question(Kind.TIE_DAMAGED, List.of("004716"), List.of(text("w1-0640"))));
    }

    @Test
    void putOnTwice() {
        assertThat(asked(strip("w1", "004700", "004749"), tied("w1", "06:40"), tied("w1", "06:50")))
                .containsExactly(new Question(
                        Kind.TIE_USED_TWICE, List.of("004716", "2"), List.of(text("w1-0640"), text("w1-0650"))));
    }

    @Test
    void whatWasSkippedIsAskedOfTheTieBehindItAloneAndNotOfItsFruit() {
        Act.Tied before = row("12").tied(1, "004713").by("w1").at("06:40");
        Act.Tied behind = row("12").tied(2, "004716", "004717").by("w1").at("06:50");
        Ties ties = strip("w1", "004700", "004749").after(List.of(before, behind));

        assertThat(TieQuestions.skippedBefore(TIE, behind, ties))
                .containsExactly(
                        new Question(Kind.TIES_SKIPPED, List.of("004716", "004714-004715"), List.of(text("w1-0650"))));
        assertThat(TieQuestions.skippedBefore(TIE, behind, ties).get(0).sentence())
                .isEqualTo("tie 004716 was put on, but not 004714-004715 before it on the same strip");
        assertThat(TieQuestions.skippedBefore(new TieNumber("004717"), behind, ties))
                .isEmpty();
        assertThat(TieQuestions.of(TIE, List.of(behind), ties)).isEmpty();
    }

    @Test
    void whatAnotherSkippedOnHerStripIsNotAsked() {
        Act.Tied before = row("12").tied(1, "004713").by("w1").at("06:40");
        Act.Tied behind = row("12").tied(1, "004716").by("w2").at("06:50");

        assertThat(TieQuestions.skippedBefore(
                        TIE, behind, strip("w1", "004700", "004749").after(List.of(before, behind))))
                .isEmpty();
    }

    @Test
    void aTieOfWhichNothingIsSaidIsNotAsked() {
        assertThat(asked(noStrips())).isEmpty();
    }
}
