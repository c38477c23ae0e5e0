package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/** Lives through {@code docs/first-morning.md} line by line, so that it can't go stale. */
@OnBothEngines
class FirstMorningTest {

    private static final Path PAGE = Path.of("..", "docs", "first-morning.md");
    private static final Pattern TIME = Pattern.compile("### (\\d{4}-\\d\\d-\\d\\d) (\\d\\d:\\d\\d)");
    private static final Pattern TEXT = Pattern.compile("\\*\\*(\\w+)\\*\\* texts `(.*)`");
    private static final Pattern ANSWER = Pattern.compile("> (.*)");
    private static final Pattern BOARD = Pattern.compile("- Board (\\S+), row (\\d+): `(.*)`");
    private static final Pattern FRUIT = Pattern.compile("- Fruit (\\d+): `(.*)`");

    private int texts;
    private int checks;

    @Test
    void everyTextIsAnsweredAsThePageSays() throws IOException {
        try (TestFarm farm = new TestFarm(Engine.asked())) {
            List<String> lines = Files.readAllLines(PAGE);
            for (int i = 0; i < lines.size(); i++) {
                follow(farm, lines.get(i), i + 1 < lines.size() ? lines.get(i + 1) : "");
            }
        }
        assertThat(texts).isGreaterThan(10);
        assertThat(checks).isGreaterThan(5);
    }

    private void follow(TestFarm farm, String line, String next) {
        Matcher time = TIME.matcher(line);
        Matcher text = TEXT.matcher(line);
        Matcher board = BOARD.matcher(line);
        Matcher fruit = FRUIT.matcher(line);
        if (time.matches()) {
            farm.at(time.group(1) + "T" + time.group(2) + ":00+02:00");
        } else if (text.matches()) {
            Matcher answer = ANSWER.matcher(next);
            assertThat(answer.matches()).as("an answer to: " + line).isTrue();
            assertThat(farm.text(text.group(1), text.group(2).replace('⏎', '\n')))
                    .as(line)
                    .isEqualTo(answer.group(1));
            texts++;
        } else if (board.matches()) {
            assertThat(farm.counts(board.group(1), board.group(2))).as(line).isEqualTo(board.group(3));
            checks++;
        } else if (fruit.matches()) {
            assertThat(told(farm.fruit(fruit.group(1)))).as(line).isEqualTo(fruit.group(2));
            checks++;
        }
    }

    private static String told(JsonNode fruit) {
        StringBuilder told = new StringBuilder(fruit.get("state").asText()).append(';');
        for (JsonNode act : fruit.get("acts")) {
            told.append(' ')
                    .append(act.get("act").asText())
                    .append(act.get("grade").asText().equals("fruit") ? " of this fruit," : " of its row,");
        }
        return told.substring(0, told.length() - 1);
    }
}
