package duskpeg.core.forecast;

import static duskpeg.core.Farm.MORNING;
import static duskpeg.core.Farm.SETTINGS;
import static duskpeg.core.Farm.at;
import static duskpeg.core.Farm.row;
import static duskpeg.core.Farm.worker;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;
import static org.assertj.core.api.Assertions.within;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.forecast.Forecast.Finish;
import duskpeg.core.forecast.Forecast.Progress;
import duskpeg.core.planting.RowId;
import duskpeg.core.round.Round;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** Hours, counts and paces are invented. How well forecasts fit is measured by a benchmark: docs/benchmarks.md. */
class ForecasterTest {

    private static final long SEED = 7;
    private static final Duration START = Duration.ofHours(4);

    /** What everybody said, in rows 11 to 14. */
    private final List<Act> said = new ArrayList<>();

    /** Rows that nobody may enter, and until when. */
    private Map<RowId, Instant> closed = Map.of();

    private ForecasterTest say(Act... acts) {
        said.addAll(List.of(acts));
        return this;
    }

    private ForecasterTest say(List<Act> acts) {
        said.addAll(acts);
        return this;
    }

    /** A batch every so many minutes, from one clock time to another. */
    private ForecasterTest works(String who, String row, int batch, int minutes, String from, String until) {
        for (Instant time = at(from); !time.isAfter(at(until)); time = time.plus(Duration.ofMinutes(minutes))) {
            say(row(row).worked(batch).by(who).at(clock(time)));
        }
        return this;
    }

    private static String clock(Instant time) {
        return String.format(Locale.ROOT, "%tH:%<tM", time.atZone(SETTINGS.zone()));
    }

    private Forecaster forecaster(String now, String... crew) {
        return Forecaster.of(
                new Morning(
                        MORNING,
                        Stream.of("11", "12", "13", "14")
                                .map(row -> Round.of(row(row).round(), said))
                                .toList()),
                List.of(),
                Arrays.stream(crew).map(worker -> worker(worker)).toList(),
                closed,
                SETTINGS,
                START,
                at(now),
                SEED);
    }

    private Forecast forecast(String now, String... crew) {
        return forecaster(now, crew).forecast();
    }

    private static Finish whole(Forecast forecast) {
        return Optional.ofNullable(forecast.whole()).orElseThrow();
    }

    private static Finish finish(Forecast forecast, String row) {
        return forecast.row(id(row)).orElseThrow().finish();
    }

    private static RowId id(String row) {
        return row(row).id();
    }

    private static Instant p50(Finish finish) {
        return Optional.ofNullable(finish.p50()).orElseThrow();
    }

    private static Duration width(Finish finish) {
        return Duration.between(
                Optional.ofNullable(finish.p10()).orElseThrow(),
                Optional.ofNullable(finish.p90()).orElseThrow());
    }

    @Test
    void progressGoesFromWhatIsTiedToAllOfItAndAgreesWithTheTimesOfFinishing() {
        say(row("12").pegged(40).at("18:00"));
        works("w1", "12", 4, 15, "06:00", "07:00");
        Forecaster forecaster = forecaster("07:05", "w1");
        List<Instant> times = new ArrayList<>();
        for (Instant time = at("07:05"); times.size() < 60; time = time.plus(Duration.ofMinutes(5))) {
            times.add(time);
        }

        List<Progress> progress = forecaster.progress(times, Map.of());

        assertThat(progress).extracting(Progress::at).isEqualTo(times);
        assertThat(progress.get(0).low()).isBetween(20.0, 26.0);
        for (int index = 0; index < progress.size(); index++) {
            Progress one = progress.get(index);
            assertThat(one.low()).isLessThanOrEqualTo(one.middle());
            assertThat(one.middle()).isLessThanOrEqualTo(one.high());
            assertThat(one.high()).isLessThanOrEqualTo(40 + 1e-9);
            if (index > 0) {
                assertThat(one.low())
                        .isGreaterThanOrEqualTo(progress.get(index - 1).low());
            }
        }
        Finish whole = whole(forecaster.forecast());
        for (Progress one : progress) {
            if (one.at().isAfter(p50(whole))) {
                assertThat(one.middle()).isCloseTo(40, within(1e-6));
            } else if (one.at().isBefore(Optional.ofNullable(whole.p10()).orElseThrow())) {
                assertThat(one.middle()).isLessThan(40 - 1e-6);
            }
        }
    }

    @Test
    void whereNothingIsPeggedThereIsNothingToForecast() {
        Forecast forecast = forecast("05:00", "w1");

        assertThat(forecast.whole()).isNull();
        assertThat(forecast.rows()).isEmpty();
    }

