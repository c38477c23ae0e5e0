package duskpeg.core.maturity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.data.Offset.offset;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DegreeDaysTest {

    private static final double BASE = 10;
    private static final double UPPER = 32;

    @ParameterizedTest
    @CsvSource({
        // Computed independently; single sine after Baskerville & Emin 1969 [method from memory].
        "28, 14, 11, 11, 11, 11",
        "35, 20, 17.5, 16, 17.5, 16.918",
        "22, 6, 4, 6, 4.872, 4.872",
        "40, 25, 22.5, 18.5, 22.5, 19.857",
        "9, 2, 0, 0, 0, 0"
    })
    void fourWaysToReckonADay(
            double highest, double lowest, double simple, double clipped, double sine, double cutOff) {
        assertThat(DegreeDays.SIMPLE.of(highest, lowest, BASE, UPPER)).isCloseTo(simple, offset(0.001));
        assertThat(DegreeDays.CLIPPED.of(highest, lowest, BASE, UPPER)).isCloseTo(clipped, offset(0.001));
        assertThat(DegreeDays.SINE.of(highest, lowest, BASE, UPPER)).isCloseTo(sine, offset(0.001));
        assertThat(DegreeDays.SINE_CUT_OFF.of(highest, lowest, BASE, UPPER)).isCloseTo(cutOff, offset(0.001));
    }

    @ParameterizedTest
    @CsvSource({
        "28, 14",
        "35, 20",
        "22, 6",
        "40, 25",
        "9, 2",
        "40, 2",
        "33, 31",
        "30, 10.5",
        "50, 40",
        "32, 10",
        "10, 10",
        "32, 32",
        "10.001, -20",
        "36, 9.999",
        "-3, -9"
    })
    void sinesAreTheAreaUnderTheCurve(double highest, double lowest) {
        // The mean over a day of what counts, taken at the middles of a million parts of it.
        int parts = 1_000_000;
        double over = 0;
        double cut = 0;
        for (int i = 0; i < parts; i++) {
            double now = (highest + lowest) / 2 + (highest - lowest) / 2 * Math.sin(2 * Math.PI * (i + 0.5) / parts);
            over += Math.max(0, now - BASE);
            cut += Math.max(0, Math.min(now, UPPER) - BASE);
        }
        assertThat(DegreeDays.SINE.of(highest, lowest, BASE, UPPER)).isCloseTo(over / parts, offset(1e-6));
        assertThat(DegreeDays.SINE_CUT_OFF.of(highest, lowest, BASE, UPPER)).isCloseTo(cut / parts, offset(1e-6));
    }

    @Test
    void whatCantBeIsRefused() {
        for (DegreeDays how : DegreeDays.values()) {
            assertThatIllegalArgumentException().isThrownBy(() -> how.of(10, 11, BASE, UPPER));
            assertThatIllegalArgumentException().isThrownBy(() -> how.of(20, 11, 33, 32));
            assertThatIllegalArgumentException().isThrownBy(() -> how.of(Double.NaN, 11, BASE, UPPER));
        }
    }
}
