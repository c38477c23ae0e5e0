package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import duskpeg.core.crew.People;
import duskpeg.core.farm.FarmId;
import duskpeg.projections.rebuild.Rebuild;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.IntStream;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestMethodOrder;
import org.springframework.jdbc.core.simple.JdbcClient;

/** A supervisor settles what waits, over HTTP, on each database engine. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
abstract class InboxTest {

    private static final String EVENING = "2026-11-25T17:10:00+02:00";
    private static final String MORNING = "2026-11-26";
    private static final String DAWN = "2026-11-26T07:10:00+02:00";
    private static final String LATER = "2026-11-26T07:42:00+02:00";
    private static final String STRANGER = "+15555550177";

    private final TestFarm farm;

    InboxTest(Engine engine) {
        farm = new TestFarm(engine);
    }

    @AfterAll
    void stop() {
        farm.close();
    }

    private JsonNode inbox() {
        farm.awaitProjections();
        return farm.json("/api/inbox");
    }

    private JsonNode waiting(String words) {
        return StreamSupport.stream(inbox().get("texts").spliterator(), false)
                .filter(text -> text.get("words").asText().equals(words))
                .findFirst()
                .orElseThrow();
    }

    private List<String> waitingWords() {
        return inbox().get("texts").findValuesAsText("words");
    }

    private JsonNode question(String kind) {
        return StreamSupport.stream(inbox().get("questions").spliterator(), false)
                .filter(text -> text.get("kind").asText().equals(kind))
                .findFirst()
                .orElseThrow();
    }

    /** Sends a form and gives what the page says of it. */
    private String settle(String path, String by, Map<String, String> form) {
        Map<String, String> all = new HashMap<>(form);
        all.put("by", by);
        HttpResponse<String> answer = farm.post(path, all);
        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(302);
        String back = answer.headers().firstValue("Location").orElseThrow();
        assertThat(farm.get(back.substring(back.indexOf("/inbox"))).statusCode())
                .isEqualTo(200);
        return back.replaceFirst(".*[?&]said=([a-z-]+).*", "$1");
    }

    private static Map<String, String> line(JsonNode waiting) {
        return Map.of(
                "text",
                waiting.get("text").asText(),
                "line",
                waiting.get("line").asText());
    }

    private String read(JsonNode waiting, String words, String by) {
        Map<String, String> form = new HashMap<>(line(waiting));
        form.put("words", words);
        return settle("/inbox/read", by, form);
    }

    private String nothing(JsonNode waiting, String how, String by) {
        Map<String, String> form = new HashMap<>(line(waiting));
        form.put("how", how);
        return settle("/inbox/nothing", by, form);
    }

    private String asReported(JsonNode question, String by, String note) {
        return settle(
                "/inbox/as-reported",
                by,
                Map.of(
                        "subject", question.get("subject").asText(),
                        "question", question.get("key").asText(),
                        "note", note));
    }

    private List<String> posted() {
        return farm.bean(JdbcClient.class)
                .sql("select recipient, words from outgoing order by id")
                .query((row, number) -> row.getString(1) + ": " + row.getString(2))
                .list();
    }

    private List<String> posted(List<String> before) {
        List<String> all = posted();
        return all.subList(before.size(), all.size());
    }

    @Test
    @Order(1)
    void anEmptyInboxSaysSo() {
        assertThat(inbox().get("waiting").asInt()).isZero();
        assertThat(farm.get("/inbox").body()).contains("Nothing waits");
    }

    @Test
    @Order(2)
    void aLineThatCouldNotBeReadIsReadByTheSupervisorAndToldToTheWorker() {
        farm.at(EVENING);
        assertThat(farm.text("Nomsa", "1 11 5 10\nxx 12 14 m 28")).contains("NOT NOTED");
        assertThat(farm.counts(MORNING, "12")).startsWith("pegged 0");

        farm.at("2026-11-25T17:42:00+02:00");
        JsonNode text = waiting("xx 12 14 m 28");
        assertThat(text.get("line").asInt()).isEqualTo(2);
        assertThat(text.get("from").get("name").asText()).isEqualTo("Nomsa");
        assertThat(text.get("problem").asText()).isEqualTo("“xx” is no act, and a line begins with one.");

        List<String> before = posted();
        assertThat(read(text, "1 12 14 28", "w8")).isEqualTo("settled");

        assertThat(farm.counts(MORNING, "12")).startsWith("pegged 14, males 28");
        assertThat(farm.counts(MORNING, "11")).startsWith("pegged 5, males 10");
        assertThat(waitingWords()).doesNotContain("xx 12 14 m 28");
        assertThat(posted(before))
                .containsExactly("+15555550101: Your text \"xx 12 14 m..\" is now noted:"
                        + " Row 12: 14 pegged for 26 Nov. Males 28 of 28.");
    }

    @Test
    @Order(3)
    void aSuggestionIsOfferedWithWhatItWouldRecord() {
        farm.at(DAWN).text("Nomsa", "2345 12 6 don");

        JsonNode suggestion = waiting("2345 12 6 don").get("suggestions").get(0);

        assertThat(suggestion.get("words").asText()).isEqualTo("2345 12 6");
        assertThat(suggestion.get("says").asText())
                .isEqualTo("opened, pollinated, bagged, tied row 12: 6, the next ties of her strip, now from 004700");
        assertThat(farm.get("/inbox").body()).contains("2345 12 6</code>");
    }

    @Test
    @Order(4)
    void theHistoryOfAFruitNamesTheWorkerAndTheSupervisorAndBothTimes() {
        JsonNode text = waiting("2345 12 6 don");
        assertThat(read(text, text.get("suggestions").get(0).get("words").asText(), "w8"))
                .as("at " + LATER)
                .isEqualTo("settled");

        JsonNode tied = farm.fruit("004703").get("acts").get(4);
        assertThat(tied.get("act").asText()).isEqualTo("tied");
        assertThat(tied.get("name").asText()).isEqualTo("Nomsa");
        assertThat(tied.get("at").asText()).isEqualTo(DAWN);
        assertThat(tied.get("words").asText()).isEqualTo("2345 12 6");
        assertThat(tied.get("putRight").get("how").asText()).isEqualTo("read-so");
        assertThat(tied.get("putRight").get("name").asText()).isEqualTo("Ruth");
        assertThat(tied.get("putRight").get("sent").asText()).isEqualTo("2345 12 6 don");
        assertThat(farm.get("/fruit/004703").body()).contains("Read so by").contains("2345 12 6 don");
        assertThat(farm.questions(MORNING, "12")).isEmpty();
    }

    @Test
    @Order(5)
    void whatIsSettledAfterTheLimitWasDoneWhenItWasSent() {
        farm.at(DAWN).text("Nomsa", "45 12 oops 1");
        JsonNode text = waiting("45 12 oops 1");
        farm.at("2026-11-26T11:30:00+02:00");

        assertThat(read(text, "45 12 1", "w8")).isEqualTo("settled");

        assertThat(farm.questions(MORNING, "12")).doesNotContain("after-limit");
        JsonNode acts = farm.fruit("004706").get("acts");
        JsonNode tied = acts.get(acts.size() - 1);
        assertThat(tied.get("at").asText()).isEqualTo(DAWN);
        assertThat(tied.get("heard").asText()).isEqualTo("2026-11-26T11:30:00+02:00");
        farm.text("Nomsa", "0");
        assertThat(farm.get("/api/fruit/004706").statusCode()).isIn(200, 404);
        assertThat(farm.counts(MORNING, "12")).contains("tied 6");
    }

    @Test
    @Order(6)
    void nobodySettlesHerOwnAndOnlyASupervisorSettles() {
        farm.at(DAWN).text("Ruth", "zzz 9 3");
        farm.text("Pieter", "zzz 9 4");
        List<String> before = posted();

        assertThat(read(waiting("zzz 9 3"), "1 9 3", "w8")).isEqualTo("not-the-same");
        assertThat(nothing(waiting("zzz 9 3"), "thanks", "w8")).isEqualTo("not-the-same");
        assertThat(read(waiting("zzz 9 4"), "1 9 4", "w1")).isEqualTo("not-a-supervisor");
        assertThat(nothing(waiting("zzz 9 4"), "thanks", "w2")).isEqualTo("not-a-supervisor");

        assertThat(farm.counts(MORNING, "9")).startsWith("pegged 0");
        assertThat(waitingWords()).contains("zzz 9 3", "zzz 9 4");
        assertThat(posted(before)).isEmpty();
    }

    @Test
    @Order(7)
    void whatCanNotBeWrittenDownIsNotSettled() {
        JsonNode text = waiting("zzz 9 4");

        assertThat(read(text, "1 9", "w8")).isEqualTo("not-read");
        assertThat(read(text, "1 99 4", "w8")).isEqualTo("not-read");
        assertThat(read(text, "9 9", "w8")).isEqualTo("not-read");
        assertThat(read(text, "0", "w8")).isEqualTo("takes-back");

        assertThat(waitingWords()).contains("zzz 9 4");
        assertThat(farm.get("/inbox?by=w8&said=not-read&text="
                                + text.get("text").asText() + "&line=1&tried=1+9")
                        .body())
                .contains("The count is missing.");
    }

    @Test
    @Order(8)
    void twoAtOnceSettleOnce() throws Exception {
        JsonNode text = waiting("zzz 9 4");
        List<String> before = posted();

        List<String> said = atOnce(6, () -> read(text, "1 9 4 8", "w8"));

        assertThat(said).containsOnlyOnce("settled").containsOnly("settled", "not-waiting");
        assertThat(farm.row(MORNING, "9").get("pegged").asInt()).isEqualTo(4);
        assertThat(posted(before)).hasSize(1);
    }

    @Test
    @Order(9)
    void thereMayBeNothingToRecord() {
        farm.at(DAWN).text("Pieter", "thank you Ruth!");
        farm.text("Pieter", "buy cheap phones");
        List<String> before = posted();

        assertThat(nothing(waiting("thank you Ruth!"), "thanks", "w8")).isEqualTo("settled");
        assertThat(nothing(waiting("buy cheap phones"), "spam", "w8")).isEqualTo("settled");

        assertThat(waitingWords()).doesNotContain("thank you Ruth!", "buy cheap phones");
        assertThat(posted(before))
                .containsExactly(
                        "+15555550102: Your text \"thank you ..\" was looked at, and there was nothing to note."
                                + " If that is wrong, send it again.");
    }

    @Test
    @Order(10)
    void aStrangersTextIsReadAsHersWhosePhoneItWas() {
        farm.at(DAWN).text(STRANGER, "2 12 1\nwhat\nspoilt 4849\nstrip to nobody");
        List<String> before = posted();
        JsonNode text = waiting("2 12 1\nwhat\nspoilt 4849\nstrip to nobody");
        assertThat(text.get("sender").asText()).isEqualTo(STRANGER);

        assertThat(settle("/inbox/sender", "w8", Map.of("text", text.get("text").asText(), "worker", "w3")))
                .isEqualTo("settled");

        assertThat(farm.row(MORNING, "12").get("opened").asInt()).isEqualTo(7);
        assertThat(waiting("what").get("from").get("name").asText()).isEqualTo("Lerato");
        assertThat(posted(before)).hasSize(1).allMatch(sent -> sent.startsWith(STRANGER + ": Noted \"2 12 1?wha..\":"));
        assertThat(farm.text(STRANGER, "9")).startsWith("This number is not on the crew list");
        assertThat(nothing(waiting("what"), "private", "w8")).isEqualTo("settled");
        assertThat(waiting("strip to nobody").get("problem").asText()).startsWith("What it says of a strip");
        assertThat(nothing(waiting("strip to nobody"), "sent-again", "w8")).isEqualTo("settled");
        assertThat(farm.text("Lerato", "spoilt 4848")).startsWith("Damaged: 004848");
    }

    @Test
    @Order(11)
    void herNumberIsOnlyReplacedWhenThatIsAsked() {
        farm.at(DAWN);
        JsonNode text = waiting("9");

        assertThat(settle(
                        "/inbox/sender",
                        "w8",
                        Map.of("text", text.get("text").asText(), "worker", "w3", "herNumber", "true")))
                .isEqualTo("settled");

        assertThat(farm.text(STRANGER, "9 12")).startsWith("Row 12");
        assertThat(farm.bean(People.class)
                        .withPhone(new FarmId("marrowfield"), STRANGER)
                        .orElseThrow()
                        .name())
                .isEqualTo("Lerato");
    }

    @Test
    @Order(12)
    void aQuestionIsSettledByASecondPersonAndShownAsSettled() {
        farm.at(DAWN).text("Pieter", "1 14 4 8 yesterday");
        farm.text("Pieter", "2 14 6");
        JsonNode question = question("opened-over-pegged");
        assertThat(question.get("about").asText()).isEqualTo("Row 14, Thu 26 Nov");
        assertThat(question.get("texts").findValuesAsText("words")).contains("2 14 6", "1 14 4 8 yesterday");

        farm.at(LATER);
        assertThat(asReported(question, "w8", "two more were found open")).isEqualTo("settled");

        JsonNode row = farm.row(MORNING, "14");
        assertThat(row.get("questions")).isEmpty();
        JsonNode settled = row.get("settled").get(0);
        assertThat(settled.get("kind").asText()).isEqualTo("opened-over-pegged");
        assertThat(settled.get("name").asText()).isEqualTo("Ruth");
        assertThat(settled.get("at").asText()).isEqualTo(LATER);
        assertThat(settled.get("note").asText()).isEqualTo("two more were found open");
        assertThat(farm.get("/board?morning=" + MORNING).body()).contains("settled by Ruth, 07:42");
        assertThat(inbox().get("questions").findValuesAsText("kind")).doesNotContain("opened-over-pegged");
        assertThat(asReported(question, "w8", "")).isEqualTo("not-waiting");
    }

    @Test
    @Order(13)
    void aNewReportThatChangesItAsksItAnew() {
        farm.at(LATER).text("Pieter", "2 14 1");

        assertThat(farm.questions(MORNING, "14")).containsExactly("opened-over-pegged");
        assertThat(question("opened-over-pegged").get("asked").asText()).isEqualTo("7 opened, but 4 pegged");
        assertThat(farm.row(MORNING, "14").get("settled")).isEmpty();
        farm.text("Pieter", "0");
        assertThat(farm.questions(MORNING, "14")).isEmpty();
    }

    @Test
    @Order(14)
    void whoeverReportedAnyOfItDoesNotSettleTheQuestion() {
        farm.at(DAWN).text("Ruth", "2 15 3");

        JsonNode question = question("opened-over-pegged");
        assertThat(question.get("about").asText()).isEqualTo("Row 15, Thu 26 Nov");
        assertThat(asReported(question, "w8", "")).isEqualTo("not-the-same");
        assertThat(farm.questions(MORNING, "15")).containsExactly("opened-over-pegged");
    }

    @Test
    @Order(15)
    void aQuestionOfAFruitIsShownAsSettledOnItsPage() {
        farm.at("2026-12-20T09:00:00+02:00").text("Nomsa", "7 004700 004711");
        farm.text("+15555550177", "7 004711");
        JsonNode question = question("tie-not-reported");
        assertThat(question.get("about").asText()).isEqualTo("Tie 004711");

        assertThat(asReported(question, "w8", "")).isEqualTo("settled");

        JsonNode fruit = farm.fruit("004711");
        assertThat(fruit.get("settled").findValuesAsText("kind")).containsExactly("tie-not-reported");
        assertThat(fruit.get("questions").findValuesAsText("kind")).containsExactly("harvested-twice");
        assertThat(farm.get("/fruit/004711").body()).contains("settled by Ruth, 09:00");
    }

    @Test
    @Order(16)
    void aRebuildShowsTheSame() {
        List<String> before = pages();

        farm.bean(Rebuild.class).everything();

        assertThat(pages()).isEqualTo(before);
        farm.restart();
        assertThat(pages()).isEqualTo(before);
    }

    private List<String> pages() {
        farm.awaitProjections();
        return List.of(
                farm.get("/api/inbox").body(),
                farm.get("/api/board?morning=" + MORNING).body(),
                farm.get("/api/fruit/004703").body(),
                farm.get("/api/fruit/004711").body());
    }

    @Test
    @Order(17)
    void theLogKnowsNoWordsOfThoseWhoSettle() {
        assertThat(farm.bean(JdbcClient.class)
                        .sql("select payload from event where event_type in ('text-settled', 'question-settled')")
                        .query((row, number) -> new String(row.getBytes(1), java.nio.charset.StandardCharsets.UTF_8))
                        .list())
                .isNotEmpty()
                .allMatch(event -> event.contains("\"by\":\"marrowfield/worker/w8\""))
                .noneMatch(event -> event.contains("found open") || event.contains("Ruth"));
    }

    @Test
    @Order(18)
    void formsThatNobodyMadeAreRefused() {
        assertThat(farm.post("/inbox/read", Map.of("by", "w8", "text", "a b", "line", "1", "words", "1 12 1"))
                        .statusCode())
                .isEqualTo(400);
        assertThat(farm.post("/inbox/nothing", Map.of("by", "w8", "text", "SMx", "line", "1", "how", "read-so"))
                        .statusCode())
                .isEqualTo(400);
        assertThat(farm.post("/inbox/as-reported", Map.of("by", "w8", "subject", "x/y", "question", ""))
                        .statusCode())
                .isEqualTo(400);
        assertThat(settle("/inbox/nothing", "w8", Map.of("text", "SMnone", "line", "1", "how", "spam")))
                .isEqualTo("not-waiting");
    }

    private static List<String> atOnce(int times, Callable<String> work) throws Exception {
        ExecutorService threads = Executors.newFixedThreadPool(times);
        try {
            List<String> answers = new ArrayList<>();
            for (Future<String> answer : threads.invokeAll(
                    IntStream.range(0, times).mapToObj(number -> work).toList())) {
                answers.add(answer.get());
            }
            return answers;
        } finally {
            threads.shutdownNow();
        }
    }
}
