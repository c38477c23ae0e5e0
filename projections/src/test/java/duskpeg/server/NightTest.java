package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import duskpeg.core.fieldbook.Index;
import duskpeg.projections.rebuild.Rebuild;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestMethodOrder;

/** A night and a morning on the demo farm, over HTTP, on each database engine. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
abstract class NightTest {

    private static final String EVENING = "2026-11-25T17:10:00+02:00";
    private static final String MORNING = "2026-11-26";
    private static final String DAWN = "2026-11-26T08:08:00+02:00";

    private final TestFarm farm;

    NightTest(Engine engine) {
        farm = new TestFarm(engine);
    }

    @AfterAll
    void stop() {
        farm.close();
    }

    @Test
    @Order(1)
    void whatIsPeggedAfterNoonOpensTheNextMorning() {
        farm.at(EVENING);

        assertThat(farm.text("Nomsa", "1 12 14 m 28")).isEqualTo("Row 12: 14 pegged for 26 Nov. Males 28 of 28.");

        assertThat(farm.counts(MORNING, "12"))
                .isEqualTo("pegged 14, males 28, opened 0, pollinated 0, bagged 0, tied 0, lost 0, left 14");
        assertThat(farm.questions(MORNING, "12")).isEmpty();
    }

    @Test
    @Order(2)
    void malesThatAreShortAreAskedAboutWhileThereIsStillLight() {
        // Two males for each female: common practice, no source.
        assertThat(farm.at(EVENING).text("Pieter", "peg 13 9 males 16"))
                .isEqualTo("Row 13: 9 pegged for 26 Nov. MALES: 16 for 9 females, 2 short.");

        assertThat(farm.questions(MORNING, "13")).containsExactly("males-short");
    }

    @Test
    @Order(3)
    void workDoneInOneGoTakesTheNextTiesOfTheWorkersOwnStrip() {
        assertThat(farm.at(DAWN).text("Nomsa", "2345 12 6 004705"))
                .isEqualTo("Row 12: 6 opened, pollinated, bagged, tied 004700-004705. 8 left. 1h52 to 10:00.");

        assertThat(farm.counts(MORNING, "12"))
                .isEqualTo("pegged 14, males 28, opened 6, pollinated 6, bagged 6, tied 6, lost 0, left 8");
        assertThat(farm.json("/api/farm")
                        .get("workers")
                        .get(0)
                        .get("strips")
                        .get(0)
                        .get("next")
                        .asText())
                .isEqualTo("004706");
    }

    @Test
    @Order(4)
    void aLastNumberThatDiffersIsAskedAboutAtOnceAndNoNumberIsGuessed() {
        assertThat(farm.at(DAWN).text("Nomsa", "2345 12 2 004709"))
                .contains("you read 004709, strip says 004707")
                .contains("No numbers kept");
        assertThat(farm.questions(MORNING, "12")).containsExactly("last-number-differs");

        assertThat(farm.text("Nomsa", "0")).isEqualTo("Taken back: row 12: 2 opened, pollinated, bagged, tied.");
        assertThat(farm.questions(MORNING, "12")).isEmpty();
        assertThat(farm.counts(MORNING, "12"))
                .isEqualTo("pegged 14, males 28, opened 6, pollinated 6, bagged 6, tied 6, lost 0, left 8");
    }

    @Test
    @Order(5)
    void aFruitsHistoryTellsItsOwnFactsFromItsRows() {
        JsonNode fruit = farm.fruit("004703");

        assertThat(fruit.get("tie").asText()).isEqualTo("004703");
        assertThat(fruit.get("row").asText()).isEqualTo("12");
        assertThat(fruit.get("morning").asText()).isEqualTo(MORNING);
        assertThat(fruit.get("state").asText()).isEqualTo("tied");
        assertThat(fruit.get("acts").findValuesAsText("act"))
                .containsExactly("pegged", "opened", "pollinated", "bagged", "tied");
        assertThat(fruit.get("acts").findValuesAsText("grade"))
                .containsExactly("row", "fruit", "fruit", "fruit", "fruit");
        JsonNode pegged = fruit.get("acts").get(0);
        assertThat(pegged.get("words").asText()).isEqualTo("1 12 14 m 28");
        assertThat(pegged.get("at").asText()).isEqualTo(EVENING);
        assertThat(pegged.get("heard").asText()).isEqualTo(EVENING);
        assertThat(pegged.get("worker").asText()).isEqualTo("w1");
        assertThat(pegged.get("name").asText()).isEqualTo("Nomsa");
        assertThat(fruit.get("questions")).isEmpty();
    }

    @Test
    @Order(6)
    void aTieOfAnothersStripIsKeptAndAskedAbout() {
        assertThat(farm.at(DAWN).text("Pieter", "2345 13 004700"))
                .contains("tie 004700 is from another's strip")
                .contains("tie 004700 is said to be on 2 fruit");

        assertThat(farm.questions(MORNING, "13")).contains("tie-of-another", "tie-used-twice");
        assertThat(farm.fruit("004700").get("questions").findValuesAsText("kind"))
                .contains("tie-used-twice", "tie-of-another");
        farm.text("Pieter", "0");
        assertThat(farm.fruit("004700").get("questions")).isEmpty();
    }

    @Test
    @Order(7)
    void oneBadLineNeverSpoilsTheGoodOnes() {
        assertThat(farm.at(DAWN).text("Pieter", "2 13 4\n2 99 1\nzz 13\n8 13 1"))
                .contains("NOT NOTED: no row 99")
                .contains("NOT NOTED: \"zz\"")
                .contains("Row 13: 4 opened, 1 lost, 8 left");

        assertThat(farm.counts(MORNING, "13"))
                .isEqualTo("pegged 9, males 16, opened 4, pollinated 0, bagged 0, tied 0, lost 1, left 8");
    }

    @Test
    @Order(8)
    void whatIsDoneAfterTheLimitIsKeptAndMarked() {
        assertThat(farm.at("2026-11-26T10:12:00+02:00").text("Pieter", "345 13 4"))
                .isEqualTo("Row 13: 4 pollinated, bagged, tied 004750-004753. 4 left. After 10:00: noted as late.");

        assertThat(farm.row(MORNING, "13").get("questions").findValuesAsText("text"))
                .contains("4 pollinated, bagged, tied at 10:12, after the limit 10:00");
    }

    @Test
    @Order(9)
    void theSameMessageAtOnceFromManyThreadsIsHeardOnce() throws Exception {
        farm.at(DAWN);
        String sid = TestFarm.newSid();

        Set<String> answers = new HashSet<>(atOnce(8, number -> farm.text("Lerato", "1 9 5 m 10", sid)));

        assertThat(answers).hasSize(1);
        assertThat(farm.counts(MORNING, "9"))
                .isEqualTo("pegged 5, males 10, opened 0, pollinated 0, bagged 0, tied 0, lost 0, left 5");
    }

    @Test
    @Order(10)
    void manyWorkersInOneRowAtOnceAreAllWrittenDown() throws Exception {
        farm.at(DAWN);
        List<String> crew = List.of("Nomsa", "Pieter", "Lerato", "Ruth");

        atOnce(24, number -> farm.text(crew.get(number % crew.size()), "2 10 1"));

        assertThat(farm.row(MORNING, "10").get("opened").asInt()).isEqualTo(24);
    }

    @Test
    @Order(11)
    void oneWorkersTextsAtOnceNeverShareATie() throws Exception {
        farm.at(DAWN);

        atOnce(12, number -> farm.text("Lerato", "2345 11 1"));

        assertThat(farm.row(MORNING, "11").get("tied").asInt()).isEqualTo(12);
        assertThat(farm.questions(MORNING, "11")).doesNotContain("tie-used-twice");
        assertThat(farm.json("/api/farm")
                        .get("workers")
                        .get(2)
                        .get("strips")
                        .get(0)
                        .get("next")
                        .asText())
                .isEqualTo("004812");
    }

    @Test
    @Order(12)
    void fruitIsCulledAndHarvestedByItsTie() {
        assertThat(farm.at("2026-12-04T16:00:00+02:00").text("Lerato", "6 12 9"))
                .isEqualTo("Row 12: 9 culled.");
        assertThat(farm.text("Lerato", "6 4702")).isEqualTo("Culled 1: 004702.");
        assertThat(farm.at("2027-01-25T09:00:00+02:00").text("Lerato", "7 004703-004705"))
                .isEqualTo("Harvested 3: 004703-004705.");

        assertThat(farm.fruit("004702").get("state").asText()).isEqualTo("culled");
        assertThat(farm.fruit("004704").get("state").asText()).isEqualTo("harvested");
        assertThat(farm.fruit("004701").get("state").asText()).isEqualTo("tied");
    }

    @Test
    @Order(13)
    void aTieNobodyReportedIsKeptAndAskedAbout() {
        assertThat(farm.text("Lerato", "7 009999"))
                .isEqualTo("Harvested 1: 009999. CHECK: 009999 was never said to be tied."
                        + " CHECK: tie 009999 is on no strip.");

        assertThat(farm.fruit("009999").get("questions").findValuesAsText("kind"))
                .containsExactly("tie-not-reported", "tie-on-no-strip");
    }

    @Test
    @Order(14)
    void anUnknownTieIsAProblemByTheStandard() {
        HttpResponse<String> response = farm.get("/api/fruit/004811x");

        // RFC 9457: problem details for HTTP APIs.
        assertThat(response.statusCode()).isEqualTo(404);
        assertThat(response.headers().firstValue("Content-Type")).hasValue("application/problem+json");
        assertThat(response.body()).contains("\"status\":404").contains("\"title\":\"Not Found\"");
    }

    @Test
    @Order(15)
    void aStrangerAndAnythingUnreadableAreAnsweredAndKept() {
        assertThat(farm.text("+15555550199", "1 12 14")).startsWith("This number is not on the crew list");
        assertThat(farm.text("Nomsa", "")).startsWith("Nothing to read.");
        assertThat(farm.text("Nomsa", "\u0000\uD83C\uDF83")).isNotBlank();
        assertThat(farm.text("Nomsa", "9".repeat(50_000))).startsWith("NOT NOTED");
        assertThat(farm.post(Map.of()).statusCode()).isEqualTo(200);
    }

    @Test
    @Order(16)
    void whatIsSaidTheMorningAfterIsOfTheEveningItWasDone() {
        assertThat(farm.at("2026-11-26T06:10:00+02:00").text("Ruth", "1 15 14 m 28 at 1815"))
                .isEqualTo("Row 15, 25 Nov 18:15: 14 pegged for 26 Nov. Males 28 of 28.");
        assertThat(farm.text("Ruth", "peg 16 9 males 18 yesterday"))
                .isEqualTo("Row 16, 25 Nov: 9 pegged for 26 Nov. Males 18 of 18.");

        assertThat(farm.counts(MORNING, "15"))
                .isEqualTo("pegged 14, males 28, opened 0, pollinated 0, bagged 0, tied 0, lost 0, left 14");
        assertThat(farm.row(MORNING, "16").get("pegged").asInt()).isEqualTo(9);
    }

    @Test
    @Order(17)
    void whatIsSaidLateButWasDoneInTimeIsNotLate() {
        assertThat(farm.at("2026-11-26T10:20:00+02:00").text("Ruth", "2345 15 6 at 0950"))
                .isEqualTo("Row 15, 09:50: 6 opened, pollinated, bagged, tied 005050-005055. 8 left.");
        assertThat(farm.at("2026-11-26T13:00:00+02:00").text("Ruth", "2345 15 4 at 07h45"))
                .isEqualTo("Row 15, 07:45: 4 opened, pollinated, bagged, tied 005056-005059. 4 left.");
        assertThat(farm.at("2026-11-27T06:00:00+02:00").text("Ruth", "2345 15 2 yesterday at 0845"))
                .isEqualTo("Row 15, 26 Nov 08:45: 2 opened, pollinated, bagged, tied 005060-005061. 2 left.");

        assertThat(farm.questions(MORNING, "15")).isEmpty();
        assertThat(farm.row(MORNING, "15").get("tied").asInt()).isEqualTo(12);
        JsonNode tied = farm.fruit("005060").get("acts").get(4);
        assertThat(tied.get("at").asText()).isEqualTo("2026-11-26T08:45:00+02:00");
        assertThat(tied.get("heard").asText()).isEqualTo("2026-11-27T06:00:00+02:00");
    }

    @Test
    @Order(18)
    void aFlowerIsLostForAReason() {
        assertThat(farm.at(DAWN).text("Ruth", "8 15 1 open at 0740; 8 15 1 2"))
                .isEqualTo("Row 15: 1 lost (found open) 07:40, 1 lost (torn). 0 left. 1h52 to 10:00.");

        assertThat(farm.row(MORNING, "15").get("lost").asInt()).isEqualTo(2);
        assertThat(farm.fruit("005060").get("acts").findValuesAsText("reason")).containsExactly("found-open", "torn");
        assertThat(farm.get("/fruit/005060").body()).contains(", found open");
    }

    @Test
    @Order(19)
    void everyProjectionIsTheSameAfterARestartAndARebuild() {
        String board = board();
        String fruit = farm.get("/api/fruit/004703").body();
        String crew = farm.get("/api/farm").body();

        farm.restart();
        assertThat(board()).isEqualTo(board);

        farm.bean(Rebuild.class).everything();

        assertThat(board()).isEqualTo(board);
        assertThat(farm.get("/api/fruit/004703").body()).isEqualTo(fruit);
        assertThat(farm.get("/api/farm").body()).isEqualTo(crew);
        assertThat(farm.bean(Index.class).farms()).hasSize(1);
    }

    private String board() {
        farm.awaitProjections();
        return farm.get("/api/board?morning=" + MORNING).body();
    }

    private interface Numbered {
        String call(int number);
    }

    private static List<String> atOnce(int times, Numbered work) throws Exception {
        ExecutorService threads = Executors.newFixedThreadPool(times);
        try {
            List<Callable<String>> calls = IntStream.range(0, times)
                    .<Callable<String>>mapToObj(number -> () -> work.call(number))
                    .toList();
            List<String> answers = new ArrayList<>();
            for (Future<String> answer : threads.invokeAll(calls)) {
                answers.add(answer.get());
            }
            return answers;
        } finally {
            threads.shutdownNow();
        }
    }
}
