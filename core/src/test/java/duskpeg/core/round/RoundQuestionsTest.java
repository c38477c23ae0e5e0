package duskpeg.core.round;

import static duskpeg.core.Farm.noStrips;
import static duskpeg.core.Farm.row;
import static duskpeg.core.Farm.strip;
import static duskpeg.core.Farm.takenBack;
import static duskpeg.core.Farm.text;
import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.Farm;
import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.Rows;
import duskpeg.core.planting.Species;
import duskpeg.core.report.Question;
import duskpeg.core.report.Question.Kind;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class RoundQuestionsTest {

    /** What was said, what is asked of it and nothing else, and how a board words it. */
    private record Case(String name, List<Act> acts, Question asked, String sentence) {
        @Override
        public String toString() {
            return name;
        }
    }

    private static Case when(String name, List<Act> acts, Question asked, String sentence) {
        return new Case(name, acts, asked, sentence);
    }

    private static Question asked(Kind kind, List<String> values, String... texts) {
        return new Question(kind, values, Arrays.stream(texts).map(Farm::text).toList());
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

    static List<Case> cases() {
        return List.of(
                // Common practice, no source: two pegged males for each pegged female.
                when(
                        "males are short",
                        said(row("12").pegged(14).males(20).by("w1").at("17:10")),
                        asked(Kind.MALES_SHORT, List.of("20", "14", "8"), "w1-1710"),
                        "20 males pegged for 14 females: 8 short"),
                when(
                        "males are short over all who pegged",
                        said(
                                row("12").pegged(14).males(30).by("w1").at("17:10"),
                                row("12").pegged(6).males(8).by("w2").at("17:30")),
                        asked(Kind.MALES_SHORT, List.of("38", "20", "2"), "w1-1710", "w2-1730"),
                        "38 males pegged for 20 females: 2 short"),
                when(
                        "more opened than pegged",
                        said(
                                row("12").pegged(6).by("w1").at("17:10"),
                                row("12").opened(7).by("w2").at("06:05")),
                        asked(Kind.OPENED_OVER_PEGGED, List.of("7", "6"), "w1-1710", "w2-0605"),
                        "7 opened, but 6 pegged"),
                when(
                        "opened, and nobody pegged",
                        said(row("12").opened(7).by("w2").at("06:05")),
                        asked(Kind.OPENED_OVER_PEGGED, List.of("7", "0"), "w2-0605"),
                        "7 opened, but 0 pegged"),
                when(
                        "more pollinated than opened",
                        said(
                                row("12").pegged(6).by("w1").at("17:10"),
                                row("12").opened(5).by("w2").at("06:05"),
                                row("12").pollinated(6).by("w3").at("06:40")),
                        asked(Kind.POLLINATED_OVER_OPENED, List.of("6", "5"), "w2-0605", "w3-0640"),
                        "6 pollinated, but 5 opened"),
                when(
                        "more bagged than pollinated",
                        said(
                                row("12").pegged(6).by("w1").at("17:10"),
                                row("12")
                                        .worked(5)
                                        .only(Deed.OPENED, Deed.POLLINATED)
                                        .by("w2")
                                        .at("06:40"),
                                row("12").bagged(6).by("w3").at("07:00")),
                        asked(Kind.BAGGED_OVER_POLLINATED, List.of("6", "5"), "w2-0640", "w3-0700"),
                        "6 bagged, but 5 pollinated"),
                when(
                        "more tied than bagged",
                        said(
                                row("12").pegged(2).by("w1").at("17:10"),
                                row("12")
                                        .worked(1)
                                        .only(Deed.OPENED, Deed.POLLINATED, Deed.BAGGED)
                                        .by("w2")
                                        .at("07:00"),
                                row("12").tied(2, "004711", "004712").by("w1").at("07:20")),
                        asked(Kind.TIED_OVER_BAGGED, List.of("2", "1"), "w2-0700", "w1-0720"),
                        "2 tied, but 1 bagged"),
                when(
                        "more tied and lost than pegged",
                        said(
                                row("12").pegged(2).by("w1").at("17:10"),
                                row("12").worked(2, "004711", "004712").by("w1").at("07:20"),
                                row("12").lost(1).by("w2").at("07:30")),
                        asked(Kind.MORE_THAN_PEGGED, List.of("2", "1", "2"), "w1-1710", "w1-0720", "w2-0730"),
                        "2 tied and 1 lost, but 2 pegged"),
                when(
                        "lost, and nobody pegged",
                        said(row("12").lost(1).by("w2").at("07:30")),
                        asked(Kind.MORE_THAN_PEGGED, List.of("0", "1", "0"), "w2-0730"),
                        "0 tied and 1 lost, but 0 pegged"),
                when(
                        "worked a minute after the limit",
                        said(
                                row("12").pegged(2).by("w1").at("17:10"),
                                row("12").worked(2, "004711", "004712").by("w1").at("10:01")),
                        asked(
                                Kind.AFTER_LIMIT,
                                List.of("2", "opened, pollinated, bagged, tied", "10:01", "10:00"),
                                "w1-1001"),
                        "2 opened, pollinated, bagged, tied at 10:01, after the limit 10:00"),
                when(
                        "the tie in hand is not the one the strip led to",
                        said(
                                row("12").pegged(2).by("w1").at("17:10"),
                                row("12")
                                        .worked(2)
                                        .only(Deed.OPENED, Deed.POLLINATED, Deed.BAGGED)
                                        .by("w1")
                                        .at("07:00"),
                                row("12")
                                        .tiedInDoubt(2, "004719", "004712")
                                        .by("w1")
                                        .at("07:20")),
                        asked(Kind.LAST_NUMBER_DIFFERS, List.of("2", "004719", "004712"), "w1-0720"),
                        "2 tied without known numbers: the last was read as 004719, the strip led to 004712"),
                when(
                        "a tie in hand, and too few left on the strip",
                        said(
                                row("12").pegged(2).by("w1").at("17:10"),
                                row("12")
                                        .worked(2)
                                        .only(Deed.OPENED, Deed.POLLINATED, Deed.BAGGED)
                                        .by("w1")
                                        .at("07:00"),
                                row("12")
                                        .tiedInDoubt(2, "004719", null)
                                        .by("w1")
                                        .at("07:20")),
                        asked(Kind.LAST_NUMBER_DIFFERS, List.of("2", "004719", "-"), "w1-0720"),
                        "2 tied without known numbers: the last was read as 004719, the strip led to -"),
                when(
                        "the strip had too few left",
                        said(
                                row("12").pegged(3).by("w1").at("17:10"),
                                row("12").worked(3, "004729", "004730").by("w1").at("07:20")),
                        asked(Kind.STRIP_TOO_SHORT, List.of("3", "2"), "w1-0720"),
                        "3 tied, but the strip had 2 left: the others have no known number"),
                when(
                        "a tie of another's strip",
                        said(
                                row("12").pegged(1).by("w1").at("17:10"),
                                row("12").worked(1, "004711").by("w2").at("07:20")),
                        asked(Kind.TIE_OF_ANOTHER, List.of("004711"), "w2-0720"),
                        "tie 004711 is of another worker's strip"),
                when(
                        "a tie of no strip",
                        said(
                                row("12").pegged(1).by("w1").at("17:10"),
                                row("12").worked(1, "009999").by("w1").at("07:20")),
                        asked(Kind.TIE_ON_NO_STRIP, List.of("009999"), "w1-0720"),
                        "tie 009999 is on no strip that was issued"),
                when(
                        "a tie that is also on a fruit of another row",
                        said(
                                row("12").pegged(1).by("w1").at("17:10"),
                                row("12").worked(1, "004711").by("w1").at("07:20"),
                                row("13").worked(1, "004711").by("w1").at("07:40")),
                        asked(Kind.TIE_USED_TWICE, List.of("004711", "2"), "w1-0720"),
                        "tie 004711 was reported 2 times"));
    }

    @ParameterizedTest
    @MethodSource("cases")
    void asksThisAndNothingElse(Case that) {
        assertThat(questions(that.acts())).containsExactly(that.asked());
    }

    @ParameterizedTest
    @MethodSource("cases")
    void saysItInPlainEnglish(Case that) {
        assertThat(that.asked().sentence()).isEqualTo(that.sentence());
    }

    @Test
    void everyKindThatIsAboutARoundHasItsCase() {
        // The others are about custody or one fruit, with their cases in TieQuestionsTest and FruitTest, or about
        // plants: see below.
        EnumSet<Kind> ofRounds = EnumSet.range(Kind.MALES_SHORT, Kind.TIE_ON_NO_STRIP);

        assertThat(cases().stream().map(one -> one.asked().kind()).collect(Collectors.toSet()))
                .isEqualTo(ofRounds);
    }

    @Test
    void anHonestMorningIsNotAsked() {
        assertThat(questions(said(
                        row("12").pegged(2).males(4).by("w1").at("17:10"),
                        row("12").worked(2, "004711", "004712").by("w1").at("07:20"))))
                .isEmpty();
    }

    @Test
    void countsAreComparedWithTheStepBeforeOnly() {
        assertThat(questions(said(
                        row("12").pegged(1).by("w1").at("17:10"),
                        row("12").tied(3, "004711", "004712", "004713").by("w1").at("07:20"))))
                .extracting(Question::kind)
                .containsExactly(Kind.TIED_OVER_BAGGED);
    }

    @Test
    void tyingWithoutLossIsNotHeldAgainstThePegging() {
        // Where nothing is lost, the chain of counts says it already; one mistake is asked once.
        assertThat(questions(said(row("12").worked(1, "004711").by("w1").at("07:20"))))
                .containsExactly(asked(Kind.OPENED_OVER_PEGGED, List.of("1", "0"), "w1-0720"));
    }

    @Test
    void atTheLimitIsNotAfterIt() {
        assertThat(questions(said(
                        row("12").pegged(1).by("w1").at("17:10"),
                        row("12").worked(1, "004711").by("w1").at("10:00"))))
                .isEmpty();
    }

    @Test
    void peggingAndLosingHaveNoLimit() {
        assertThat(questions(said(
                        row("12").pegged(1).by("w1").at("11:30"),
                        row("12").lost(1).by("w1").at("11:45"))))
                .isEmpty();
    }

    @Test
    void eachLateLineIsAskedOnItsOwn() {
        List<Question> late = questions(said(
                row("12").pegged(3).by("w1").at("17:10"),
                row("12").worked(1, "004711").by("w1").line(1).at("10:20"),
                row("12").worked(2, "004712", "004713").by("w1").line(2).at("10:20")));

        assertThat(late)
                .containsExactly(
                        asked(
                                Kind.AFTER_LIMIT,
                                List.of("1", "opened, pollinated, bagged, tied", "10:20", "10:00"),
                                "w1-1020"),
                        asked(
                                Kind.AFTER_LIMIT,
                                List.of("2", "opened, pollinated, bagged, tied", "10:20", "10:00"),
                                "w1-1020"));
    }

    @Test
    void aQuestionGoesAwayWithTheReportThatAnswersIt() {
        List<Act> acts = said(
                row("12").pegged(14).males(20).by("w1").at("17:10"),
                row("12").pegged(1).males(10).by("w2").at("17:30"));

        assertThat(questions(acts)).isEmpty();
    }

    @Test
    void withoutAnyStripNoTieIsKnown() {
        List<Act> acts = said(
                row("12").pegged(1).by("w1").at("17:10"),
                row("12").worked(1, "004711").by("w1").at("07:20"));

        assertThat(RoundQuestions.of(
                        Round.of(row("12").round(), acts),
                        Farm.SETTINGS,
                        noStrips().after(acts)))
                .containsExactly(new Question(Kind.TIE_ON_NO_STRIP, List.of("004711"), List.of(text("w1-0720"))));
    }

    @Test
    void questionsComeInTheOrderOfTheWork() {
        List<Act> acts = Stream.concat(
                        row("12").worked(3, "009999").by("w1").at("10:20").stream(),
                        Stream.<Act>of(
                                row("12").lost(1).by("w1").at("06:30"),
                                row("12").pegged(2).males(0).by("w1").at("17:10")))
                .toList();

        assertThat(questions(acts))
                .extracting(Question::kind)
                .containsExactly(
                        Kind.MALES_SHORT,
                        Kind.OPENED_OVER_PEGGED,
                        Kind.MORE_THAN_PEGGED,
                        Kind.AFTER_LIMIT,
                        Kind.STRIP_TOO_SHORT,
                        Kind.TIE_ON_NO_STRIP);
    }

    private static List<Question> questions(List<Act> acts) {
        return RoundQuestions.of(
                Round.of(row("12").round(), acts),
                Farm.SETTINGS,
                strip("w1", "004700", "004730").strip("w2", "004731", "004760").after(acts));
    }

    private static final Rows ROWS = new Rows(List.of(
            new Planting(
                    "Dam side",
                    "Greycap Nine",
                    Species.PEPO,
                    List.of(
                            new Planting.Row(row("3").id(), 40),
                            new Planting.Row(row("12").id(), 40))),
            new Planting(
                    "Far",
                    "Nightjar",
                    Species.PEPO,
                    List.of(new Planting.Row(row("14").id(), 40)))));

    private static List<String> ofPlants(Act... acts) {
        return RoundQuestions.of(Round.of(row("12").round(), List.of(acts)), Farm.SETTINGS, Farm.noStrips(), ROWS)
                .stream()
                .filter(question -> question.kind().compareTo(Question.Kind.FINISHED_WITH_LEFT) >= 0)
                .map(Question::sentence)
                .toList();
    }

    @Test
    void plantsAndSiresThatCanBeAreNotAskedAbout() {
        assertThat(ofPlants(
                        row("12").pegged(2).males(4).on(7, "3.9", "12.8").at("17:10"),
                        row("12").pollinated(2).on(7, "3.9", "3.40").at("07:10")))
                .isEmpty();
    }

    @Test
    void aPlantAboveItsRowsNumberOfPlantsIsAskedAboutOnceALine() {
        assertThat(ofPlants(
                        row("12").opened(1).on(41).at("07:10"),
                        row("12").bagged(1).on(41).at("07:10")))
                .containsExactly("plant 12.41 was said, but row 12 has 40 plants");
    }

    @Test
    void siresAreAskedAbout() {
        assertThat(ofPlants(row("12").pollinated(1).on(7, "12.7", "3.9").at("07:10")))
                .containsExactly("the male is said to be from 12.7, the flower's own plant");
        assertThat(ofPlants(row("12").pollinated(1).on(7, "3.9", "3.9").at("07:10")))
                .containsExactly("both males are said to be from 3.9");
        assertThat(ofPlants(row("12").pollinated(1).on(7, "3.9").at("07:10")))
                .containsExactly("only one male is said: from 3.9");
        assertThat(ofPlants(row("12").pegged(1).on(7, "3.9", "14.2").at("17:10")))
                .containsExactly("the male from 14.2 is of Nightjar, the flower of Greycap Nine");
        assertThat(ofPlants(row("12").pegged(1).on(7, "99.1", "3.9").at("17:10")))
                .containsExactly("plant 99.1 was said, but row 99 has 0 plants");
    }

    @Test
    void aRowSaidToBeFinishedWithFlowersLeftIsAskedAbout() {
        Act pegged = row("12").pegged(3).males(6).at("17:10");
        Act tied = row("12").tied(1, "004711").at("07:30");
        Act finished = row("12").finished().at("08:00");

        assertThat(ofPlants(pegged, tied, finished)).containsExactly("said to be finished, but 2 left");
        assertThat(ofPlants(pegged, tied, finished, row("12").lost(2).at("08:10")))
                .isEmpty();
        assertThat(ofPlants(finished)).isEmpty();
        assertThat(ofPlants(
                        pegged,
                        tied,
                        finished,
                        takenBack(row("12").round(), "w1-0800").at("08:20")))
                .isEmpty();
    }
}
