package duskpeg.projections.board;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.day.Duty;
import duskpeg.core.farm.FarmId;
import java.time.LocalTime;
import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Hours are invented. */
class MovesTest {

    @ParameterizedTest
    @CsvSource({
        // It is to come, half over, over, runs past the limit; and the limit is past.
        "07:30, 08:00, 08:30, 0.5",
        "08:15, 08:00, 08:30, 0.25",
        "09:00, 08:00, 08:30, 0",
        "09:00, 09:45, 10:30, 0.25",
        "10:15, 10:00, 10:30, 0.25",
    })
    void ofABreakCountsWhatLiesBetweenNowAndTheLimit(LocalTime now, LocalTime from, LocalTime until, double hours) {
        Duty duty = new Duty(new WorkerId(new FarmId("hill"), "w1"), from, until, List.of());

        assertThat(Moves.hoursOfBreak(duty, now, LocalTime.of(10, 0))).isEqualTo(hours);
    }
}
