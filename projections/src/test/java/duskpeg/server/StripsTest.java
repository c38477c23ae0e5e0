package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import duskpeg.projections.QrReading;
import duskpeg.projections.rebuild.Rebuild;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;

/** The custody of ties by text and by page, over HTTP. */
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
@OnBothEngines
class StripsTest {

    private static final String SIX = "2026-11-26T06:40:00+02:00";
    private static final String SEVEN = "2026-11-26T07:00:00+02:00";
    private static final String EIGHT = "2026-11-26T08:00:00+02:00";
    private static final String MORNING = "2026-11-26";
    private static final String KOOS = "+15555550105";
    private static final String ZANELE = "+15555550106";
    private static final String MARTA = "+15555550107";

    private static TestFarm farm;

    @BeforeAll
    static void start() {
        farm = new TestFarm(Engine.asked(), "--duskpeg.public-url=https://seed.example/");
    }

    @AfterAll
    static void stop() {
        farm.close();
    }

    private static JsonNode strip(String tie) {
        farm.awaitProjections();
        return farm.json("/api/strips/" + tie).get("strip");
    }

    private static List<String> events(String tie) {
        return strip(tie).get("custody").findValuesAsText("event");
    }

    private static String fate(String tie) {
        farm.awaitProjections();
        for (JsonNode one : farm.json("/api/strips/" + tie).get("fates")) {
            if (one.get("tie").asText().equals(tie)) {
                return one.get("fate").asText()
                        + (one.has("fruit") ? ", " + one.get("fruit").asText() : "")
                        + (one.has("row") ? " in row " + one.get("row").asText() : "");
            }
        }
        throw new AssertionError("no tie " + tie);
    }

    @Test
    @Order(1)
    void sheAsksWhichStripsSheHas() {
        farm.at("2026-11-25T17:10:00+02:00").text("Nomsa", "1 12 20 m 40");

        assertThat(farm.at(SIX).text("Nomsa", "strip")).isEqualTo("In hand: 004700-004749 next 004700, 50 left.");
        assertThat(farm.text(MARTA, "strip?"))
                .isEqualTo("In hand: 005000-005049 next 005000, 50 left; 005100-005149 next 005100, 50 left.");
    }

    @Test
    @Order(2)
    void aSpoiltTieIsSteppedOver() {
        assertThat(farm.at(SIX).text("Nomsa", "234 12 9; 5 12 6 4705")).contains("tied 004700-004705");
        assertThat(farm.text("Nomsa", "spoilt 4706")).isEqualTo("Damaged: 004706. Next tie 004707.");
        assertThat(farm.text("Nomsa", "5 12 2")).isEqualTo("Row 12: 2 tied 004707-004708. 12 left. 3h20 to 10:00.");

        assertThat(fate("004706")).isEqualTo("damaged");
        assertThat(fate("004707")).isEqualTo("used, tied in row 12");
        assertThat(farm.text("Nomsa", "5 12 4706")).contains("CHECK: tie 004706 was noted as damaged.");
        assertThat(farm.text("Nomsa", "0")).isEqualTo("Taken back: row 12: 1 tied 004706.");
    }

    @Test
    @Order(3)
    void tiesThatWereSkippedAreAskedAboutOnce() {
        assertThat(farm.at(SIX).text("Nomsa", "5 12 4711"))
                .contains("CHECK: 004709-004710 not used before 004711. If spoilt, send: damaged 004709-004710");
        assertThat(farm.text("Nomsa", "23 12 2; 4 12 2; 5 12 1"))
                .contains("1 tied 004712")
                .doesNotContain("not used");
        assertThat(farm.questions(MORNING, "12")).contains("ties-skipped");
        assertThat(fate("004710")).isEqualTo("skipped");

        assertThat(farm.text("Nomsa", "damaged 004709-004710")).isEqualTo("Damaged: 004709-004710. Next tie 004713.");
        assertThat(farm.questions(MORNING, "12")).doesNotContain("ties-skipped");
    }

    @Test
    @Order(4)
    void whatIsHandedOverIsAnothersFromThenOn() {
        assertThat(farm.at(SEVEN).text("Nomsa", "strip to pieter"))
                .isEqualTo("004713-004749, 37 ties, handed over to Pieter.");
        assertThat(farm.text("Nomsa", "strip")).isEqualTo("No strip with ties left in hand.");
        assertThat(farm.text("Pieter", "strip"))
                .isEqualTo("In hand: 004750-004799 next 004750, 50 left; 004713-004749 next 004713, 37 left.");

        assertThat(farm.at(EIGHT).text("Pieter", "5 12 4713")).doesNotContain("another's");
        assertThat(farm.text("Nomsa", "5 12 4714")).contains("CHECK: tie 004714 is from another's strip.");
        farm.text("Nomsa", "0");
        // Put on before it was handed over, and told of only now.
        assertThat(farm.text("Nomsa", "5 12 4714 at 0650")).doesNotContain("another's");
        farm.text("Nomsa", "0");
    }

