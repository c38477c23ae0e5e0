package duskpeg.core.fruit;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class CheckDigitTest {

    /** Source of the first: the worked example that is published with Damm's table. The second: its other examples. */
    @ParameterizedTest
    @CsvSource({"572, 4", "11294, 6"})
    void isAsPublished(String digits, char check) {
        assertThat(CheckDigit.of(digits)).isEqualTo(check);
        assertThat(CheckDigit.isRight(digits + check)).isTrue();
    }

    @Test
    void aPublishedWrongNumberIsWrong() {
        assertThat(CheckDigit.isRight("5727")).isFalse();
    }

    /** Damm's theorem, tried on every number of four digits and its check digit. */
    @Test
    void everyWrongDigitIsFound() {
        List<String> missed = new ArrayList<>();
        numbers().forEach(number -> {
            for (int place = 0; place < number.length(); place++) {
                for (char digit = '0'; digit <= '9'; digit++) {
                    StringBuilder wrong = new StringBuilder(number);
                    wrong.setCharAt(place, digit);
                    if (digit != number.charAt(place) && CheckDigit.isRight(wrong.toString())) {
                        missed.add(number + " as " + wrong);
                    }
                }
            }
        });

        assertThat(missed).isEmpty();
    }

    @Test
    void everySwapOfNeighboursIsFound() {
        List<String> missed = new ArrayList<>();
        numbers().forEach(number -> {
            for (int place = 0; place + 1 < number.length(); place++) {
                StringBuilder wrong = new StringBuilder(number);
                wrong.setCharAt(place, number.charAt(place + 1));
                wrong.setCharAt(place + 1, number.charAt(place));
                if (!wrong.toString().equals(number) && CheckDigit.isRight(wrong.toString())) {
                    missed.add(number + " as " + wrong);
                }
            }
        });

        assertThat(missed).isEmpty();
    }

    @ParameterizedTest
    @ValueSource(strings = {"572", "0572", "00572", "000000572"})
    void leadingZerosAreNotSeenSoNumbersKeepTheirWidth(String digits) {
        assertThat(CheckDigit.of(digits)).isEqualTo('4');
    }

    private static List<String> numbers() {
        return IntStream.range(0, 10_000)
                .mapToObj(number -> String.format(Locale.ROOT, "%04d", number))
                .map(payload -> payload + CheckDigit.of(payload))
                .toList();
    }
}
