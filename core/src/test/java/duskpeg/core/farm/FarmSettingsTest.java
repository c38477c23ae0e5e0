package duskpeg.core.farm;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Target 09:00 and limit 10:00 are common practice, no source; clock changes are those of the IANA time zones. */
class FarmSettingsTest {

    private static final LocalTime NINE = LocalTime.of(9, 0);
    private static final LocalTime TEN = LocalTime.of(10, 0);

    private static FarmSettings in(String zone) {
        return new FarmSettings(ZoneId.of(zone), NINE, TEN, 6);
    }

    @ParameterizedTest
    @CsvSource({
        // An ordinary summer day: BST is UTC+1.
        "Europe/London, 2026-08-15, 2026-08-15T08:00:00Z, 2026-08-15T09:00:00Z",
        // The day before the clocks go forward, and the day itself: the same hours by the clock, one hour sooner.
        "Europe/London, 2026-03-28, 2026-03-28T09:00:00Z, 2026-03-28T10:00:00Z",
        "Europe/London, 2026-03-29, 2026-03-29T08:00:00Z, 2026-03-29T09:00:00Z",
        // The clocks go back.
        "Europe/London, 2026-10-25, 2026-10-25T09:00:00Z, 2026-10-25T10:00:00Z",
        "America/New_York, 2026-03-08, 2026-03-08T13:00:00Z, 2026-03-08T14:00:00Z",
        "America/New_York, 2026-11-01, 2026-11-01T14:00:00Z, 2026-11-01T15:00:00Z",
        // Half an hour off, and no summer time.
        "Asia/Kolkata, 2026-08-15, 2026-08-15T03:30:00Z, 2026-08-15T04:30:00Z"
    })
    void hoursAreHoursOfTheFarmsClock(String zone, LocalDate morning, Instant target, Instant limit) {
        assertThat(in(zone).targetOn(morning)).isEqualTo(target);
        assertThat(in(zone).limitOn(morning)).isEqualTo(limit);
    }

    @ParameterizedTest
    @CsvSource({
        // Pegged in the late afternoon: opens next morning.
        "Europe/London, 2026-08-14T16:10:00Z, 2026-08-15",
        // 12:00 on the farm belongs to the afternoon; a moment before does not.
        "Europe/London, 2026-08-14T11:00:00Z, 2026-08-15",
        "Europe/London, 2026-08-14T10:59:59.999Z, 2026-08-14",
        // A late word after midnight is still of the morning that comes.
        "Europe/London, 2026-08-14T23:30:00Z, 2026-08-15",
        // The evening before the clocks go forward, in a night that lasts 23 hours; and around its noon.
        "Europe/London, 2026-03-28T17:10:00Z, 2026-03-29",
        "Europe/London, 2026-03-29T10:59:59.999Z, 2026-03-29",
        "Europe/London, 2026-03-29T11:00:00Z, 2026-03-30",
        // The clocks go back: noon is at 12:00 UTC again.
        "Europe/London, 2026-10-25T11:59:59.999Z, 2026-10-25",
        "Europe/London, 2026-10-25T12:00:00Z, 2026-10-26",
        "America/New_York, 2026-03-08T15:59:59.999Z, 2026-03-08",
        "America/New_York, 2026-03-08T16:00:00Z, 2026-03-09",
        "America/New_York, 2026-11-01T16:59:59.999Z, 2026-11-01",
        "America/New_York, 2026-11-01T17:00:00Z, 2026-11-02",
        // 20:00 in New York is the next day in UTC, but the flower opens on the farm's morning.
        "America/New_York, 2026-08-15T00:00:00Z, 2026-08-15"
    })
    void whatIsPeggedFromNoonOnOpensNextMorning(String zone, Instant pegged, LocalDate opens) {
        assertThat(in(zone).openingOfPeggedAt(pegged)).isEqualTo(opens);
    }

    @Test
    void noonItselfIsAfternoon() {
        assertThat(in("Europe/London").afternoonAt(Instant.parse("2026-08-15T11:00:00Z")))
                .isTrue();
    }

    @Test
    void theMomentBeforeNoonIsMorning() {
        assertThat(in("Europe/London").afternoonAt(Instant.parse("2026-08-15T10:59:59.999999999Z")))
                .isFalse();
    }

    @Test
    void midnightIsMorning() {
        assertThat(in("Europe/London").afternoonAt(Instant.parse("2026-08-14T23:00:00Z")))
                .isFalse();
    }

    @Test
    void theDateIsTheFarmsDate() {
        assertThat(in("America/New_York").dateAt(Instant.parse("2026-08-15T03:59:59Z")))
                .isEqualTo(LocalDate.of(2026, 8, 14));
    }

    @Test
    void targetAndLimitMayBeOne() {
        FarmSettings settings = new FarmSettings(ZoneId.of("UTC"), TEN, TEN, 6);

        assertThat(settings).isEqualTo(new FarmSettings(ZoneId.of("UTC"), TEN, TEN, 6));
        assertThat(settings.target()).isEqualTo(settings.limit());
    }

    @Test
    void theTargetDoesNotComeAfterTheLimit() {
        assertThatIllegalArgumentException().isThrownBy(() -> new FarmSettings(ZoneId.of("UTC"), TEN, NINE, 6));
    }

    @Test
    void theLimitIsBeforeNoon() {
        // What is done from noon on is of the next round, so a limit at noon could never be kept.
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new FarmSettings(ZoneId.of("UTC"), NINE, LocalTime.NOON, 6));
        assertThat(new FarmSettings(ZoneId.of("UTC"), NINE, LocalTime.of(11, 59), 6).limit())
                .isEqualTo(LocalTime.of(11, 59));
    }

    @ParameterizedTest
    @ValueSource(ints = {3, 10, 0, -1})
    void tiesHaveFourToNineDigits(int width) {
        assertThatIllegalArgumentException().isThrownBy(() -> new FarmSettings(ZoneId.of("UTC"), NINE, TEN, width));
    }

    @ParameterizedTest
    @ValueSource(ints = {4, 6, 9})
    void keepsTheWidthOfItsTies(int width) {
        assertThat(new FarmSettings(ZoneId.of("UTC"), NINE, TEN, width).tieWidth())
                .isEqualTo(width);
    }
}
