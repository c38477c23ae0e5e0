package duskpeg.messaging.carrier;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class QuietHoursTest {

    private static final String NOT_QUIET = "no";

    /**
     * In New York clocks are put forward at 02:00 on 2026-03-08 and back at 02:00 on 2026-11-01 (IANA time zone
     * database, America/New_York).
     */
    @ParameterizedTest
    @CsvSource({
        // An ordinary night.
        "20:00-04:00, 2026-07-01T19:59:59-04:00, no",
        "20:00-04:00, 2026-07-01T20:00:00-04:00, 2026-07-02T04:00:00-04:00",
        "20:00-04:00, 2026-07-02T03:59:59-04:00, 2026-07-02T04:00:00-04:00",
        "20:00-04:00, 2026-07-02T04:00:00-04:00, no",
        // Hours that do not go through midnight, and none at all.
        "12:00-14:00, 2026-07-02T13:00:00-04:00, 2026-07-02T14:00:00-04:00",
        "12:00-14:00, 2026-07-02T14:00:00-04:00, no",
        "'', 2026-07-02T00:00:00-04:00, no",
        "20:00-20:00, 2026-07-02T20:00:00-04:00, no",
        // The night is an hour shorter, and an hour longer.
        "20:00-04:00, 2026-03-07T22:00:00-05:00, 2026-03-08T04:00:00-04:00",
        "20:00-04:00, 2026-10-31T22:00:00-04:00, 2026-11-01T04:00:00-05:00",
        // The end is an hour that the clock leaves out: it is over as the clock jumps.
        "20:00-02:30, 2026-03-08T01:59:00-05:00, 2026-03-08T03:00:00-04:00",
        "20:00-02:30, 2026-03-08T03:00:00-04:00, no",
        // The end is an hour that the clock shows twice.
        "20:00-01:30, 2026-11-01T01:10:00-04:00, 2026-11-01T01:30:00-04:00",
        "20:00-01:30, 2026-11-01T01:10:00-05:00, 2026-11-01T01:30:00-05:00",
        "20:00-01:30, 2026-11-01T01:30:00-05:00, no"
    })
    void end(String hours, OffsetDateTime at, String end) {
        assertThat(QuietHours.parse(hours).endAfter(at.toInstant(), ZoneId.of("America/New_York")))
                .isEqualTo(
                        end.equals(NOT_QUIET)
                                ? Optional.empty()
                                : Optional.of(OffsetDateTime.parse(end).toInstant()));
    }

    @Test
    void spacesAreForgiven() {
        assertThat(QuietHours.parse(" 20:00-04:00 ")).isEqualTo(QuietHours.parse("20:00-04:00"));
    }

    @ParameterizedTest
    @ValueSource(strings = {"20-4", "20:00", "20:00-24:00", "from dusk", "20:00 - 04:00", "25:00-04:00"})
    void whatIsNoHoursIsRefused(String hours) {
        assertThatIllegalArgumentException().isThrownBy(() -> QuietHours.parse(hours));
    }
}
