package duskpeg.core.csv;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import duskpeg.core.csv.Import.Problem;
import duskpeg.core.csv.Import.Refused;
import duskpeg.core.csv.Import.Taken;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class CsvTest {

    /** What a row of {@code day,weight} says. */
    private static Import<String> read(String text) {
        return Csv.read(text, columns -> {
            Csv.wants(columns, List.of("day", "weight"));
            return line -> line.date("day") + " " + line.number("weight");
        });
    }

    @Test
    void takesEveryRow() {
        assertThat(read("day,weight\n2026-01-15,1.50\r\n\n 2026-01-16 , \" 2\"\n"))
                .isEqualTo(new Taken<>(List.of("2026-01-15 1.50", "2026-01-16 2")));
    }

    @Test
    void takesColumnsInAnyOrderAndNamesInAnyCase() {
        assertThat(read("Weight,DAY\n1,2026-01-15")).isEqualTo(new Taken<>(List.of("2026-01-15 1")));
    }

    @Test
    void takesWhatASpreadsheetWrites() {
        // A mark before the first letter, semicolons, and a comma in decimals.
        assertThat(read("\uFEFFday;weight\n2026-01-15;1,5\n")).isEqualTo(new Taken<>(List.of("2026-01-15 1.5")));
    }

    @Test
    void takesNothingWhereOneRowIsWrongAndSaysEveryLine() {
        assertThat(read("day,weight\n2026-01-15,1\n2026-02-30,1\n\n2026-01-17,1;5\n2026-01-18\n,4\n2026-01-20,1"))
                .isEqualTo(new Refused<>(List.of(
                        new Problem(3, "day is not a day like 2026-01-15: 2026-02-30"),
                        new Problem(5, "weight is not a number: 1;5"),
                        new Problem(6, "has 1 values where the header has 2"),
                        new Problem(7, "day is missing"))));
    }

    @ParameterizedTest
    @ValueSource(strings = {"1e3", "NaN", "1,5", "0x10", "--1", "1.", ".5", "1 000"})
    void aNumberIsPlain(String number) {
        assertThat(read("day,weight\n2026-01-15,\"" + number + "\"")).isInstanceOf(Refused.class);
    }

    @Test
    void takesNothingWithoutTheHeader() {
        assertThat(read("day,wheight\n2026-01-15,1"))
                .isEqualTo(new Refused<>(List.of(new Problem(1, "the header is day,wheight, wanted: day,weight"))));
        assertThat(read("")).isEqualTo(new Refused<>(List.of(new Problem(1, "is empty, not even a header"))));
    }

    @Test
    void takesNothingAfterAnOpenQuote() {
        Import<String> read = read("day,weight\n2026-01-15,1\n2026-01-16,\"2\n2026-01-17,3\n");

        assertThat(read)
                .isEqualTo(new Refused<>(List.of(new Problem(3, "can't be read from here on: a quote is wrong"))));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> read.orThrow("weights.csv"))
                .withMessage("weights.csv line 3: can't be read from here on: a quote is wrong");
    }
}
