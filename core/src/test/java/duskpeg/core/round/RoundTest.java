package duskpeg.core.round;

import static duskpeg.core.Farm.row;
import static duskpeg.core.Farm.takenBack;
import static duskpeg.core.Farm.ties;
import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.act.Act;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;

class RoundTest {

    private static Round round(Act... acts) {
        return Round.of(row("12").round(), List.of(acts));
    }

    @Test
    void aRoundOfWhichNothingIsSaidIsEmpty() {
        assertThat(round().tally()).isEqualTo(new Tally(0, 0, false, 0, 0, 0, 0, 0));
    }

    @Test
    void talliesWhatEachActSaid() {
        Round round = round(
                row("12").pegged(14).males(28).by("w1").at("17:10"),
                row("12").opened(13).by("w1").at("06:05"),
                row("12").pollinated(12).by("w1").at("06:40"),
                row("12").bagged(11).by("w2").at("07:00"),
                row("12").tied(10).by("w2").at("07:20"),
                row("12").lost(1).by("w1").at("06:06"));

        assertThat(round.tally()).isEqualTo(new Tally(14, 28, false, 13, 12, 11, 10, 1));
    }

    @Test
    void addsUpWhatSeveralWorkersSaid() {
        Round round = round(
                row("12").pegged(14).males(28).by("w1").at("17:10"),
                row("12").pegged(9).males(18).by("w2").at("17:12"));

        assertThat(round.tally()).isEqualTo(new Tally(23, 46, false, 0, 0, 0, 0, 0));
    }

    @Test
    void malesUnsaidAreTwoForEachFemale() {
        // Common practice, no source: two pegged males for each pegged female.
        assertThat(round(row("12").pegged(14).by("w1").at("17:10")).tally())
                .isEqualTo(new Tally(14, 28, true, 0, 0, 0, 0, 0));
    }

    @Test
    void onlyTheReportThatSaidNoMalesIsCompleted() {
        // Common practice, no source: two pegged males for each pegged female.
        Round round = round(
                row("12").pegged(10).males(15).by("w1").at("17:10"),
                row("12").pegged(4).by("w2").at("17:12"));

        assertThat(round.tally()).isEqualTo(new Tally(14, 23, true, 0, 0, 0, 0, 0));
    }

    @Test
    void noMalesIsAWordOnMales() {
        assertThat(round(row("12").pegged(2).males(0).at("17:10")).tally())
                .isEqualTo(new Tally(2, 0, false, 0, 0, 0, 0, 0));
    }

    @Test
    void fourMalesOnTheLeavesAreTwoFemalesWaiting() {
        // Common practice, no source: 4 males on the leaves = 2 females waiting.
        Tally tally = round(row("12").pegged(2).males(4).at("17:10")).tally();

        assertThat(tally.malesShort()).isZero();
        assertThat(tally.left()).isEqualTo(2);
    }

    @Test
    void threeMalesForTwoFemalesAreOneShort() {
        // Common practice, no source: two pegged males for each pegged female.
        assertThat(round(row("12").pegged(2).males(3).at("17:10")).tally().malesShort())
                .isEqualTo(1);
    }

    @Test
    void malesToSpareAreNotShort() {
        assertThat(round(row("12").pegged(2).males(9).at("17:10")).tally().malesShort())
                .isZero();
    }

    @Test
    void leftIsWhatIsPeggedAndNeitherTiedNorLost() {
        Round round = round(
                row("12").pegged(14).at("17:10"),
                row("12").tied(6).at("07:20"),
                row("12").lost(1).at("06:06"));

        assertThat(round.tally().left()).isEqualTo(7);
    }

    @Test
    void leftIsNeverUnderNone() {
        Round round = round(
                row("12").pegged(6).at("17:10"),
                row("12").tied(6).at("07:20"),
                row("12").lost(1).at("06:06"));

        assertThat(round.tally().left()).isZero();
    }

    @Test
    void openingAFlowerDoesNotFinishIt() {
        Round round = round(
                row("12").pegged(14).at("17:10"),
                row("12").opened(14).at("06:05"),
                row("12").pollinated(14).at("06:40"),
                row("12").bagged(14).at("07:00"));

        assertThat(round.tally().left()).isEqualTo(14);
    }

    @Test
    void whatWasTakenBackCountsNoLonger() {
        Round round = round(
                row("12").pegged(41).by("w1").at("17:10"),
                takenBack(row("12").round(), "w1-1710").by("w1").at("17:11"),
                row("12").pegged(14).by("w1").at("17:12"));

        assertThat(round.tally()).isEqualTo(new Tally(14, 28, true, 0, 0, 0, 0, 0));
    }

    @Test
    void actsOnOtherSubjectsArePassedOver() {
        Act ours = row("12").pegged(14).at("17:10");

        Round round =
                round(ours, row("13").pegged(9).at("17:12"), row("12").culled(3).at("08:00"));

        assertThat(round).isEqualTo(new Round(row("12").round(), List.of((Act.OnFlowers) ours)));
    }

    @Test
    void knowsTheNumbersOfItsTiesInTheOrderTheyWereHeard() {
        Round round = round(
                row("12").tied(2, "004711", "004712").by("w1").at("07:20"),
                row("12").tied(3).by("w2").at("07:25"),
                row("12").tied(1, "004700").by("w3").at("07:30"));

        assertThat(round.ties()).isEqualTo(ties("004711", "004712", "004700"));
    }

    @Test
    void tiesTakenBackAreNotItsTies() {
        List<Act> acts = new ArrayList<>(row("12").worked(1, "004711").by("w1").at("07:20"));
        acts.add(takenBack(row("12").round(), "w1-0720").by("w1").at("07:21"));

        assertThat(Round.of(row("12").round(), acts).ties()).isEmpty();
    }

    @Test
    void doesNotChangeWithTheListItWasMadeOf() {
        List<Act> acts = new ArrayList<>(Arrays.asList(row("12").pegged(14).at("17:10")));
        Round round = Round.of(row("12").round(), acts);

        acts.add(row("12").pegged(9).at("17:12"));

        assertThat(round.tally().pegged()).isEqualTo(14);
    }
}
