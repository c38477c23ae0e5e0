package duskpeg.core.fruit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

class NumberingTest {

    @ParameterizedTest
    @CsvSource({
        "PLAIN, 004799, 1, 004800",
        "PLAIN, 004711, 0, 004711",
        "PLAIN, 004711, -1, 004710",
        // 572 has the check digit 4, as published.
        "CHECKED, 005724, 0, 005724",
        "CHECKED, 005724, 1, 005735",
        "CHECKED, 005735, -1, 005724",
        "CHECKED, 00000, 1, 00013"
    })
    void countsAlongTheStripInItsOwnWidth(Numbering numbering, String from, int steps, String to) {
        assertThat(numbering.after(new TieNumber(from), steps)).isEqualTo(new TieNumber(to));
    }

    @ParameterizedTest
    @EnumSource
    void everyNumberItMakesIsItsOwn(Numbering numbering) {
        TieNumber tie = numbering.of(9_000, 6);
        for (int steps = 0; steps < 999; steps++) {
            TieNumber next = numbering.after(tie, steps);
            assertThat(numbering.has(next)).isTrue();
            assertThat(numbering.serial(next)).isEqualTo(9_000 + steps);
            assertThat(next).isGreaterThanOrEqualTo(tie);
        }
    }

    @Test
    void aNumberWithAWrongCheckDigitIsNoPrintedTag() {
        assertThat(Numbering.CHECKED.has(new TieNumber("005727"))).isFalse();
        assertThat(Numbering.PLAIN.has(new TieNumber("005727"))).isTrue();
    }

    @ParameterizedTest
    @CsvSource({"PLAIN, 999999999, 1", "PLAIN, 9999, 1", "PLAIN, 0000, -1", "CHECKED, 0000, -1"})
    void nothingComesAfterTheLastNumberOrBeforeTheFirst(Numbering numbering, String from, int steps) {
        assertThatIllegalArgumentException().isThrownBy(() -> numbering.after(new TieNumber(from), steps));
    }

    @ParameterizedTest
    @CsvSource({"PLAIN, 10000", "CHECKED, 1000"})
    void aNumberThatIsTooLongForItsWidthIsRefused(Numbering numbering, long serial) {
        assertThatIllegalArgumentException().isThrownBy(() -> numbering.of(serial, 4));
    }
}
