package duskpeg.messaging.reply;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** How answers sound. */
class SpeechTest {

    private static String english(String written) {
        return new Speech(Phrases.load("en")).of(written);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "tied 004711-004716. | tied 0 0 4 7 1 1 to 0 0 4 7 1 6.",
                "Culled 1: 4702. | Culled 1: 4 7 0 2.",
                "Harvested 3: 004700-004701 004703. | Harvested 3: 0 0 4 7 0 0 to 0 0 4 7 0 1 0 0 4 7 0 3.",
                "Row 12: 6 opened. | Row 12: 6 opened.",
                "Next tie 004706. | Next tie 0 0 4 7 0 6."
            })
    void tiesAreSaidDigitByDigit(String written, String spoken) {
        assertThat(english(written)).isEqualTo(spoken);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "3h20 to 10:00. | 3 hours 20 minutes to 10:00.",
                "1h01 to 10:00. | 1 hour 1 minute to 10:00.",
                "0h52 to 10:00. | 52 minutes to 10:00."
            })
    void timeIsSaidInFull(String written, String spoken) {
        assertThat(english(written)).isEqualTo(spoken);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "8 left. CHECK: 9 opened, 8 pegged. | 8 left. Check: 9 opened, 8 pegged.",
                "NOT NOTED: no row 31. | Not noted: no row 31.",
                "Row 1: 2 pegged. MALES: 2 for 2. | Row 1: 2 pegged. Males: 2 for 2.",
                "+3 more noted. CHECK the board. | +3 more noted. Check the board."
            })
    void nothingIsShouted(String written, String spoken) {
        assertThat(english(written)).isEqualTo(spoken);
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "$1 \\2 {0}", "é ñ", "-", "12-13", "1h", "h20"})
    void whatIsNothingOfThatStays(String written) {
        assertThat(english(written)).isEqualTo(written);
    }

    @Test
    void theWordBetweenIsOfTheLanguage() {
        assertThat(new Speech(Phrases.load("af")).of("gebind 004711-004716. 3h20 tot 10:00."))
                .isEqualTo("gebind 0 0 4 7 1 1 tot 0 0 4 7 1 6. 3 uur 20 minute tot 10:00.");
    }
}
