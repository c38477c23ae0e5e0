package duskpeg.messaging.language;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import duskpeg.core.farm.FarmId;
import java.time.Duration;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Assertions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class ReaderTest {

    private static final FarmId FARM = new FarmId("farm");

    private final Reader reader = new Reader(Vocabulary.load("en"));

    @Test
    void numbersLinesWithSomethingInThemAndKeepsTheirWords() {
        List<Line> lines = reader.read("\n 1 12 14 ;\r\n\r\npeg twelve", FARM, 6);

        assertThat(lines).extracting(Line::number).containsExactly(1, 2);
        assertThat(lines).extracting(Line::at).containsExactly(1, 15);
        assertThat(lines).extracting(Line::words).containsExactly(" 1 12 14 ", "peg twelve");
    }

    @Test
    void pointsIntoTheWholeText() {
        String text = "👍 1 12 14\npég Twélve 14";
        List<Line> lines = reader.read(text, FARM, 6);

        Reading.Said said = (Reading.Said) lines.get(0).reading();
        assertThat(text.substring(said.at(), said.end())).isEqualTo("1 12 14");
        Reading.Unread unread = (Reading.Unread) lines.get(1).reading();
        assertThat(unread).isEqualTo(new Reading.Unread(Problem.NOT_A_NUMBER, text.indexOf("Twélve"), "Twélve"));
    }

    @ParameterizedTest
    @ValueSource(ints = {4, 5, 6, 7, 8, 9})
    void readsTiesOfTheFarmsWidth(int width) {
        String tie = "0".repeat(width - 4) + "4711";

        assertThat(Notation.of(reader.read("9 4711", FARM, width))).isEqualTo("ask tie " + tie);
        assertThat(Notation.of(reader.read("9 " + tie, FARM, width))).isEqualTo("ask tie " + tie);
        assertThat(Notation.of(reader.read("9 0" + tie, FARM, width)))
                .isEqualTo("unread TOO_LONG at 2 \"0" + tie + "\"");
    }

    @ParameterizedTest
    @ValueSource(ints = {-1, 0, 3, 10})
    void refusesWidthsNoFarmHas(int width) {
        assertThatThrownBy(() -> reader.read("9", FARM, width)).isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void namesAtMost999Ties() {
        String most = IntStream.range(1000, 1999).mapToObj(Integer::toString).collect(Collectors.joining(" "));

        assertThat(reader.read("5 12 " + most, FARM, 4).get(0).reading()).isInstanceOf(Reading.Said.class);
        assertThat(reader.read("5 12 1000-1998", FARM, 4).get(0).reading()).isInstanceOf(Reading.Said.class);
        assertThat(Notation.of(reader.read("5 12 " + most + " 2000", FARM, 4))).startsWith("unread TOO_MUCH");
    }

    @Test
    void aShortTextDoesNotMakeAHugeReading() {
        List<Line> lines = reader.read("6 1000-1998\n".repeat(300), FARM, 4);

        assertThat(lines).hasSize(300);
        assertThat(lines.stream().filter(line -> line.reading() instanceof Reading.Said))
                .hasSize(2);
        assertThat(Notation.of(lines.get(2).reading())).startsWith("unread BAD_RANGE");
    }

    @Test
    void anEndlessTextIsReadUpToItsThreeHundredthLineAndTheNextSaysSo() {
        List<Line> lines = reader.read("\n1 12 14;".repeat(301) + "2 12 6", FARM, 6);

        assertThat(lines).hasSize(301);
        assertThat(Notation.of(lines.get(299).reading())).isEqualTo("pegged row 12: 14");
        assertThat(Notation.of(lines.get(300).reading()))
                .startsWith("unread TOO_MUCH")
                .endsWith("\"1 12 14\"");
    }

    static Stream<String> hostile() {
        int size = 100_000;
        return Stream.of(
                        "a",
                        "1",
                        "9",
                        "o",
                        "l",
                        ".",
                        "-",
                        "+",
                        ";",
                        "?",
                        "\n",
                        "\0",
                        "\uD800",
                        "\uDC00",
                        "\u0301",
                        "\u200B",
                        "\uFDFA",
                        "👍",
                        "|",
                        "1.",
                        "1..",
                        "a.1",
                        "1a",
                        "1 ",
                        "1-",
                        "tie ",
                        "peg\n",
                        "9\n",
                        "5 12 4711 ",
                        "row ",
                        "m 1 ",
                        "2+",
                        "to ",
                        "1 1 ",
                        "é",
                        "take ",
                        "@",
                        "at ",
                        "at 1:",
                        "h1",
                        "1 h ago ",
                        "yesterday ",
                        "torn ")
                .flatMap(part -> Stream.of(
                        part.repeat(size / part.length()),
                        "5 1 " + part.repeat(size / part.length()),
                        "8 1 1 at 7" + part.repeat(size / part.length()) + "30"));
    }

    @ParameterizedTest(name = "{index}")
    @MethodSource
    void hostile(String text) {
        Assertions.assertTimeout(
                Duration.ofSeconds(20),
                () -> assertThat(reader.read(text, FARM, 6)).isNotEmpty());
    }

    @Test
    void aMegabyteOfLinesThatSayNothingIsPassedOver() {
        Assertions.assertTimeout(
                Duration.ofSeconds(20),
                () -> assertThat(reader.read(" ... \n".repeat(170_000) + "1 12 14", FARM, 6))
                        .hasSize(1));
    }

    @Test
    void noCharacterInsideANumberMakesAnotherOne() {
        for (int c = 0; c <= 0x1FFFF; c++) {
            if (Signs.plain(c).matches(".*[fFmMrR].*")) {
                continue; // small words, which say what the numbers beside them are
            }
            String text = "1 12 1" + Character.toString(c) + "4";
            if (reader.read(text, FARM, 6).get(0).reading() instanceof Reading.Said said) {
                assertThat(Notation.of(said)).as(text).matches("pegged row 12: (1[0-9]?, males 4|14|1[0-9]4|1)");
            }
        }
    }
}