    @Test
    @Order(5)
    void aLostStripThatTurnsUpIsAskedAbout() {
        assertThat(farm.at(SEVEN).text("Lerato", "strip lost from 4810"))
                .isEqualTo("004810-004849, 40 ties, noted as lost (if found, send: strip 004810-004849)."
                        + " Next tie 004800.");
        assertThat(fate("004810")).isEqualTo("lost");

        assertThat(farm.at(EIGHT).text("Lerato", "5 12 4812")).contains("is from a strip noted as lost");
        farm.text("Lerato", "0");
        assertThat(farm.text("Lerato", "strip 4810-4849"))
                .isEqualTo("Strip 004810-004849 is in hand, 40 ties. Next tie 004800.");
        assertThat(farm.text("Lerato", "5 12 4810")).doesNotContain("lost");
        farm.text("Lerato", "0");
        assertThat(events("004810")).containsExactly("issued", "lost", "issued");
    }

    @Test
    @Order(6)
    void whatSheSaidOfAStripIsTakenBackLikeAnythingElse() {
        assertThat(farm.at(SEVEN).text(ZANELE, "strip lost")).contains("004950-004999, 50 ties, noted as lost");
        assertThat(farm.text(ZANELE, "0")).isEqualTo("Taken back: strip 004950-004999.");

        assertThat(farm.text(ZANELE, "strip")).isEqualTo("In hand: 004950-004999 next 004950, 50 left.");
        assertThat(strip("004950").get("custody").get(1).get("takenBack").asBoolean())
                .isTrue();
    }

    @Test
    @Order(7)
    void aStripThatIsNotFreeIsKeptAsAQuestion() {
        assertThat(farm.at(SEVEN).text(ZANELE, "strip 4750-4799"))
                .isEqualTo("CHECK: strip 004750-004799 is not free, 004750 is in the hands of Pieter."
                        + " Kept as a question: ask the supervisor.");
        assertThat(farm.json("/api/strips").get("claims").findValuesAsText("worker"))
                .containsExactly("w6");
        assertThat(farm.get("/strips").body()).contains("Zanele says strip 004750-004799 is in hand");

        farm.text(ZANELE, "0");
        assertThat(farm.json("/api/strips").get("claims")).isEmpty();
    }

    @Test
    @Order(8)
    void onlyASupervisorSpeaksForAnother() {
        assertThat(farm.at(SEVEN).text("Pieter", "strip Zanele lost"))
                .isEqualTo("NOT NOTED. Only a supervisor can say that for \"Zanele\".");
        assertThat(farm.text("Ruth", "strip Zan lost")).startsWith("NOT NOTED. Nobody here is called \"Zan\".");
        assertThat(farm.text("Ruth", "strip worker 0106 lost"))
                .isEqualTo("Zanele: 004950-004999, 50 ties, noted as lost (if found, send: strip 004950-004999).");
        assertThat(farm.text("Ruth", "strip Zanele 4950-4999"))
                .isEqualTo("Zanele: Strip 004950-004999 is in hand, 50 ties. Next tie 004950.");
        assertThat(farm.text(MARTA, "strip back")).startsWith("NOT NOTED. Which strip? 005000-005049 005100-005149.");
        assertThat(farm.text(MARTA, "strip back 5100"))
                .isEqualTo("005100-005149, 50 ties, back in the shed. Next tie 005000.");
        assertThat(farm.text(MARTA, "strip back 5100")).startsWith("NOT NOTED: no such strip");
    }

    @Test
    @Order(9)
    void printedTagsCountByTheirSerialsAndAWrongDigitIsNotRead() {
        assertThat(farm.at(SEVEN).text(KOOS, "strip back 4900")).contains("back in the shed");
        assertThat(farm.text(KOOS, "5 11 3 900027")).contains("3 tied 900003-900027");
        assertThat(farm.text(KOOS, "5 11 900043")).startsWith("NOT NOTED. 900043? Its last digit is wrong.");
        assertThat(farm.text(KOOS, "5 11 900034-900042")).contains("2 tied 900034-900042");
        assertThat(farm.text(KOOS, "strip")).startsWith("In hand: 900003-900497 next ");
        assertThat(strip("900003").get("used").asInt()).isEqualTo(5);
        assertThat(strip("900003").get("left").asInt()).isEqualTo(45);
    }

    @Test
    @Order(10)
    void theSupervisorDoesAllOfItOnThePage() {
        farm.at(EIGHT);
        HttpResponse<String> issued =
                farm.post("/strips/issue", Map.of("by", "w8", "worker", "w7", "first", "5100", "last", "5119"));
        assertThat(issued.statusCode()).isEqualTo(302);
        assertThat(issued.headers().firstValue("Location").orElseThrow())
                .endsWith("/strips/005100?farm=marrowfield&done=issued");
        assertThat(farm.get("/strips/005100?done=issued").body())
                .contains("Entered: it was given out.")
                .contains("on this page");

        farm.post("/strips/damaged", Map.of("by", "w8", "worker", "w7", "first", "005100"));
        farm.post("/strips/hand-over", Map.of("by", "w8", "worker", "w7", "to", "w2", "first", "005110"));
        farm.post("/strips/lost", Map.of("by", "w8", "worker", "w2", "first", "005115"));
        farm.post("/strips/return", Map.of("by", "w8", "worker", "w2", "first", "005110"));

        assertThat(events("005100"))
                .containsExactly("issued", "returned", "issued", "damaged", "handed-over", "lost", "returned");
        assertThat(List.of(fate("005100"), fate("005101"), fate("005110"), fate("005115"), fate("005120")))
                .containsExactly("damaged", "left", "shed", "lost", "shed");
        JsonNode handedOver = strip("005100").get("custody").get(4);
        assertThat(handedOver.get("byName").asText()).isEqualTo("Ruth");
        assertThat(handedOver.get("toName").asText()).isEqualTo("Pieter");
        assertThat(handedOver.get("at").asText()).isEqualTo(EIGHT);
    }