    @Test
    void beforeAnyReportThereIsAWideGuess() {
        say(row("12").pegged(100).at("17:10"));

        Finish finish = whole(forecast("05:00", "w1", "w2"));

        assertThat(finish.byLimit()).isBetween(0.02, 0.98);
        assertThat(width(finish)).isGreaterThan(Duration.ofMinutes(45));
    }

    @Test
    void withoutAnybodyItIsNeverFinished() {
        say(row("12").pegged(10).at("17:10"));

        Finish finish = whole(forecast("05:00"));

        assertThat(finish.p10()).isNull();
        assertThat(finish.byLimit()).isZero();
    }

    @Test
    void goesOnAtThePaceThatWasReported() {
        // 24 flowers an hour: 6 every 15 minutes from 06:00 to 07:30 are 42, so 18 of 60 are left: 45 minutes.
        say(row("12").pegged(60).at("17:10")).works("w1", "12", 6, 15, "06:00", "07:30");

        Forecast forecast = forecast("07:30", "w1");

        assertThat(p50(finish(forecast, "12"))).isCloseTo(at("08:15"), within(10, ChronoUnit.MINUTES));
        assertThat(whole(forecast)).isEqualTo(finish(forecast, "12"));
        assertThat(forecast.row(id("12")).orElseThrow().flowersAnHour()).isBetween(20.0, 28.0);
        assertThat(forecast.row(id("12")).orElseThrow().reports()).isEqualTo(7);
        assertThat(forecast.row(id("12")).orElseThrow().workers()).containsExactly(worker("w1"));
    }

    @Test
    void moreReportsMakeItSurer() {
        say(row("12").pegged(90).at("17:10")).works("w1", "12", 6, 15, "06:00", "06:15");
        Duration early = width(whole(forecast("06:15", "w1")));
        works("w1", "12", 6, 15, "06:30", "08:00");

        assertThat(width(whole(forecast("08:00", "w1")))).isLessThan(early);
        assertThat(forecast("08:00", "w1").hands().get(0).paceSpread()).isBetween(0.1, 0.4);
    }

    @Test
    void whatIsFinishedWasFinishedAtItsLastReport() {
        say(row("12").pegged(12).at("17:10")).works("w1", "12", 6, 15, "06:00", "06:15");
        say(row("13").pegged(4).at("17:10"));
        say(row("13").worked(4).by("w2").at("10:05"));

        Forecast forecast = forecast("10:30", "w1", "w2");

        assertThat(finish(forecast, "12")).isEqualTo(new Finish(at("06:15"), at("06:15"), at("06:15"), 1, 1, 1));
        assertThat(finish(forecast, "13")).isEqualTo(new Finish(at("10:05"), at("10:05"), at("10:05"), 1, 0, 0));
        assertThat(p50(whole(forecast))).isEqualTo(at("10:05"));
    }

    @Test
    void aRowThatIsSaidToBeFinishedNeedsNoMoreWork() {
        say(row("12").pegged(14).at("17:10")).works("w1", "12", 6, 15, "06:00", "06:15");
        say(row("12").finished().by("w1").at("06:20"));

        Forecast forecast = forecast("06:30", "w1");

        assertThat(forecast.row(id("12")).orElseThrow().left()).isEqualTo(2);
        assertThat(finish(forecast, "12")).isEqualTo(new Finish(at("06:20"), at("06:20"), at("06:20"), 1, 1, 1));
    }

    @Test
    void whatWasNotHeardIsRarelyDone() {
        // 24 flowers an hour, 2 left at 07:30: 5 minutes' work, and she used to say so at once.
        say(row("12").pegged(44).at("17:10")).works("w1", "12", 6, 15, "06:00", "07:30");

        for (String now : List.of("07:31", "07:45", "08:00")) {
            Finish finish = finish(forecast(now, "w1", "w2", "w3", "w4"), "12");
            assertThat(finish.byNow()).as(now).isLessThan(0.5);
            assertThat(p50(finish)).as(now).isAfter(at(now));
        }
        assertThat(finish(forecast("07:45", "w1"), "12").byNow()).isGreaterThan(0.02);
    }

    @Test
    void whatWasSprayedIsNotWorkedUntilItMayBeEntered() {
        say(row("12").pegged(12).at("17:10"), row("13").pegged(6).at("17:10"));
        works("w1", "12", 6, 15, "06:00", "06:00");
        Instant before = p50(finish(forecast("06:05", "w1"), "12"));

        closed = Map.of(id("13"), at("08:30"));
        assertThat(p50(finish(forecast("06:05", "w1"), "12"))).isBefore(at("06:45"));
        assertThat(p50(finish(forecast("06:05", "w1"), "13"))).isBetween(at("08:31"), at("09:30"));

        closed = Map.of(id("12"), at("10:30"), id("13"), at("10:30"));
        Finish finish = finish(forecast("06:05", "w1"), "12");
        assertThat(finish.byLimit()).isZero();
        assertThat(finish.p10()).isAfter(at("10:30"));
        assertThat(before).isBefore(at("07:00"));
    }

