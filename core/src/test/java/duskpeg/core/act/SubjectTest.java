package duskpeg.core.act;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import duskpeg.core.Farm;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.RowId;
import duskpeg.core.round.RoundId;
import java.time.LocalDate;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The text forms are stream names and stand in stored JSON, so they can never change. */
class SubjectTest {

    static List<Arguments> textForms() {
        return List.of(
                Arguments.of("hill", new FarmId("hill")),
                Arguments.of("hill-2", new FarmId("hill-2")),
                Arguments.of("hill/row/12", new RowId(Farm.HILL, "12")),
                Arguments.of("hill/row/999", new RowId(Farm.HILL, "999")),
                Arguments.of(
                        "hill/row/12/2026-08-15", new RoundId(new RowId(Farm.HILL, "12"), LocalDate.of(2026, 8, 15))),
                Arguments.of("hill/tie/004711", new FruitId(Farm.HILL, new TieNumber("004711"))),
                Arguments.of("hill/worker/w1", new WorkerId(Farm.HILL, "w1")),
                Arguments.of("hill/text/SM1-a_B", new TextId(Farm.HILL, "SM1-a_B")));
    }

    @ParameterizedTest
    @MethodSource("textForms")
    void isWrittenAsItsTextForm(String text, Subject subject) {
        assertThat(subject).hasToString(text);
    }

    @ParameterizedTest
    @MethodSource("textForms")
    void isReadBackFromItsTextForm(String text, Subject subject) {
        assertThat(Subject.parse(text)).isEqualTo(subject);
    }

    @ParameterizedTest
    @MethodSource("textForms")
    void belongsToTheFarmItsTextFormBeginsWith(String text, Subject subject) {
        assertThat(subject.farm()).isEqualTo(new FarmId(text.split("/", -1)[0]));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "/",
                "Hill",
                "hill/",
                " hill",
                "hill/row",
                "hill/row/",
                "hill/row/0",
                "hill/row/012",
                "hill/row/1000",
                "hill/row/12/2026-08-15/1",
                "hill/tie/471",
                "hill/tie/1234567890",
                "hill/tie/004711/2026-08-15",
                "hill/row/12/",
                "hill/row/12/2026-13-01",
                "hill/row/12/2026-8-1",
                "hill/worker/",
                "hill/worker/W1",
                "hill/text/",
                "hill/text/SM 1",
                "hill/plant/12.7"
            })
    void anythingElseIsRefused(String text) {
        // A row, date or tie in another form would be a second name for the same stream.
        assertThatIllegalArgumentException().isThrownBy(() -> Subject.parse(text));
    }

    @Test
    void aRowIsInItself() {
        assertThat(Farm.row("12").id().inRow()).contains(new RowId(Farm.HILL, "12"));
    }

    @Test
    void aRoundIsInItsRow() {
        assertThat(Farm.row("12").round().inRow()).contains(new RowId(Farm.HILL, "12"));
    }

    @Test
    void aTieDoesNotSayItsRow() {
        assertThat(Farm.fruit("004711").id().inRow()).isEmpty();
    }

    @Test
    void aMessageIsReadBackFromItsTextForm() {
        assertThat(TextId.parse("hill/text/SM1-a_B")).isEqualTo(new TextId(Farm.HILL, "SM1-a_B"));
    }

    @Test
    void aMessageIsWrittenAsItsTextForm() {
        assertThat(new TextId(Farm.HILL, "SM1-a_B")).hasToString("hill/text/SM1-a_B");
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "hill", "hill/text/", "hill/text/a b", "hill/text/a/b", "hill/row/12", "Hill/text/SM1"})
    void whatIsNoMessageIsRefused(String text) {
        assertThatIllegalArgumentException().isThrownBy(() -> TextId.parse(text));
    }

    @Test
    void theLongestIdOfAMessageHas64Characters() {
        assertThat(new TextId(Farm.HILL, "x".repeat(64)).value()).hasSize(64);
        assertThatIllegalArgumentException().isThrownBy(() -> new TextId(Farm.HILL, "x".repeat(65)));
    }
}
