package duskpeg.core.report;

import static duskpeg.core.Farm.row;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import duskpeg.core.Farm;
import duskpeg.core.act.Deed;
import duskpeg.core.act.Told;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.report.Statement.NextOnStrip;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Clock changes are those of the IANA time zones. */
class DoneTest {

    private static final Statement WORKED = flowers(Deed.OPENED);
    private static final Statement PEGGED = flowers(Deed.PEGGED);

    private static Statement flowers(Deed deed) {
        return new Statement.OnFlowers(row("12").id(), Set.of(deed), 6, null, new NextOnStrip(null));
    }

    private static FarmSettings in(String zone) {
        return new FarmSettings(ZoneId.of(zone), LocalTime.of(9, 0), LocalTime.of(10, 0), 6);
    }

    private static Instant at(String zone, When said, Statement what, Instant heard) {
        return Done.of(said, what, heard, in(zone)).at();
    }

    @Test
    void whatSaysNothingOfItsTimeIsDoneWhenItIsHeard() {
        Instant heard = Instant.parse("2026-08-15T05:10:30Z");

        assertThat(Done.of(new When.Now(), WORKED, heard, Farm.SETTINGS)).isEqualTo(new Done(new When.Now(), heard));
    }

    @ParameterizedTest
    @CsvSource({
        // BST is UTC+1: the same morning, and the minute that just began.
        "Europe/London, 2026-08-15T12:00:00Z, 07:45, 2026-08-15T06:45:00Z",
        "Europe/London, 2026-08-15T12:00:00Z, 13:00, 2026-08-15T12:00:00Z",
        // Later than it is now: last evening.
        "Europe/London, 2026-08-15T05:10:00Z, 18:15, 2026-08-14T17:15:00Z",
        "Europe/London, 2026-08-15T12:00:00Z, 13:31, 2026-08-14T12:31:00Z",
        // A watch that is fast by half an hour at most.
        "Europe/London, 2026-08-15T12:00:00Z, 13:01, 2026-08-15T12:00:00Z",
        "Europe/London, 2026-08-15T12:00:00Z, 13:30, 2026-08-15T12:00:00Z",
        // Just after midnight.
        "Europe/London, 2026-08-14T23:05:00Z, 23:50, 2026-08-14T22:50:00Z",
        "Europe/London, 2026-08-14T23:05:00Z, 00:00, 2026-08-14T23:00:00Z",
        // The farm's day, not that of UTC.
        "America/New_York, 2026-08-15T00:30:00Z, 18:15, 2026-08-14T22:15:00Z",
        // The clocks go forward at 01:00 UTC: last evening is an hour nearer.
        "Europe/London, 2026-03-29T05:10:00Z, 18:15, 2026-03-28T18:15:00Z",
        // 01:30 is left out that night: it is taken for 02:30.
        "Europe/London, 2026-03-29T05:10:00Z, 01:30, 2026-03-29T01:30:00Z",
        // 01:30 comes twice when they go back: the first is taken, also when the second is still to come.
        "Europe/London, 2026-10-25T05:10:00Z, 01:30, 2026-10-25T00:30:00Z",
        "Europe/London, 2026-10-25T00:50:00Z, 01:30, 2026-10-25T00:30:00Z"
    })
    void aClockTimeIsWhenTheFarmsClockLastShowedIt(String zone, Instant heard, LocalTime clock, Instant done) {
        assertThat(at(zone, new When.At(clock), WORKED, heard)).isEqualTo(done);
    }

    @ParameterizedTest
    @CsvSource({
        "Europe/London, 2026-08-15T05:10:00Z, 18:15, 2026-08-14T17:15:00Z",
        // Earlier than it is now, but said to be of the day before.
        "Europe/London, 2026-08-15T12:00:00Z, 08:45, 2026-08-14T07:45:00Z",
        "Europe/London, 2026-08-14T23:05:00Z, 00:00, 2026-08-13T23:00:00Z"
    })
    void yesterdayIsTheFarmsDayBefore(String zone, Instant heard, LocalTime clock, Instant done) {
        assertThat(at(zone, new When.Yesterday(clock), WORKED, heard)).isEqualTo(done);
    }

    @Test
    void yesterdayAloneIsTheEveningForPegging() {
        Instant done = at("Europe/London", new When.Yesterday(null), PEGGED, Instant.parse("2026-08-15T05:10:00Z"));

        assertThat(done).isEqualTo("2026-08-14T11:00:00Z");
        assertThat(Farm.SETTINGS.openingOfPeggedAt(done)).isEqualTo(Farm.MORNING);
    }