    @Test
    void lostFlowersNeedNoWork() {
        say(row("12").pegged(60).at("17:10")).works("w1", "12", 6, 15, "06:00", "07:00");
        Instant with = p50(whole(forecast("07:00", "w1")));

        assertThat(p50(whole(say(row("12").lost(15).by("w1").at("07:00")).forecast("07:00", "w1"))))
                .isBefore(with);
    }

    @Test
    void aFarmThatOnlyReportsTiesIsUnderstoodTheSame() {
        say(row("12").pegged(60).at("17:10")).works("w1", "12", 6, 15, "06:00", "07:15");
        Finish all = whole(forecast("07:15", "w1"));
        said.removeIf(act -> act.deed().ofTheVisit() && act.deed() != Deed.TIED);

        assertThat(whole(forecast("07:15", "w1"))).isEqualTo(all);
    }

    @Test
    void theOrderInWhichReportsAreHeardDoesNotMatter() {
        say(row("12").pegged(60).at("17:10")).works("w1", "12", 6, 15, "06:00", "07:15");
        say(row("13").pegged(30).at("17:10")).works("w2", "13", 3, 10, "06:00", "07:00");
        Forecast before = forecast("07:20", "w1", "w2");
        Collections.reverse(said);

        assertThat(forecast("07:20", "w1", "w2")).isEqualTo(before);
    }

    @Test
    void whoHasBeenSilentForLongHasProbablyLeft() {
        say(row("12").pegged(90).at("17:10")).works("w1", "12", 6, 15, "06:00", "07:00");
        say(row("13").pegged(90).at("17:10")).works("w2", "13", 6, 15, "06:00", "09:00");

        Forecast forecast = forecast("09:00", "w1", "w2");

        assertThat(forecast.hands())
                .extracting(Forecast.Hand::worker, hand -> hand.here() > 0.5)
                .containsExactly(tuple(worker("w1"), false), tuple(worker("w2"), true));
        assertThat(forecast.row(id("12")).orElseThrow().workers()).isEmpty();
        assertThat(finish(forecast, "13").byLimit())
                .isGreaterThan(finish(forecast, "12").byLimit());
    }

    @Test
    void whoLeftDidNotGoOnInSilence() {
        // Half an hour's work was left at 07:00, two hours ago, and she used to report every quarter of an hour.
        say(row("12").pegged(42).at("17:10")).works("w1", "12", 6, 15, "06:00", "07:00");

        assertThat(forecast("09:00", "w1").row(id("12")).orElseThrow().finish().byLimit())
                .isLessThan(0.5);
    }

    @Test
    void aStopOfAllIsNotTakenForSlowness() {
        // 24 flowers an hour each, but for 45 minutes of rain, after which one batch was reported.
        say(row("12").pegged(99).at("17:10"), row("13").pegged(99).at("17:10"));
        works("w1", "12", 6, 15, "06:00", "07:00").works("w1", "12", 6, 15, "08:00", "08:00");
        works("w2", "13", 6, 15, "06:05", "07:05").works("w2", "13", 6, 15, "08:05", "08:05");

        assertThat(forecast("08:06", "w1", "w2").hands())
                .allSatisfy(hand -> assertThat(hand.flowersAnHour()).isBetween(20.0, 30.0));
    }

    @Test
    void textsInOneBreathTellOfTheWorkBeforeThem() {
        // 24 flowers in the hour from 06:00 to 07:00, told in four texts at once when her phone was back.
        say(row("12").pegged(99).at("17:10")).say(row("12").worked(6).by("w1").at("06:00"));
        for (int text = 1; text <= 4; text++) {
            for (Deed deed : List.of(Deed.OPENED, Deed.POLLINATED, Deed.BAGGED, Deed.TIED)) {
                String id = "late-" + text;
                say(
                        switch (deed) {
                            case OPENED -> row("12").opened(6).by("w1").in(id).at("07:00");
                            case POLLINATED ->
                                row("12").pollinated(6).by("w1").in(id).at("07:00");
                            case BAGGED -> row("12").bagged(6).by("w1").in(id).at("07:00");
                            default -> row("12").tied(6).by("w1").in(id).at("07:00");
                        });
            }
        }

        assertThat(forecast("07:01", "w1").hands())
                .singleElement()
                .satisfies(hand -> assertThat(hand.flowersAnHour()).isBetween(22.0, 30.0));
    }