    @Test
    @Order(11)
    void whatCannotBeEnteredIsSaidInPlainWords() {
        farm.at(EIGHT);
        refused("/strips/issue", Map.of("by", "w8", "worker", "w7", "first", "4750", "last", "4760"), "not free");
        refused("/strips/issue", Map.of("by", "w8", "worker", "w7", "first", "7000", "last", "6999"), "after the last");
        refused("/strips/issue", Map.of("by", "w8", "worker", "w7", "first", "1", "last", "9000"), "at most 999");
        refused("/strips/issue", Map.of("by", "w8", "worker", "w7", "first", "7x", "last", "7000"), "has 6 digits");
        refused(
                "/strips/issue",
                Map.of("by", "w8", "worker", "w7", "first", "700000", "last", "700001", "printed", "true"),
                "check digit");
        refused("/strips/issue", Map.of("worker", "w7", "first", "7000", "last", "7001"), "choose who does it");
        refused("/strips/lost", Map.of("by", "w8", "worker", "w7", "first", "4750"), "not in the hands");
        refused("/strips/hand-over", Map.of("by", "w8", "worker", "w7", "to", "w7", "first", "5101"), "already");
        assertThat(farm.get("/strips/990000").statusCode()).isEqualTo(404);
        assertThat(farm.get("/api/strips/99x").statusCode()).isEqualTo(404);
    }

    private static void refused(String path, Map<String, String> form, String why) {
        HttpResponse<String> answer = farm.post(path, form);
        assertThat(answer.statusCode()).as(form.toString()).isEqualTo(422);
        assertThat(answer.body()).contains("That was not done").contains(why);
    }

    @Test
    @Order(12)
    void aStripIsGivenToOneWhereManyClaimItAtOnce() throws Exception {
        farm.at(EIGHT);
        List<String> crew = List.of("Nomsa", "Pieter", "Lerato", "Ruth", KOOS, ZANELE);
        ExecutorService threads = Executors.newFixedThreadPool(crew.size());
        List<String> answers = new ArrayList<>();
        try {
            List<Callable<String>> claims = crew.stream()
                    .<Callable<String>>map(who -> () -> farm.text(who, "strip 8000-8049"))
                    .toList();
            for (Future<String> answer : threads.invokeAll(claims)) {
                answers.add(answer.get());
            }
        } finally {
            threads.shutdownNow();
        }

        assertThat(answers)
                .filteredOn(answer -> answer.startsWith("Strip 008000-008049 is in hand"))
                .hasSize(1);
        assertThat(answers).filteredOn(answer -> answer.contains("is not free")).hasSize(crew.size() - 1);
    }

    @Test
    @Order(13)
    void everythingIsTheSameAfterARebuild() {
        String before = farm.get("/api/strips").body();
        String hands = farm.get("/api/farm").body();

        farm.bean(Rebuild.class).everything();

        assertThat(farm.get("/api/strips").body()).isEqualTo(before);
        assertThat(farm.get("/api/farm").body()).isEqualTo(hands);
    }

    @Test
    @Order(14)
    void aSheetOfTagsIsReadByAPhone() {
        String page = farm.get("/strips/print?from=90050&count=30").body();
        assertThat(page).contains("tags 1 to 24 of 30").contains("tags 25 to 30 of 30");
        Matcher tag = Pattern.compile(
                        "viewBox=\"0 0 (\\d+) \\d+\" aria-label=\"QR code of (\\d+)\".*? d=\"([^\"]*)\"",
                        Pattern.DOTALL)
                .matcher(page);
        int read = 0;
        while (tag.find()) {
            assertThat(QrReading.read(Integer.parseInt(tag.group(1)), tag.group(3)))
                    .isEqualTo("https://seed.example/fruit/" + tag.group(2));
            read++;
        }
        assertThat(read).isEqualTo(30);
        assertThat(farm.json("/api/strips").findValuesAsText("first")).doesNotContain("900504");
        assertThat(farm.get("/strips/print?from=999999&count=1").statusCode()).isEqualTo(422);
        assertThat(farm.get("/strips/print?from=99990&count=30").body()).contains("not so many numbers");
        assertThat(farm.get("/strips/print").body()).contains("value=\"90050\"");
        assertThat(farm.get("/strips/print?from=90049&count=2").body()).contains("on a strip that was given out");
    }
}
