package duskpeg.messaging.language;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.crew.Holding;
import duskpeg.core.crew.Holdings;
import duskpeg.core.crew.Strip;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fruit.Numbering;
import duskpeg.core.fruit.TieNumber;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** Every example of docs/field-language.md is read as it says there. */
class FieldLanguageTest {

    private static final Path PAGE = Path.of("..", "docs", "field-language.md");
    private static final Pattern ROW = Pattern.compile("\\| `(.*)` \\| (.*) \\|");
    private static final Pattern ESCAPE = Pattern.compile("\\\\u\\{([0-9A-F]+)}");

    /** The tags of the examples that have a check digit: serials 90000 to 90019. */
    static final Holdings PRINTED = new Holdings(List.of(new Holding(
            0,
            new Strip(new TieNumber("900003"), new TieNumber("900195"), Numbering.CHECKED),
            new WorkerId(new FarmId("farm"), "w1"),
            Instant.EPOCH,
            null)));

    private final Reader reader = new Reader(Vocabulary.load("en"));

    static List<Arguments> examples() throws IOException {
        String page = Files.readString(PAGE);
        return page.substring(page.indexOf("| text | is read as |"))
                .lines()
                .skip(2)
                .map(FieldLanguageTest::example)
                .toList();
    }

    private static Arguments example(String row) {
        Matcher matcher = ROW.matcher(row);
        assertThat(matcher.matches()).as(row).isTrue();
        return Arguments.of(matcher.group(1), matcher.group(2));
    }

    @ParameterizedTest
    @MethodSource("examples")
    void readsTheExample(String text, String readAs) {
        assertThat(Notation.of(reader.read(unescaped(text), new FarmId("farm"), 6, PRINTED)))
                .isEqualTo(unescaped(readAs));
    }

    @Test
    void thePageHasExamplesOfEveryProblem() throws IOException {
        String page = Files.readString(PAGE);
        assertThat(examples()).hasSizeGreaterThan(60);
        for (Problem problem : Problem.values()) {
            assertThat(page).contains("unread " + problem + " at").contains("| `" + problem + "` |");
        }
    }

    private static String unescaped(String text) {
        return ESCAPE.matcher(text.replace('⏎', '\n').replace('¦', '|'))
                .replaceAll(
                        match -> Matcher.quoteReplacement(Character.toString(Integer.parseInt(match.group(1), 16))));
    }
}
