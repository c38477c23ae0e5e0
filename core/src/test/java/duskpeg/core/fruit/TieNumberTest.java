package duskpeg.core.fruit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class TieNumberTest {

    @ParameterizedTest
    @ValueSource(strings = {"0000", "4711", "004711", "999999999"})
    void hasFourToNineDigits(String digits) {
        assertThat(new TieNumber(digits).digits()).isEqualTo(digits);
        assertThat(new TieNumber(digits)).hasToString(digits);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {"", "471", "1234567890", "47 11", "+4711", "-4711", "4711\n", "4711a", "\u0664\u0667\u0661\u0661"
            })
    void anythingElseIsNoTie(String digits) {
        assertThatIllegalArgumentException().isThrownBy(() -> new TieNumber(digits));
    }

    @Test
    void leadingZerosCount() {
        assertThat(new TieNumber("004711")).isNotEqualTo(new TieNumber("4711"));
    }

    @ParameterizedTest
    @CsvSource({"4711, 6, 004711", "0, 4, 0000", "999999999, 9, 999999999", "1, 9, 000000001"})
    void isPaddedToTheFarmsWidth(long value, int width, String digits) {
        assertThat(TieNumber.of(value, width)).isEqualTo(new TieNumber(digits));
    }

    @Test
    void readsItsValueForCounting() {
        assertThat(new TieNumber("004711").value()).isEqualTo(4711);
    }

    @Test
    void isOrderedAlongTheStrip() {
        assertThat(new TieNumber("004711"))
                .isLessThan(new TieNumber("004712"))
                .isGreaterThan(new TieNumber("000999"))
                .isEqualByComparingTo(new TieNumber("004711"));
    }
}
