package duskpeg.projections;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What is drawn is read back by ZXing, as a phone would. */
class QrTest {

    @ParameterizedTest
    @ValueSource(strings = {"900003", "000000017", "https://seed.example/fruit/900003"})
    void isReadBack(String content) {
        Qr qr = Qr.of(content);

        assertThat(QrReading.read(qr.size(), qr.path())).isEqualTo(content);
    }

    @Test
    void hasFourLightModulesAround() {
        // ISO/IEC 18004, 6.3.8 (from memory): a quiet zone of four modules. Version 1 has 21.
        Qr qr = Qr.of("900003");

        assertThat(qr.size()).isEqualTo(21 + 2 * 4);
        assertThat(qr.path()).startsWith("M4 4h7v1h-7z");
    }

    @Test
    void whatIsTooLongIsRefused() {
        assertThatIllegalArgumentException().isThrownBy(() -> Qr.of("9".repeat(10_000)));
    }
}
