package duskpeg.core.fruit;

import static duskpeg.core.Farm.fruit;
import static duskpeg.core.Farm.noStrips;
import static duskpeg.core.Farm.row;
import static duskpeg.core.Farm.strip;
import static duskpeg.core.Farm.takenBack;
import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.Farm;
import duskpeg.core.act.Act;
import duskpeg.core.fruit.Fruit.State;
import duskpeg.core.report.Question;
import duskpeg.core.report.Question.Kind;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

class FruitTest {

    private static final FruitId ID = fruit("004711").id();
    private static final Act TIED =
            row("12").tied(2, "004711", "004712").by("w1").at("07:20");

    private static Fruit of(Act... acts) {
        return Fruit.of(ID, List.of(acts));
    }

    @Test
    void aTieOfWhichNothingIsSaidHasNoState() {
        assertThat(of()).isEqualTo(new Fruit(ID, List.of()));
        assertThat(of().state()).isEmpty();
        assertThat(of().tying()).isEmpty();
    }

    @Test
    void isTiedByTheActThatNamesItsNumber() {
        assertThat(of(TIED)).isEqualTo(new Fruit(ID, List.of(TIED)));
        assertThat(of(TIED).state()).contains(State.TIED);
        assertThat(of(TIED).tying()).contains((Act.Tied) TIED);
    }

    @Test
    void isCulled() {
        assertThat(of(TIED, fruit("004711").culled().daysLater(9).at("09:00")).state())
                .contains(State.CULLED);
    }

    @Test
    void isHarvested() {
        assertThat(of(TIED, fruit("004711").harvested().daysLater(60).at("09:00"))
                        .state())
                .contains(State.HARVESTED);
    }

    @Test
    void isHarvestedWhereNobodySaidItWasTied() {
        assertThat(of(fruit("004711").harvested().daysLater(60).at("09:00")).state())
                .contains(State.HARVESTED);
    }

    @Test
    void theActDoneLastDecides() {
        Act harvested = fruit("004711").harvested().daysLater(60).at("09:00");
        Act culledEarlier = fruit("004711").culled().daysLater(9).at("09:00");

        // Heard in the wrong order: a phone had been dead.
        assertThat(of(TIED, harvested, culledEarlier).state()).contains(State.HARVESTED);
    }

    @Test
    void isTiedAgainWhereItsHarvestIsTakenBack() {
        Act harvested = fruit("004711").harvested().in("SM9").daysLater(60).at("09:00");
        Act back = takenBack(ID, "SM9").daysLater(60).at("09:01");

        assertThat(of(TIED, harvested, back)).isEqualTo(new Fruit(ID, List.of(TIED)));
        assertThat(of(TIED, harvested, back).state()).contains(State.TIED);
    }

    @Test
    void actsThatDoNotNameItsTieArePassedOver() {
        Fruit fruit = of(
                row("12").tied(1, "004712").at("07:20"),
                row("12").tied(6).at("07:25"),
                row("12").culled(3).daysLater(9).at("09:00"),
                fruit("004712").harvested().daysLater(60).at("09:00"));

        assertThat(fruit).isEqualTo(new Fruit(ID, List.of()));
    }

    @Test
    void whereItIsTiedTwiceTheLatestReportIsItsTying() {
        Act.Tied again = row("13").tied(1, "004711").by("w1").at("07:40");

        assertThat(of(TIED, again).tying()).contains(again);
    }

    @ParameterizedTest
    @MethodSource("states")
    void aStateHasAWordForPublishedData(State state, String word) {
        assertThat(state.word()).isEqualTo(word);
    }

    static List<Arguments> states() {
        return List.of(
                Arguments.of(State.TIED, "tied"),
                Arguments.of(State.CULLED, "culled"),
                Arguments.of(State.HARVESTED, "harvested"));
    }

    /** What was said, what is asked of it and nothing else, and how a board words it. */
    private record Case(String name, List<Act> acts, Question asked, String sentence) {
        @Override
        public String toString() {
            return name;
        }
    }

    private static Question asked(Kind kind, List<String> values, String... texts) {
        return new Question(kind, values, Arrays.stream(texts).map(Farm::text).toList());
    }

