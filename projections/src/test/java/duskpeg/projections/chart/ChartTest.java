package duskpeg.projections.chart;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import duskpeg.projections.chart.Stack.Amounts;
import duskpeg.projections.chart.Stack.Bar;
import duskpeg.projections.chart.Stack.Part;
import java.time.LocalDate;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Places reckoned by hand: shares of a scale in hundredths of the width. */
class ChartTest {

    private static final LocalDate DAY = LocalDate.of(2026, 2, 20);

    @Test
    void partsOfABarAddUp() {
        Stack stack = Stack.of(
                "s",
                "said",
                List.of("in", "out", "lost"),
                List.of(new Amounts("A", List.of(30.0, 0.0, 10.0)), new Amounts("B", List.of(5.0, 0.0, 0.0))));

        assertThat(stack.bars()).extracting(Bar::label).containsExactly("A", "B");
        assertThat(stack.bars().get(0).parts())
                .containsExactly(new Part("full", "0.00%", "75.00%"), new Part("dots", "75.00%", "25.00%"));
        assertThat(stack.bars().get(1).parts()).containsExactly(new Part("full", "0.00%", "12.50%"));
        // Only what is drawn is in the key.
        assertThat(stack.keys()).extracting(Stack.Key::label).containsExactly("in", "lost");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Stack.of("s", "", List.of("in"), List.of(new Amounts("A", List.of(0.0)))));
    }

    @ParameterizedTest
    @CsvSource({"46, 60, 20", "100, 100, 50", "1.487, 1.5, 0.5", "0.2, 0.2, 0.05", "7, 8, 2"})
    void aScaleReachesOverAllAndHasRoundSteps(double value, double most, double step) {
        Axis axis = Axis.reaching(value);

        assertThat(axis.most()).isBetween(most - 1e-9, most + 1e-9);
        assertThat(axis.step()).isBetween(step - 1e-9, step + 1e-9);
    }

    @Test
    void aLimitIsOnTheScaleToo() {
        Ranges ranges =
                Ranges.of("r", "said", "%", List.of(new Ranges.Between("one", 10, 15, 20)), 75.0, "at least 75%");

        assertThat(ranges.limit()).isEqualTo(new Mark("at least 75%", "93.75%"));
        assertThat(ranges.lines().get(0).middle()).isEqualTo("18.75%");
        assertThat(ranges.marks()).extracting(Mark::label).containsExactly("0", "20", "40", "60", "80%");
    }

    @Test
    void readingsStandByTheirDays() {
        Track track = Track.of(
                "t",
                "said",
                List.of(
                        new Track.Reading(DAY, 12, "12%"),
                        new Track.Reading(DAY.plusDays(1), 8, "8%"),
                        new Track.Reading(DAY.plusDays(8), 6, "6%")),
                6.0,
                "at most 6%");

        assertThat(track.dots()).extracting(Track.Dot::x).containsExactly("8.00%", "18.50%", "92.00%");
        // The highest is a quarter below the top, 6 of 12 half of the rest lower; the box is 84 of 100 high.
        assertThat(track.dots()).extracting(Track.Dot::y).containsExactly("21.00%", "42.00%", "52.50%");
        assertThat(track.limit()).isEqualTo("52.50%");
        // The second day is too near the first for a mark of its own.
        assertThat(track.days()).extracting(Mark::label).containsExactly("20 Feb", "28 Feb");
    }
}
