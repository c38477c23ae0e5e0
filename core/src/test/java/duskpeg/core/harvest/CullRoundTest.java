package duskpeg.core.harvest;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.farm.Place;
import duskpeg.core.published.Change;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CullRoundTest {

    private static final LocalDate TIED = LocalDate.of(2026, 1, 10);

    private final Published published = Published.shipped();

    @Test
    void theIntervalsAreOurs() {
        assertThat(published.rows(Table.CULLING))
                .allSatisfy(row -> assertThat(row.cited()).contains("no source"));
    }

    @Test
    void theFirstRoundIsCountedFromTheFirstTiedMorning() {
        CullRound round = CullRound.next(TIED, null, published);

        assertThat(round.kind()).isEqualTo(CullRound.Kind.FIRST);
        assertThat(round.on(LocalDate.of(2026, 1, 16)))
                .isEqualTo(new CullRound.Standing(false, 1, "First round on 2026-01-17, in 1 day."));
        assertThat(round.on(LocalDate.of(2026, 1, 17)))
                .isEqualTo(new CullRound.Standing(true, 0, "First round due today."));
        assertThat(round.on(LocalDate.of(2026, 1, 20)))
                .isEqualTo(new CullRound.Standing(true, -3, "First round due since 2026-01-17, 3 days ago."));
    }

    @Test
    void theNextIsCountedFromTheLastByTheFarmsOwnDays() {
        Published own = published.with(
                new Change(Table.CULLING, "repeat", "4", "own rule", "2026", new WorkerId(new FarmId("hill"), "w8")));
        Row shipped = published.get(Table.CULLING, "repeat");

        CullRound round = CullRound.next(TIED, LocalDate.of(2026, 1, 18), own);

        assertThat(shipped.value()).isNotEqualTo("4");
        assertThat(round.kind()).isEqualTo(CullRound.Kind.REPEAT);
        assertThat(round.due()).isEqualTo(LocalDate.of(2026, 1, 22));
    }

    @ParameterizedTest
    @CsvSource({
        "-26.05, 2026-06-30, 2025, 2025-07-01, 2026-06-30, 2025/26",
        "-26.05, 2026-07-01, 2026, 2026-07-01, 2027-06-30, 2026/27",
        "51.5, 2026-01-01, 2026, 2026-01-01, 2026-12-31, 2026",
        "51.5, 2026-12-31, 2026, 2026-01-01, 2026-12-31, 2026"
    })
    void aSeasonIsWholeOnBothSidesOfTheEquator(
            double latitude, LocalDate day, int year, LocalDate from, LocalDate to, String label) {
        FarmSettings settings =
                new FarmSettings(ZoneId.of("UTC"), LocalTime.of(9, 0), LocalTime.of(10, 0), 6, new Place(latitude, 20));

        Season season = Season.of(settings, day);

        assertThat(season).isEqualTo(new Season(year, from, to)).isEqualTo(Season.of(settings, year));
        assertThat(season.label()).isEqualTo(label);
        assertThat(season.has(day)).isTrue();
        assertThat(season.has(from.minusDays(1)) || season.has(to.plusDays(1))).isFalse();
    }
}