    static List<Case> cases() {
        return List.of(
                new Case(
                        "harvested, but nobody said it was tied",
                        List.of(fruit("004711")
                                .harvested()
                                .by("w1")
                                .daysLater(60)
                                .at("09:00")),
                        asked(Kind.TIE_NOT_REPORTED, List.of("004711"), "w1-0900-60"),
                        "tie 004711 was never reported as put on"),
                new Case(
                        "tied on two fruit",
                        List.of(TIED, row("13").tied(1, "004711").by("w1").at("07:40")),
                        asked(Kind.TIE_USED_TWICE, List.of("004711", "2"), "w1-0720", "w1-0740"),
                        "tie 004711 was reported 2 times"),
                new Case(
                        "tied with a tie of another's strip",
                        List.of(row("12").tied(1, "004711").by("w2").at("07:20")),
                        asked(Kind.TIE_OF_ANOTHER, List.of("004711"), "w2-0720"),
                        "tie 004711 is of another worker's strip"),
                new Case(
                        "harvested twice",
                        List.of(
                                TIED,
                                fruit("004711")
                                        .harvested()
                                        .by("w1")
                                        .daysLater(60)
                                        .at("09:00"),
                                fruit("004711")
                                        .harvested()
                                        .by("w2")
                                        .daysLater(61)
                                        .at("09:00")),
                        asked(Kind.HARVESTED_TWICE, List.of("004711", "2"), "w1-0900-60", "w2-0900-61"),
                        "tie 004711 was harvested 2 times"),
                new Case(
                        "culled and harvested",
                        List.of(
                                TIED,
                                fruit("004711").culled().by("w1").daysLater(9).at("09:00"),
                                fruit("004711")
                                        .harvested()
                                        .by("w2")
                                        .daysLater(60)
                                        .at("09:00")),
                        asked(Kind.CULLED_AND_HARVESTED, List.of("004711"), "w1-0900-9", "w2-0900-60"),
                        "tie 004711 was reported as culled and as harvested"),
                new Case(
                        "harvested beside the wrong stake",
                        List.of(
                                TIED,
                                fruit("004711")
                                        .harvestedInRow("13")
                                        .by("w1")
                                        .daysLater(60)
                                        .at("09:00")),
                        asked(Kind.ROW_DIFFERS, List.of("13", "004711", "12"), "w1-0900-60", "w1-0720"),
                        "row 13 was said, but tie 004711 was put on in row 12"));
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
    void everyKindThatIsAskedOfAFruitAloneHasItsCase() {
        assertThat(cases().stream().map(one -> one.asked().kind()).collect(Collectors.toSet()))
                .contains(Kind.TIE_NOT_REPORTED, Kind.ROW_DIFFERS, Kind.CULLED_AND_HARVESTED, Kind.HARVESTED_TWICE);
    }

    @Test
    void aTieOfNoStripIsAsked() {
        assertThat(Fruit.of(ID, List.of(TIED)).questions(noStrips()))
                .containsExactly(asked(Kind.TIE_ON_NO_STRIP, List.of("004711"), "w1-0720"));
    }

    @Test
    void anHonestFruitIsNotAsked() {
        assertThat(questions(List.of(
                        TIED,
                        fruit("004711")
                                .harvestedInRow("12")
                                .by("w2")
                                .daysLater(60)
                                .at("09:00"))))
                .isEmpty();
    }

    @Test
    void aTieOfWhichNothingIsSaidIsNotAsked() {
        assertThat(of().questions(noStrips())).isEmpty();
    }

    @Test
    void oneMistakeTakenBackIsNotAsked() {
        assertThat(questions(List.of(
                        TIED,
                        row("13").tied(1, "004711").by("w1").at("07:40"),
                        takenBack(row("13").round(), "w1-0740").by("w1").at("07:41"))))
                .isEmpty();
    }

    private static List<Question> questions(List<Act> acts) {
        return Fruit.of(ID, acts)
                .questions(strip("w1", "004700", "004730")
                        .strip("w2", "004731", "004760")
                        .after(acts));
    }
}
