package duskpeg.core.crew;

import static duskpeg.core.Farm.stripOf;
import static duskpeg.core.Farm.ties;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import duskpeg.core.fruit.Numbering;
import duskpeg.core.fruit.TieNumber;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class StripTest {

    /** Tags 572, 573 and 574, with their check digits. */
    private static final Strip PRINTED = new Strip(new TieNumber("005724"), new TieNumber("005743"), Numbering.CHECKED);

    @Test
    void holdsEveryNumberFromFirstToLast() {
        assertThat(stripOf("004798", "004801").ties())
                .containsExactlyElementsOf(ties("004798", "004799", "004800", "004801"));
        assertThat(stripOf("004798", "004801").size()).isEqualTo(4);
    }

    @Test
    void aPrintedStripHoldsATagForEverySerial() {
        assertThat(PRINTED.ties()).containsExactlyElementsOf(ties("005724", "005735", "005743"));
        assertThat(PRINTED.size()).isEqualTo(3);
    }

    @Test
    void canBeOfOneTie() {
        assertThat(stripOf("004711", "004711").ties()).containsExactly(new TieNumber("004711"));
    }

    @Test
    void canEndOnTheLastNumberThereIs() {
        assertThat(stripOf("999999998", "999999999").ties()).containsExactlyElementsOf(ties("999999998", "999999999"));
    }

    @Test
    void doesNotFall() {
        assertThatIllegalArgumentException().isThrownBy(() -> stripOf("004712", "004711"));
    }

    @Test
    void hasTiesOfOneWidth() {
        assertThatIllegalArgumentException().isThrownBy(() -> stripOf("4711", "004712"));
    }

    @ParameterizedTest
    @CsvSource({"005727, 005743", "005724, 005744"})
    void aPrintedStripHasRightCheckDigits(String first, String last) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Strip(new TieNumber(first), new TieNumber(last), Numbering.CHECKED));
    }

    @ParameterizedTest
    @CsvSource({
        "005724, true, true",
        "005735, true, true",
        "005736, false, true",
        "005720, false, true",
        "005749, false, true",
        "005719, false, false",
        "005750, false, false",
        "57350, false, false"
    })
    void aNumberOnAPrintedStripIsOneOfItsTagsOnlyWithItsCheckDigit(String number, boolean has, boolean spans) {
        assertThat(PRINTED.has(new TieNumber(number))).isEqualTo(has);
        assertThat(PRINTED.spans(new TieNumber(number))).isEqualTo(spans);
    }

    @ParameterizedTest
    @CsvSource({
        "005700, 005719, false",
        "005700, 005720, true",
        "005730, 005731, true",
        "005749, 005749, true",
        "005750, 005799, false"
    })
    void overlapsWhereANumberCouldBeOfBoth(String first, String last, boolean overlaps) {
        assertThat(PRINTED.overlaps(stripOf(first, last))).isEqualTo(overlaps);
        assertThat(stripOf(first, last).overlaps(PRINTED)).isEqualTo(overlaps);
    }

    @Test
    void isWrittenAsPeopleWriteIt() {
        assertThat(stripOf("004700", "004749")).hasToString("004700-004749");
        assertThat(stripOf("004711", "004711")).hasToString("004711");
    }
}
