package duskpeg.core.forecast;

import static duskpeg.core.Farm.at;
import static duskpeg.core.Farm.row;
import static duskpeg.core.Farm.worker;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import duskpeg.core.forecast.Going.After;
import duskpeg.core.forecast.Going.Evidence;
import duskpeg.core.forecast.Going.Start;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** Paces and hours are invented. */
class GoingTest {

    private static final List<Start> STARTS = Going.starts(at("05:15"), at("09:00"));
    private static final double ALIKE = 16;

    /** A batch of 6 flowers every so many minutes. */
    private static List<Stretch> works(String from, String until, int minutes) {
        List<Stretch> stretches = new ArrayList<>();
        Duration each = Duration.ofMinutes(minutes);
        for (Instant end = at(from).plus(each); !end.isAfter(at(until)); end = end.plus(each)) {
            stretches.add(new Stretch(worker("w1"), row("12").id(), end, minutes / 60.0, new Flowers(6, 6, 6, 6)));
        }
        return stretches;
    }

    /** What is made of it where she usually does 24 flowers an hour. */
    private static Going going(List<Stretch> stretches, double shape, double slowStart) {
        List<After> after = STARTS.stream()
                .map(start -> new After(
                        stretches.stream()
                                .mapToDouble(one -> one.hours() * start.effective(one))
                                .sum(),
                        stretches.stream()
                                .mapToDouble(one -> 6 * Math.log(start.effective(one)))
                                .sum()))
                .toList();
        return Going.of(STARTS, List.of(new Evidence(24, shape, 6.0 * stretches.size(), after)), ALIKE, slowStart);
    }

    private static double slow(Going going) {
        return 1 - going.chance(0);
    }

    private static List<Stretch> both(List<Stretch> first, List<Stretch> then) {
        List<Stretch> both = new ArrayList<>(first);
        both.addAll(then);
        return both;
    }

    @Test
    void withoutSlowStartsItIsTheGammaPoissonOfTheTextbooks() {
        // Her own pace known for sure, Poisson counts with a gamma rate: Gamma(a + n, a + expected), any textbook of
        // Bayesian statistics. 16 + 60 flowers over 16 + 48 expected in two hours: 1.19, give or take 0.14.
        Going going = going(works("05:15", "07:15", 12), 1e9, 1e-12);

        double[] factors = IntStream.range(0, 1000)
                .mapToDouble(draw -> going.at((draw + 0.5) / 1000).factor())
                .toArray();
        double mean =
                IntStream.range(0, 1000).mapToDouble(n -> factors[n]).average().orElseThrow();
        double square = IntStream.range(0, 1000)
                .mapToDouble(n -> (factors[n] - mean) * (factors[n] - mean))
                .average()
                .orElseThrow();
        assertThat(mean).isCloseTo(76.0 / 64, within(0.005));
        assertThat(going.factor(0)).isCloseTo(76.0 / 64, within(0.005));
        assertThat(Math.sqrt(square)).isCloseTo(Math.sqrt(76) / 64, within(0.005));
        assertThat(going.spreadAt(at("07:15"))).isCloseTo(1 / Math.sqrt(76), within(0.005));
    }

    @Test
    void chancesAddUpAndNothingIsLearntFromNothing() {
        Going going = going(List.of(), 20, 0.4);

        assertThat(slow(going)).isCloseTo(0.4, within(1e-9));
        assertThat(IntStream.range(0, STARTS.size()).mapToDouble(going::chance).sum())
                .isCloseTo(1, within(1e-9));
    }

    @Test
    void aSlowHourMayBeASlowMorningOrASlowStart() {
        Going going = going(works("05:15", "06:30", 25), 20, 0.4);

        assertThat(slow(going)).isBetween(0.4, 0.9);
        // Whichever it is: half as fast as usual, or a bit more, as one hour says little.
        double now = IntStream.range(0, STARTS.size())
                .mapToDouble(
                        s -> going.chance(s) * going.factor(s) * STARTS.get(s).paceAt(at("06:30")))
                .sum();
        assertThat(now).isBetween(0.55, 0.85);
    }

    @Test
    void whenAllBecomeQuickerAtOnceItWasASlowStart() {
        Going going = going(both(works("05:15", "06:30", 25), works("06:30", "08:30", 12)), 20, 0.4);

        assertThat(slow(going)).isGreaterThan(0.75);
        assertThat(going.effective(works("05:20", "05:45", 25).get(0))).isBetween(0.5, 0.75);
        assertThat(going.effective(works("08:00", "08:12", 12).get(0))).isGreaterThan(0.95);
    }

    @Test
    void anEvenMorningWasNone() {
        Going going = going(works("05:15", "08:30", 15), 20, 0.4);

        assertThat(slow(going)).isLessThan(0.3);
        assertThat(going.effective(works("05:20", "05:35", 15).get(0))).isGreaterThan(0.9);
    }

    @Test
    void startsMendByTheTarget() {
        assertThat(STARTS.get(0).pace()).isEqualTo(1);
        assertThat(STARTS).allSatisfy(start -> assertThat(start.until()).isBetween(at("05:15"), at("09:00")));
        // Of half an hour, half before it mends: 15 minutes, and 15 at 0.5, which are 7.5 of the later ones.
        Stretch half = new Stretch(worker("w1"), row("12").id(), at("06:45"), 0.5, Flowers.NONE);
        assertThat(new Start(0.5, at("06:30")).effective(half)).isCloseTo(0.75, within(1e-9));
    }
}
