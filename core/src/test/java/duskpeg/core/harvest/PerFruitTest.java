package duskpeg.core.harvest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.data.Offset.offset;

import duskpeg.core.harvest.PerFruit.Gave;
import duskpeg.core.harvest.PerFruit.Interval;
import duskpeg.core.harvest.PerFruit.Kept;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

class PerFruitTest {

    @Test
    void ofFewLotsNothingIsSaid() {
        assertThat(PerFruit.of(List.of())).isEmpty();
        assertThat(PerFruit.of(List.of(new Gave(6, 120), new Gave(5, 90)))).isEmpty();
    }

    /**
     * Lots of one fruit are a plain sample. NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.2 (from memory): 195
     * values with mean 9.261460 and standard deviation 0.022789 give 9.258242 to 9.264679.
     */
    @Test
    void lotsOfOneFruitAreAPlainSample() {
        double mean = 9.261460;
        double deviation = 0.022789;
        List<Gave> lots = new ArrayList<>(List.of(new Gave(1, mean)));
        for (int pair = 0; pair < 97; pair++) {
            lots.add(new Gave(1, mean + deviation));
            lots.add(new Gave(1, mean - deviation));
        }

        Interval interval = PerFruit.of(lots).orElseThrow().interval();

        assertThat(interval.low()).isCloseTo(9.258242, offset(2e-6));
        assertThat(interval.high()).isCloseTo(9.264679, offset(2e-6));
    }

    /**
     * Four lots by hand. 10, 20, 30 and 40 fruit gave 210, 380, 600 and 810 g: 2000 g of 100 fruit, 20 g each. Off by 10,
     * -20, 0 and 10; squared over the fruit 10, 20, 0 and 2.5: 32.5 over three degrees of freedom, 10.8333. Student's t for
     * three is 3.18245 (any table), so the mean is uncertain by 3.18245 * sqrt(10.8333 / 100) = 1.04747, and fifty further
     * fruit by 3.18245 * sqrt(10.8333 * (50 + 2500 / 100)) = 90.714.
     */
    @Test
    void lotsOfManyFruitAreWeighted() {
        PerFruit learnt = PerFruit.of(
                        List.of(new Gave(10, 210), new Gave(20, 380), new Gave(30, 600), new Gave(40, 810)))
                .orElseThrow();

        assertThat(learnt.interval().middle()).isCloseTo(20, offset(1e-12));
        assertThat(learnt.interval().high() - 20).isCloseTo(1.04747, offset(1e-4));
        assertThat(learnt.forecast(50).middle()).isCloseTo(1000, offset(1e-9));
        assertThat(1000 - learnt.forecast(50).low()).isCloseTo(90.714, offset(5e-3));
        assertThat(learnt.forecast(0)).isEqualTo(new Interval(0, 0, 0));
    }

    /** Where fruit are as is assumed, the intervals hold what they are for 95 times in 100. */
    @Test
    void anIntervalHoldsWhatItIsFor() {
        Random random = new Random(20260825);
        int[] sizes = {3, 8, 2, 12, 6};
        int times = 4000;
        int held = 0;
        int foretold = 0;
        for (int time = 0; time < times; time++) {
            List<Gave> lots = new ArrayList<>();
            for (int size : sizes) {
                lots.add(new Gave(size, gives(size, random)));
            }
            PerFruit learnt = PerFruit.of(lots).orElseThrow();
            held += holds(learnt.interval(), 50);
            foretold += holds(learnt.forecast(20), gives(20, random));
        }
        // Three standard errors of a share of 0.95 in 4000.
        assertThat(held / (double) times).isCloseTo(0.95, offset(0.0104));
        assertThat(foretold / (double) times).isCloseTo(0.95, offset(0.0104));
    }

    /**
     * By hand, of the four lots above, spread 10.8333 squared and 20 g a fruit: 39 of 40 earlier ties came in. Of 50, the
     * beta-binomial with 39.5 and 1.5 expects 48.1707, with a variance of 50 * 39.5 * 1.5 * 91 / (41^2 * 42) = 3.81841. So
     * 963.41 g, with a variance of 10.8333 * (48.1707 + (48.1707^2 + 3.81841) / 100) + 400 * 3.81841 = 2301.00: 3.18245 *
     * 47.9688 = 152.66 to both sides.
     */
    @Test
    void notEveryTieComesIn() {
        PerFruit learnt = PerFruit.of(
                        List.of(new Gave(10, 210), new Gave(20, 380), new Gave(30, 600), new Gave(40, 810)))
                .orElseThrow();

        Interval forecast = learnt.forecast(50, new Kept(40, 39));
        assertThat(forecast.middle()).isCloseTo(963.415, offset(1e-3));
        assertThat(forecast.high() - forecast.middle()).isCloseTo(152.66, offset(0.05));
        assertThat(learnt.forecast(0, new Kept(40, 39))).isEqualTo(new Interval(0, 0, 0));
        // Of very many that all came in it is as if all did.
        assertThat(learnt.forecast(50, new Kept(100_000_000, 100_000_000)).high())
                .isCloseTo(learnt.forecast(50).high(), offset(1e-3));
        // Clopper-Pearson, two-sided, facts of the grow-out turned round: 1 of 400 is at most 1.3850%.
        assertThat(new Kept(400, 399).percent().low()).isCloseTo(100 - 1.3850, offset(1e-3));
        assertThatIllegalArgumentException().isThrownBy(() -> new Kept(3, 4));
    }

    /** Where ties come in and fruit give as is assumed, the forecast holds what comes 95 times in 100 at least. */
    @Test
    void aForecastOfTiesHoldsWhatItIsFor() {
        Random random = new Random(20261126);
        int[] sizes = {3, 8, 2, 12, 6};
        int times = 4000;
        int held = 0;
        for (int time = 0; time < times; time++) {
            List<Gave> lots = new ArrayList<>();
            for (int size : sizes) {
                lots.add(new Gave(size, gives(size, random)));
            }
            double share = 0.7 + 0.3 * random.nextDouble();
            Kept kept = new Kept(40, comeIn(40, share, random));
            held += holds(PerFruit.of(lots).orElseThrow().forecast(30, kept), gives(comeIn(30, share, random), random));
        }
        assertThat(held / (double) times).isBetween(0.94, 0.995);
    }

    private static int comeIn(int ties, double share, Random random) {
        int in = 0;
        for (int tie = 0; tie < ties; tie++) {
            in += random.nextDouble() < share ? 1 : 0;
        }
        return in;
    }

    private static double gives(int fruit, Random random) {
        double sum = 0;
        for (int one = 0; one < fruit; one++) {
            sum += 50 + 8 * random.nextGaussian();
        }
        return sum;
    }

    private static int holds(Interval interval, double value) {
        return interval.low() <= value && value <= interval.high() ? 1 : 0;
    }

    @Test
    void nothingIsNoLot() {
        assertThatIllegalArgumentException().isThrownBy(() -> new Gave(0, 5));
        assertThatIllegalArgumentException().isThrownBy(() -> new Gave(5, 0));
        assertThatIllegalArgumentException().isThrownBy(() -> new Gave(5, Double.NaN));
    }
}
