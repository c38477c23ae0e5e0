package duskpeg.projections.board;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.forecast.Forecast;
import duskpeg.core.forecast.Forecast.Finish;
import duskpeg.projections.board.ForecastView.FinishView;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

/** Times are invented. */
class ForecastViewTest {

    private static final LocalDate MORNING = LocalDate.of(2026, 11, 26);
    private static final FarmSettings SETTINGS =
            new FarmSettings(ZoneOffset.UTC, LocalTime.of(9, 0), LocalTime.of(10, 0), 6);

    private static FinishView at0730(@Nullable String p10, @Nullable String p50, @Nullable String p90, double byNow) {
        Finish finish = new Finish(at(p10), at(p50), at(p90), byNow, 0.9, 0.95);
        FinishView whole = ForecastView.of(
                        new FarmId("hill"),
                        new Forecast(
                                MORNING, MORNING.atTime(7, 30).toInstant(ZoneOffset.UTC), finish, List.of(), List.of()),
                        SETTINGS)
                .whole();
        assertThat(whole).isNotNull();
        return whole;
    }

    private static @Nullable Instant at(@Nullable String clock) {
        return clock == null ? null : MORNING.atTime(LocalTime.parse(clock)).toInstant(ZoneOffset.UTC);
    }

    @Test
    void timesToComeAreNamed() {
        FinishView finish = at0730("08:10", "08:40", "09:20", 0);

        assertThat(finish.isProbablyDone()).isFalse();
        assertThat(finish.getAbout()).isEqualTo("08:40");
        assertThat(finish.getRange()).isEqualTo("08:10–09:20");
    }

    @Test
    void timesThatHavePassedAreNot() {
        assertThat(at0730("07:10", "07:40", "08:00", 0.3).getRange()).isEqualTo("now–08:00");
        FinishView done = at0730("06:56", "07:04", "07:50", 0.71);
        assertThat(done.isProbablyDone()).isTrue();
        assertThat(done.getNowChance()).isEqualTo("71%");
        assertThat(done.getRange()).isEqualTo("now–07:50");
        assertThat(at0730("06:56", "07:04", "07:25", 0.93).getRange()).isEqualTo("by now");
    }

    @Test
    void whatIsNotInSightIsSaidToBe() {
        FinishView finish = at0730("09:30", null, null, 0);

        assertThat(finish.isProbablyDone()).isFalse();
        assertThat(finish.getAbout()).isEqualTo("not in sight");
        assertThat(finish.getRange()).isEqualTo("09:30–?");
    }
}