    @Test
    void aMoveHelpsTheRowItGoesToAndNotTheOneItLeaves() {
        say(row("12").pegged(80).at("17:10"), row("13").pegged(60).at("17:10"));
        works("w1", "12", 6, 15, "06:00", "07:00").works("w2", "13", 6, 15, "06:00", "07:00");
        Forecaster forecaster = forecaster("07:00", "w1", "w2");
        Forecast stay = forecaster.forecast();

        Forecast moved = forecaster.forecast(Map.of(worker("w2"), id("12")));

        assertThat(p50(finish(moved, "12"))).isBefore(p50(finish(stay, "12")));
        assertThat(p50(finish(moved, "13"))).isAfter(p50(finish(stay, "13")));
        assertThat(moved.row(id("12")).orElseThrow().workers()).containsExactly(worker("w1"), worker("w2"));
        assertThat(forecaster.forecast()).isEqualTo(stay);
    }

    @Test
    void aMoveToARowWithNothingPeggedIsNone() {
        say(row("12").pegged(80).at("17:10")).works("w1", "12", 6, 15, "06:00", "07:00");
        Forecaster forecaster = forecaster("07:00", "w1");

        assertThat(forecaster.forecast(Map.of(worker("w1"), id("14")))).isEqualTo(forecaster.forecast());
    }

    @Test
    void anEarlierMorningTellsTheCrewsPace() {
        say(row("12").pegged(60).at("17:10")).works("w1", "12", 6, 10, "05:30", "07:00");
        Morning earlier = new Morning(MORNING, List.of(Round.of(row("12").round(), said)));
        Act pegged = row("12").pegged(60).at("17:10");
        Forecast forecast = Forecaster.of(
                        new Morning(MORNING, List.of(Round.of(row("12").round(), List.of(pegged)))),
                        List.of(earlier, earlier, earlier),
                        List.<WorkerId>of(worker("w1")),
                        Map.of(),
                        SETTINGS,
                        START,
                        at("05:00"),
                        SEED)
                .forecast();

        // 36 flowers an hour; nothing is said of today.
        assertThat(forecast.hands()).singleElement().satisfies(hand -> {
            assertThat(hand.flowersAnHour()).isBetween(31.0, 37.0);
            assertThat(hand.reports()).isZero();
            assertThat(hand.earlier()).isEqualTo(30);
        });
    }

    @Test
    void learnsWhatPartOfTheWorkEachDeedIs() {
        // A flower takes 1 minute to open, 3 to pollinate, 1 to bag and 1 to tie.
        List<Stretch> stretches = new ArrayList<>();
        for (int turn = 0; turn < 40; turn++) {
            for (Deed deed : List.of(Deed.OPENED, Deed.POLLINATED, Deed.BAGGED, Deed.TIED)) {
                double minutes = deed == Deed.POLLINATED ? 30 : 10;
                stretches.add(
                        new Stretch(worker("w1"), id("12"), at("07:00"), minutes / 60, Flowers.NONE.plus(deed, 10)));
            }
        }

        Flowers shares = Shares.learn(stretches).of();

        assertThat(shares.opened()).isCloseTo(1 / 6.0, within(0.02));
        assertThat(shares.pollinated()).isCloseTo(3 / 6.0, within(0.02));
        assertThat(shares.sum()).isCloseTo(1, within(1e-9));
    }

    @Test
    void quantilesAreThoseOfTheTables() {
        // Standard normal, tables in any textbook: 1.2816 at 90%, 0 at 50%.
        assertThat(Quantiles.NORMAL.at(0.9)).isCloseTo(1.2816, within(0.01));
        assertThat(Quantiles.NORMAL.at(0.5)).isCloseTo(0, within(1e-9));
        // Gamma with shape 1 and mean 1 is the exponential: its median is ln 2.
        assertThat(Quantiles.gamma(1).at(0.5)).isCloseTo(Math.log(2), within(0.01));
    }

    @Test
    void theDiceAreFair() {
        Dice dice = new Dice(SEED);
        int[] tenths = new int[10];
        for (int draw = 0; draw < 10_000; draw++) {
            tenths[(int) (10 * dice.at(draw, 3))]++;
        }
        // Chi-squared with 9 degrees of freedom: 27.88 is exceeded once in 1,000 times (tables in any textbook).
        double chiSquared = Arrays.stream(tenths)
                .mapToDouble(count -> (count - 1000) * (count - 1000) / 1000.0)
                .sum();
        assertThat(chiSquared).isLessThan(27.88);
        assertThat(dice.at(4, 3)).isEqualTo(new Dice(SEED).at(4, 3)).isNotEqualTo(new Dice(SEED + 1).at(4, 3));
    }
}
