package duskpeg.core.watch;

import static duskpeg.core.Farm.HILL;
import static duskpeg.core.Farm.MORNING;
import static duskpeg.core.Farm.SETTINGS;
import static duskpeg.core.Farm.at;
import static duskpeg.core.Farm.noStrips;
import static duskpeg.core.Farm.row;
import static duskpeg.core.Farm.worker;
import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.act.Act;
import duskpeg.core.forecast.Forecast;
import duskpeg.core.forecast.Forecaster;
import duskpeg.core.forecast.Morning;
import duskpeg.core.plan.Plan;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.planting.Species;
import duskpeg.core.round.Round;
import duskpeg.core.watch.Alert.Kind;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

class WatchTest {

    private final List<Act> acts = new ArrayList<>();

    private Morning morning(Instant now) {
        List<Act> heard =
                acts.stream().filter(act -> !act.told().heard().isAfter(now)).toList();
        return new Morning(
                MORNING,
                Stream.of("12", "13")
                        .map(label -> Round.of(row(label).round(), heard))
                        .toList());
    }

    private List<String> alerts(String clock) {
        Instant now = at(clock);
        Forecast forecast = Forecaster.of(
                        morning(now),
                        List.of(),
                        List.of(worker("w1"), worker("w2")),
                        Map.of(),
                        SETTINGS,
                        Forecaster.START_BEFORE_TARGET,
                        now,
                        1)
                .forecast();
        return Watch.morning(morning(now), forecast, SETTINGS, at("05:00"), now).stream()
                .map(alert -> (alert.kind().word() + " " + alert.about()).strip())
                .toList();
    }

    private void pegged() {
        acts.add(row("12").pegged(14).males(28).by("w1").at("17:10"));
        acts.add(row("13").pegged(60).males(120).by("w2").at("17:20"));
    }

    @Test
    void nothingPeggedIsNothingToTell() {
        assertThat(alerts("06:00")).isEmpty();
        assertThat(alerts("10:30")).isEmpty();
    }

    @Test
    void nobodyWorriesBeforeTheWorkCanHaveBegun() {
        pegged();

        assertThat(alerts("04:30")).isEmpty();
        assertThat(alerts("05:29")).isEmpty();
    }

    @Test
    void thatNobodyStartedIsToldAloneAndNotRowByRow() {
        pegged();

        assertThat(alerts("05:30")).containsExactly("nobody-started");
    }

    @Test
    void aRowThatWillMissIsToldAndOneThatWillNotIsNot() {
        pegged();
        acts.addAll(row("12").worked(6).by("w1").at("06:00"));
        acts.addAll(row("12").worked(7).by("w1").at("07:20"));
        acts.addAll(row("13").worked(2).by("w2").at("06:20"));
        acts.addAll(row("13").worked(2).by("w2").at("07:10"));

        assertThat(alerts("07:30")).contains("row-at-risk 13").doesNotContain("row-at-risk 12");
    }

    @Test
    void aRowFromWhichNobodyIsHeardIsSilent() {
        pegged();
        acts.addAll(row("12").worked(6).by("w1").at("06:00"));
        acts.addAll(row("13").worked(30).by("w2").at("06:40"));

        assertThat(alerts("06:44")).doesNotContain("row-silent 12", "row-silent 13");
        assertThat(alerts("06:45")).contains("row-silent 12").doesNotContain("row-silent 13");
    }

    @Test
    void aFinishedRowIsNeitherAtRiskNorSilent() {
        pegged();
        acts.addAll(row("12").worked(13).by("w1").at("06:00"));
        acts.add(row("12").finished().by("w1").at("06:01"));
        acts.addAll(row("13").worked(60).by("w2").at("06:40"));

        assertThat(alerts("09:30")).isEmpty();
    }

    @Test
    void pastTheLimitOpenFlowersAreToldOnceForTheMorning() {
        pegged();
        acts.addAll(row("12").worked(6).by("w1").at("06:00"));

        assertThat(alerts("10:00")).containsExactly("cut-off-passed");
        assertThat(alerts("11:59")).containsExactly("cut-off-passed");
    }

    @Test
    void malesThatAreShortAreToldWhenThePeggingIsOver() {
        acts.add(row("12").pegged(14).males(20).by("w1").at("17:10"));

        assertThat(evening("17:39")).isEmpty();
        assertThat(evening("17:40")).containsExactly(new Alert(Kind.MALES_SHORT, "Greycap Nine", "Greycap Nine 8"));
    }

    private List<Alert> evening(String clock) {
        Instant now = at(clock);
        Planting planting = new Planting(
                "Dam side", "Greycap Nine", Species.MAXIMA, List.of(new Planting.Row(new RowId(HILL, "12"), 40)));
        return Watch.evening(
                Plan.of(MORNING, morning(now).rounds(), List.of(planting), SETTINGS, noStrips()), morning(now), now);
    }
}
