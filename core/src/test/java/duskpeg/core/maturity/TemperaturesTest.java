package duskpeg.core.maturity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.data.Offset.offset;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.csv.Import;
import duskpeg.core.csv.Import.Problem;
import duskpeg.core.farm.FarmId;
import duskpeg.core.maturity.Temperatures.Accumulated;
import duskpeg.core.published.Change;
import duskpeg.core.published.Published;
import duskpeg.core.published.Table;
import java.time.LocalDate;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class TemperaturesTest {

    private static final LocalDate FIRST = LocalDate.of(2026, 1, 15);

    private final Published published = Published.shipped();

    private static DayTemperature day(int after, double highest, double lowest) {
        return new DayTemperature(FIRST.plusDays(after), highest, lowest);
    }

    @Test
    void readsCelsius() {
        assertThat(Temperatures.read("""
                        date,tmax_c,tmin_c
                        2026-01-15,28,14
                        2026-01-17,35.0,20.0
                        """)).isEqualTo(new Import.Taken<>(List.of(day(0, 28, 14), day(2, 35, 20))));
    }

    @Test
    void readsFahrenheit() {
        // 212 boils and 32 freezes: 5/9 of a degree each.
        assertThat(Temperatures.read("date;tmin_F;tmax_F\n2026-01-15;50;82,4\n").orThrow("x"))
                .singleElement()
                .satisfies(day -> {
                    assertThat(day.highest()).isCloseTo(28, offset(1e-9));
                    assertThat(day.lowest()).isCloseTo(10, offset(1e-9));
                });
    }

    @Test
    void takesNothingWhereOneRowIsWrong() {
        assertThat(Temperatures.read("""
                        date,tmax_c,tmin_c
                        2026-01-15,28,14
                        2026-01-16,14,28
                        2026-01-17,,20
                        2026-01-15,28,14
                        15.1.2026,28,14
                        2026-01-19,82,57
                        2026-01-20,28
                        """))
                .isEqualTo(new Import.Refused<>(List.of(
                        new Problem(3, "the lowest is over the highest"),
                        new Problem(4, "tmax_c is missing"),
                        new Problem(5, "2026-01-15 stands on line 2 already"),
                        new Problem(6, "date is not a day like 2026-01-15: 15.1.2026"),
                        new Problem(7, "no temperature of a day: 82.0 and 57.0 degrees Celsius"),
                        new Problem(8, "has 2 values where the header has 3"))));
    }

    @ParameterizedTest
    @ValueSource(strings = {"date,tmax,tmin", "date,tmax_c,tmin_f", "day,tmax_c,tmin_c", "date,tmax_c,tmin_c,rain"})
    void theHeaderSaysTheUnit(String header) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Temperatures.read(header + "\n").orThrow("weather.csv"))
                .withMessageStartingWith("weather.csv line 1: the header is " + header + ", wanted: date,tmax_");
    }

    @Test
    void addsUpFromPollination() {
        // The days of the check table, computed independently: 11 + 17.5 + 4, and 11 + 16.918 + 4.872.
        Temperatures temperatures = new Temperatures(
                List.of(day(2, 22, 6), day(0, 28, 14), day(1, 35, 20), day(3, 40, 25), day(-1, 40, 25)));

        Accumulated simple = temperatures.accumulated(FIRST, FIRST.plusDays(2), DegreeDays.SIMPLE, published);
        assertThat(simple.degreeDays()).isCloseTo(32.5, offset(0.001));
        assertThat(simple.missing()).isEmpty();
        assertThat(simple.sentence())
                .isEqualTo("32.5 degree-days Celsius in 3 days from 2026-01-15 to 2026-01-17 (simple average, base 10"
                        + " degrees Celsius (our default, no source)). How many ripe seed needs is not published.");
        assertThat(temperatures
                        .accumulated(FIRST, FIRST.plusDays(2), DegreeDays.SINE_CUT_OFF, published)
                        .degreeDays())
                .isCloseTo(32.790, offset(0.002));
    }

    @Test
    void missingDaysAreSaidAndNotGuessed() {
        Temperatures temperatures = new Temperatures(List.of(day(0, 28, 14), day(3, 28, 14)));
        Accumulated sum = temperatures.accumulated(FIRST, FIRST.plusDays(4), DegreeDays.CLIPPED, published);

        assertThat(sum.degreeDays()).isEqualTo(22);
        assertThat(sum.missing()).containsExactly(FIRST.plusDays(1), FIRST.plusDays(2), FIRST.plusDays(4));
        assertThat(sum.sentence())
                .contains("in 2 days", "Nothing is known of 3 days", "too low", "2026-01-16", "upper 32 degrees");
    }

    @Test
    void theFarmsOwnBaseIsUsed() {
        Published own = published.with(new Change(
                Table.DEGREE_DAYS, "base", "8", "own trial", "2026", new WorkerId(new FarmId("hollow"), "w1")));

        assertThat(new Temperatures(List.of(day(0, 28, 14)))
                        .accumulated(FIRST, FIRST, DegreeDays.SINE, own)
                        .degreeDays())
                .isEqualTo(13);
    }

    @Test
    void whatCantBeIsRefused() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Temperatures(List.of(day(0, 28, 14), day(0, 28, 15))));
        Temperatures none = new Temperatures(List.of());
        assertThatIllegalArgumentException()
                .isThrownBy(() -> none.accumulated(FIRST, FIRST.minusDays(1), DegreeDays.SINE, published));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> none.accumulated(FIRST, FIRST.plusDays(400), DegreeDays.SINE, published));
    }
}
