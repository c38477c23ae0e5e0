package duskpeg.core.settle;

import static duskpeg.core.Farm.SETTINGS;
import static duskpeg.core.Farm.fruit;
import static duskpeg.core.Farm.row;
import static duskpeg.core.Farm.text;
import static duskpeg.core.Farm.worker;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import duskpeg.core.Farm;
import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.act.Subject;
import duskpeg.core.act.TextId;
import duskpeg.core.report.Question;
import duskpeg.core.report.Report;
import duskpeg.core.report.Statement;
import duskpeg.core.report.When;
import duskpeg.core.round.Round;
import duskpeg.core.round.RoundQuestions;
import java.time.Instant;
import java.util.EnumSet;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class SettledTest {

    private static final Instant AT = Instant.parse("2026-08-15T06:42:00Z");

    private static Settled.OfText ofText(int line, How how, @Nullable String worker, @Nullable String reading) {
        return new Settled.OfText(
                text("w1-0720"),
                line,
                how,
                worker == null ? null : worker(worker),
                reading == null ? null : text(reading),
                worker("w8"),
                AT);
    }

    private static Settled.OfQuestion settled(Subject subject, Question question) {
        return new Settled.OfQuestion(
                subject,
                question.kind(),
                question.values(),
                question.texts(),
                How.AS_REPORTED,
                null,
                null,
                worker("w8"),
                AT);
    }

    private static List<Question> asked(Act... acts) {
        return RoundQuestions.of(Round.of(row("12").round(), List.of(acts)), SETTINGS, Farm.noStrips());
    }

    private static Act pegged() {
        return row("12").pegged(6).by("w1").at("17:10");
    }

    private static Act opened(int count, String at) {
        return row("12").opened(count).by("w2").at(at);
    }

    @Test
    void nobodySettlesHerOwnText() {
        assertThatIllegalArgumentException().isThrownBy(() -> ofText(1, How.READ_SO, "w8", "in-1"));
    }

    @ParameterizedTest
    @EnumSource
    void whatIsWrittenDownNamesTheWorkerAndWhatItWasReadFrom(How how) {
        boolean records = how == How.READ_SO || how == How.SAID_BY;
        if (records) {
            assertThat(ofText(1, how, "w1", "in-1").reading()).isEqualTo(text("in-1"));
            assertThatIllegalArgumentException().isThrownBy(() -> ofText(1, how, null, "in-1"));
            assertThatIllegalArgumentException().isThrownBy(() -> ofText(1, how, "w1", null));
        } else {
            assertThatIllegalArgumentException().isThrownBy(() -> ofText(1, how, "w1", "in-1"));
        }
    }

    @Test
    void aQuestionAndATextAreNotSettledAlike() {
        assertThatIllegalArgumentException().isThrownBy(() -> ofText(1, How.AS_REPORTED, null, null));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Settled.OfQuestion(
                        row("12").round(),
                        Question.Kind.MALES_SHORT,
                        List.of(),
                        List.of(),
                        How.SPAM,
                        null,
                        null,
                        worker("w8"),
                        AT));
    }

    @Test
    void eachLineOfATextIsItsOwnMatter() {
        Settled.OfText thanks = ofText(1, How.THANKS, null, null);

        assertThat(thanks.sameMatter(ofText(1, How.READ_SO, "w1", "in-1"))).isTrue();
        assertThat(thanks.sameMatter(ofText(2, How.THANKS, null, null))).isFalse();
        assertThat(thanks.sameMatter(settled(
                        row("12").round(), asked(pegged(), opened(7, "06:05")).get(0))))
                .isFalse();
    }

    @Test
    void aSettledQuestionStaysAwayWhileTheFactsAreTheSame() {
        List<Question> asked = asked(pegged(), opened(7, "06:05"));
        Settlements settlements = new Settlements(List.of(settled(row("12").round(), asked.get(0))));

        assertThat(asked).hasSize(1);
        assertThat(settlements.open(row("12").round(), asked)).isEmpty();
        assertThat(settlements.of(row("12").round(), asked.get(0)).orElseThrow().by())
                .isEqualTo(worker("w8"));
    }

    @Test
    void aNewReportThatChangesItsValuesAsksItAnew() {
        Settlements settlements = new Settlements(List.of(
                settled(row("12").round(), asked(pegged(), opened(7, "06:05")).get(0))));

        List<Question> anew = asked(pegged(), opened(7, "06:05"), opened(1, "06:30"));

        assertThat(settlements.open(row("12").round(), anew))
                .extracting(Question::values)
                .containsExactly(List.of("8", "6"));
    }

    @Test
    void theSameNumbersFromAnotherMessageAskItAnew() {
        Settlements settlements = new Settlements(List.of(
                settled(row("12").round(), asked(pegged(), opened(7, "06:05")).get(0))));

        assertThat(settlements.open(row("12").round(), asked(pegged(), opened(7, "06:30"))))
                .hasSize(1);
    }

    @Test
    void theSameQuestionOfAnotherRowIsAnother() {
        Question question = asked(pegged(), opened(7, "06:05")).get(0);
        Settlements settlements = new Settlements(List.of(settled(row("13").round(), question)));

        assertThat(settlements.open(row("12").round(), List.of(question))).containsExactly(question);
    }

    @Test
    void aQuestionAboutATieIsSettledInItsRoundAndOfItsFruitAtOnce() {
        Question question = new Question(Question.Kind.TIE_OF_ANOTHER, List.of("004711"), List.of(text("w2-0720")));
        Settlements settlements = new Settlements(List.of(settled(row("12").round(), question)));

        assertThat(settlements.open(fruit("004711").id(), List.of(question))).isEmpty();
    }

    @Test
    void whatIsUnderstoodLaterWasDoneWhenItWasSent() {
        Instant sent = Instant.parse("2026-08-15T06:20:00Z");
        Statement opened = new Statement.OnFlowers(
                row("12").id(), EnumSet.of(Deed.OPENED), 6, null, new Statement.NextOnStrip(null));
        TextId reading = text("in-1");
        Report.Line now = new Report.Line(1, opened, new When.Now());
        Report.Line before = new Report.Line(1, opened, new When.Ago(java.time.Duration.ofMinutes(30)));
        Report report = new Report(worker("w1"), reading, Farm.SEAL, sent, AT, List.of(now, before));

        assertThat(report.told(now, report.done(now, SETTINGS)).done()).isEqualTo(sent);
        assertThat(report.told(now, report.done(now, SETTINGS)).heard()).isEqualTo(AT);
        assertThat(report.done(before, SETTINGS).at()).isEqualTo(Instant.parse("2026-08-15T05:50:00Z"));
    }
}