    @Test
    void yesterdayAloneIsTheMorningForAllElseAndNotLate() {
        Instant heard = Instant.parse("2026-08-15T05:10:00Z");
        Instant limit = Farm.SETTINGS.limitOn(LocalDate.of(2026, 8, 14));

        assertThat(Stream.of(
                        WORKED,
                        flowers(Deed.LOST),
                        new Statement.OnRow(Deed.CULLED, row("12").id(), 6),
                        new Statement.OnFruit(Deed.HARVESTED, null, Farm.ties("004711"))))
                .allMatch(what -> at("Europe/London", new When.Yesterday(null), what, heard)
                        .equals(limit));
    }

    @ParameterizedTest
    @CsvSource({
        "Europe/London, 2026-08-15T05:10:30Z, PT30M, 2026-08-15T04:40:30Z",
        "Europe/London, 2026-08-15T05:10:30Z, PT48H, 2026-08-13T05:10:30Z",
        // Two hours are two hours, also over a change of the clock.
        "Europe/London, 2026-03-29T02:00:00Z, PT2H, 2026-03-29T00:00:00Z"
    })
    void timeAgoIsTimeThatPassed(String zone, Instant heard, Duration ago, Instant done) {
        assertThat(at(zone, new When.Ago(ago), WORKED, heard)).isEqualTo(done);
    }

    @ParameterizedTest
    @ValueSource(strings = {"PT0S", "PT-1M", "PT48H1S"})
    void agoIsAtMostTwoDays(Duration ago) {
        assertThatIllegalArgumentException().isThrownBy(() -> new When.Ago(ago));
    }

    @Test
    void whereTheClockLeftOutADayYesterdayIsNotToCome() {
        // Samoa went from 29 December 2011, 24:00, to 31 December, 00:00: yesterday's 18:15 never was.
        Instant heard = Instant.parse("2011-12-30T16:10:00Z");

        assertThat(at("Pacific/Apia", new When.At(LocalTime.of(18, 15)), WORKED, heard))
                .isEqualTo(heard);
    }

    @Provide
    static Arbitrary<When> whens() {
        Arbitrary<LocalTime> clocks =
                Arbitraries.integers().between(0, 24 * 60 - 1).map(minute -> LocalTime.of(minute / 60, minute % 60));
        return Arbitraries.oneOf(
                Arbitraries.just(new When.Now()),
                clocks.map(When.At::new),
                clocks.injectNull(0.2).map(When.Yesterday::new),
                Arbitraries.integers().between(1, 48 * 60).map(minutes -> new When.Ago(Duration.ofMinutes(minutes))));
    }

    /** Minutes of the years 2011 and 2026: with every change of the clock and Samoa's lost day. */
    @Provide
    static Arbitrary<Instant> moments() {
        return Arbitraries.of(2011, 2026)
                .flatMap(year -> Arbitraries.integers()
                        .between(0, 365 * 24 * 60)
                        .map(minute -> Instant.parse(year + "-01-01T00:00:00Z").plus(Duration.ofMinutes(minute))));
    }

    @Property(tries = 2000)
    void isNeverAfterItIsHeardNorLongBefore(@ForAll("whens") When said, @ForAll("moments") Instant heard) {
        for (String zone : List.of("Africa/Johannesburg", "Europe/London", "America/New_York", "Pacific/Apia")) {
            assertThat(at(zone, said, WORKED, heard))
                    .isBeforeOrEqualTo(heard)
                    .isAfterOrEqualTo(heard.minus(Duration.ofHours(49)));
        }
    }

    @Test
    void aReportTellsBothTimes() {
        Instant heard = Instant.parse("2026-08-15T12:00:00Z");
        Report.Line line = new Report.Line(2, WORKED, new When.At(LocalTime.of(7, 45)));
        Report report = new Report(Farm.worker("w1"), Farm.text("SM1"), Farm.SEAL, heard, List.of(line));

        assertThat(report.told(line, report.done(line, Farm.SETTINGS)))
                .isEqualTo(new Told(
                        Farm.worker("w1"),
                        Instant.parse("2026-08-15T06:45:00Z"),
                        heard,
                        Farm.text("SM1"),
                        2,
                        Farm.SEAL));
    }
}
