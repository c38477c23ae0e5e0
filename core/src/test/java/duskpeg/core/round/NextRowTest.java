package duskpeg.core.round;

import static duskpeg.core.Farm.at;
import static duskpeg.core.Farm.row;
import static duskpeg.core.Farm.worker;
import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.act.Act;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class NextRowTest {

    private static Round round(String label, Act... acts) {
        return Round.of(row(label).round(), List.of(acts));
    }

    private static Act pegged(String label, int count) {
        return row(label).pegged(count).by("w9").at("17:10");
    }

    private static Optional<String> next(Round... rounds) {
        return NextRow.of(List.of(rounds), worker("w1"), at("08:00"))
                .map(next -> next.round().id().row().label()
                        + next.others().stream()
                                .map(other -> " " + other.pseudonym())
                                .reduce("", String::concat));
    }

    @Test
    void isTheRowWithMostLeft() {
        assertThat(next(round("12", pegged("12", 5)), round("13", pegged("13", 9)), round("14", pegged("14", 9))))
                .contains("13");
    }

    @Test
    void isNotWhereSomebodyElseWasHeardFromAWhileAgo() {
        Round taken = round("13", pegged("13", 9), row("13").opened(2).by("w2").at("07:31"));

        assertThat(next(round("12", pegged("12", 5)), taken)).contains("12");
    }

    @Test
    void isWhereAnotherWasLongerAgo() {
        Round left = round("13", pegged("13", 9), row("13").opened(2).by("w2").at("07:30"));

        assertThat(next(round("12", pegged("12", 5)), left)).contains("13");
    }

    @Test
    void isWhereSheIsHerself() {
        Round own = round("13", pegged("13", 9), row("13").opened(2).by("w1").at("07:55"));

        assertThat(next(round("12", pegged("12", 5)), own)).contains("13");
    }

    @Test
    void isTheOneWithMostLeftForEachWhereOthersAreInAll() {
        Round two = round(
                "12",
                pegged("12", 12),
                row("12").opened(2).by("w2").at("07:45"),
                row("12").opened(2).by("w3").at("07:50"));
        Round one = round("13", pegged("13", 10), row("13").opened(2).by("w4").at("07:45"));

        assertThat(next(two, one)).contains("13 w4");
    }

    @Test
    void isNoneWhereNothingIsLeft() {
        assertThat(next()).isEmpty();
        assertThat(next(round("12", pegged("12", 1), row("12").lost(1).at("07:00"))))
                .isEmpty();
    }
}
