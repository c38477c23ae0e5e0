package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.locks.LockSupport;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.springframework.jdbc.core.simple.JdbcClient;

/** The demo's season on the pages of culling, harvest and season. Its first morning is 20 November 2025. */
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
@OnBothEngines
class HarvestTest {

    /** They weigh on no verdict. */
    private static final Set<String> CARE = Set.of("males-of-two-other-plants", "mature-at-harvest");

    private static final Instant NOW = Instant.parse("2026-11-25T15:00:00Z");

    private static TestFarm farm;

    @BeforeAll
    static void aSeason() {
        farm = new TestFarm(Engine.asked());
        assertThat(farm.bean(DemoSeason.class).play(NOW)).contains(LocalDate.of(2025, 11, 20));
        farm.awaitProjections();
        farm.at("2026-11-25T17:00:00+02:00");
    }

    @AfterAll
    static void stop() {
        farm.close();
    }

    private static List<String> texts(JsonNode array, String field) {
        return array.findValuesAsText(field);
    }

    private static JsonNode one(JsonNode array, String field, String value) {
        return StreamSupport.stream(array.spliterator(), false)
                .filter(each -> each.path(field).asText().equals(value))
                .findFirst()
                .orElseThrow(() -> new AssertionError(value + " is not in " + array));
    }

    static Stream<Arguments> tableOfTies() throws IOException {
        return Files.readAllLines(Path.of("..", "docs", "harvest.md")).stream()
                .filter(line -> line.startsWith("| `00"))
                .map(line -> line.split("\\|", -1))
                .map(cell -> Arguments.of(
                        cell[1].replace("`", "").strip(),
                        cell[3].strip(),
                        Stream.of(cell[4].split(",", -1))
                                .map(String::strip)
                                .filter(rule -> !rule.isEmpty())
                                .collect(Collectors.toSet())));
    }

    @ParameterizedTest
    @MethodSource("tableOfTies")
    @Order(1)
    void aTieHasTheVerdictOfTheTable(String tie, String verdict, Set<String> rules) {
        JsonNode judged = farm.json("/api/fruit/" + tie + "/verdict");

        assertThat(judged.get("verdict").asText()).as(judged.toPrettyString()).isEqualTo(verdict);
        assertThat(StreamSupport.stream(judged.get("evidence").spliterator(), false)
                        .filter(finding -> !finding.get("result").asText().equals("holds"))
                        .map(finding -> finding.get("rule").asText())
                        .filter(rule -> !CARE.contains(rule)))
                .as(judged.toPrettyString())
                .containsExactlyInAnyOrderElementsOf(rules);
    }

    @Test
    @Order(2)
    void theTableHasTenTiesAtLeast() throws IOException {
        assertThat(tableOfTies()).hasSizeGreaterThanOrEqualTo(10);
    }

    @Test
    @Order(2)
    void nothingIsPlayedTwice() {
        long before = events();
        assertThat(farm.bean(DemoSeason.class).play(NOW.plusSeconds(400 * 86_400L)))
                .contains(LocalDate.of(2025, 11, 20));
        assertThat(events()).isEqualTo(before);
    }

    private static long events() {
        return count(farm);
    }

    /** The script's own words were all read: whatever was asked of it is meant to be. */
    @Test
    @Order(2)
    void everyTextOfTheScriptIsRead() {
        assertThat(farm.bean(JdbcClient.class)
                        .sql("select words from field_text where unread > 0")
                        .query(String.class)
                        .list())
                .isEmpty();
    }

    @Test
    @Order(3)
    void theMorningsOfTodayAreAsBefore() {
        JsonNode board = farm.json("/api/board");
        assertThat(board.get("morning").asText()).isEqualTo("2026-11-26");
        assertThat(board.get("rows"))
                .allSatisfy(row -> assertThat(row.get("pegged").asInt()).isZero());
        farm.at("2026-11-25T17:00:00+02:00").text("Nomsa", "1 12 6 m 12");
        String reply = farm.at("2026-11-26T07:00:00+02:00").text("Nomsa", "2345 12 2");
        assertThat(reply).contains("4700").contains("4701");
        farm.at("2026-11-26T07:30:00+02:00");
        farm.awaitProjections();
    }

    /** Six days after row 9's first morning no round is due, seven days after it is; it was culled nine days after. */
    @Test
    @Order(4)
    void aRowIsDueAfterSevenDays() {
        assertThat(row("2025-11-26", "9").get("isDue").asBoolean()).isFalse();
        JsonNode due = row("2025-11-27", "9");
        assertThat(due.get("isDue").asBoolean()).isTrue();
        assertThat(due.get("next").asText()).isEqualTo("First round due today.");
        assertThat(due.get("lastLooked").asText()).isEqualTo("2025-11-23");
        farm.at("2025-11-27T09:00:00+02:00");
        assertThat(boardThatSaysWhatIsDue()).containsPattern("rows? (is|are) due for culling");
        farm.at("2026-11-26T07:30:00+02:00");
        JsonNode culled = row("2025-11-29", "9");
        assertThat(culled.get("due").asText()).isEqualTo("2025-12-06");
        assertThat(culled.get("lastRound").asText()).isEqualTo("2025-11-29");
        assertThat(culled.get("cut").asInt()).isEqualTo(11);
        // Looked over with nothing to cut on 14 December.
        assertThat(row("2025-12-14", "9").get("due").asText()).isEqualTo("2025-12-21");
        assertThat(row("2025-12-14", "9").get("culled").asInt()).isEqualTo(1);
        assertThat(row("2025-12-14", "9").get("onVine").asInt()).isEqualTo(5);
    }

    /** The board does not wait for it: where counting takes longer than a second, a later look has it. */
    private static String boardThatSaysWhatIsDue() {
        String board = farm.get("/board").body();
        for (int look = 0; look < 300 && !board.contains("due for culling"); look++) {
            LockSupport.parkNanos(100_000_000);
            board = farm.get("/board").body();
        }
        return board;
    }

    private static JsonNode row(String day, String row) {
        return one(farm.json("/api/cull?day=" + day).get("rows"), "row", row);
    }

    @Test
    @Order(4)
    void whatIsAskedAboutTiesStandsOnThePage() {
        JsonNode asked = farm.json("/api/cull?day=2026-06-01").get("asked");

        assertThat(texts(asked, "tie")).contains("004403", "004404", "004413", "004418");
        assertThat(one(asked, "tie", "004403").toString()).contains("culled-and-harvested");
        assertThat(farm.get("/cull?day=2025-12-01").body())
                .contains("no proof that its flower was")
                .contains("Bulletin 263, read in abstract")
                .contains("cut away from the hand and from the tied stalk")
                .contains("common practice, no source");
    }

    @Test
    @Order(5)
    void rowsAreLookedOverByAnybody() {
        farm.at("2026-12-04T08:00:00+02:00");
        assertThat(texts(farm.json("/api/cull").get("rows"), "isDue")).containsExactly("true");
        assertThat(looked("12", "2026-12-05", "w3").statusCode()).isEqualTo(422);
        assertThat(looked("99", "2026-12-04", "w3").statusCode()).isEqualTo(422);
        assertThat(looked("12", "2026-12-04", "nobody").statusCode()).isEqualTo(422);
        assertThat(looked("12", "2026-12-04", "w3").statusCode()).isEqualTo(302);
        JsonNode row = one(farm.json("/api/cull").get("rows"), "row", "12");
        assertThat(row.get("isDue").asBoolean()).isFalse();
        assertThat(row.get("due").asText()).isEqualTo("2026-12-11");
    }

    private static HttpResponse<String> looked(String row, String on, String by) {
        return farm.post("/cull/looked", Map.of("row", row, "on", on, "by", by));
    }

    /** By plant, where plants were named. */
    @Test
    @Order(6)
    void theLoadOfPlantsIsTold() {
        farm.at("2026-11-26T07:40:00+02:00").text("Nomsa", "2345 12.7 2 3.9 14.2");
        farm.awaitProjections();
        JsonNode row = one(farm.json("/api/cull?day=2026-11-27").get("rows"), "row", "12");
        assertThat(row.get("loads").toString()).isEqualTo("[{\"plant\":7,\"fruit\":2}]");
        assertThat(row.get("unnamed").asInt()).isEqualTo(2);
    }

    /** Days counted on a calendar: 20 November and 55 days is 14 January, 60 is 19 January, 45 is 4 January. */
    @Test
    @Order(7)
    void fruitIsReadyByItsDays() {
        assertThat(stage("2026-01-03", "9", "2025-11-20")).isEqualTo("too-early");
        assertThat(stage("2026-01-04", "9", "2025-11-20")).isEqualTo("ripening");
        assertThat(stage("2026-01-13", "9", "2025-11-20")).isEqualTo("ripening");
        assertThat(stage("2026-01-14", "9", "2025-11-20")).isEqualTo("ready");
        assertThat(stage("2026-01-19", "1", "2025-11-20")).isEqualTo("over");
        JsonNode harvest = farm.json("/api/harvest?day=2026-01-14");
        assertThat(harvest.get("tables").toString())
                .contains("Goossen, citing Loy")
                .contains("our default");
    }

    private static String stage(String day, String row, String morning) {
        JsonNode found = one(farm.json("/api/harvest?day=" + day).get("rows"), "row", row);
        return one(found.get("groups"), "morning", morning).get("stage").asText();
    }

    @Test
    @Order(7)
    void whatCameInThatDayIsListedAndWhatHasNoTieIsNotSeed() {
        JsonNode early = farm.json("/api/harvest?day=2025-12-30").get("broughtIn");
        assertThat(early).hasSize(1);
        assertThat(early.get(0).get("age").asInt()).isEqualTo(36);
        assertThat(early.get(0).get("early").asBoolean()).isTrue();

        JsonNode harvest = farm.json("/api/harvest?day=2026-01-19");
        assertThat(texts(harvest.get("broughtIn"), "tie")).containsExactly("004500", "004501", "004502", "004503");
        assertThat(harvest.get("withoutTie").get(0).get("row").asText()).isEqualTo("13");
        assertThat(harvest.get("withoutTie").get(0).get("count").asInt()).isEqualTo(2);
        assertThat(farm.get("/harvest?day=2026-01-19").body()).contains("Without a tie number: not seed.");
    }

    @Test
    @Order(7)
    void fruitIsHeldForItsWeeks() {
        JsonNode held = farm.json("/api/harvest?day=2026-02-06").get("curing");
        JsonNode lot = one(held, "lot", "AS-A");
        // Brought in on 17 January; three weeks later is 7 February, four 14 February.
        assertThat(lot.get("state").asText()).isEqualTo("curing");
        assertThat(lot.get("ready").asText()).isEqualTo("2026-02-07");
        assertThat(lot.get("place").asText()).isEqualTo("Shed, upper shelf");
        assertThat(one(farm.json("/api/harvest?day=2026-02-07").get("curing"), "lot", "AS-A")
                        .get("state")
                        .asText())
                .isEqualTo("ready");
        assertThat(one(farm.json("/api/harvest?day=2026-02-10").get("curing"), "lot", "AS-A")
                        .get("state")
                        .asText())
                .isEqualTo("seed-out");
    }

    /** 27/13, 28/14 and 29/15 with base 10: 10, 11 and 12 by the simple average, and two days later two are missing. */
    @Test
    @Order(8)
    void degreeDaysAreAddedUpAndMissingDaysAreSaid() {
        JsonNode row = one(farm.json("/api/harvest?day=2025-11-22").get("rows"), "row", "9");
        JsonNode warmth = row.get("groups").get(0).get("degreeDays");
        assertThat(warmth.get("simple").asDouble()).isEqualTo(33);
        assertThat(warmth.get("sine").asDouble()).isEqualTo(33);
        assertThat(warmth.get("missing").asInt()).isZero();
        JsonNode later = one(farm.json("/api/harvest?day=2025-12-10").get("rows"), "row", "9");
        assertThat(later.get("groups").get(0).get("degreeDays").get("missing").asInt())
                .isEqualTo(2);
        assertThat(farm.get("/harvest?day=2025-12-10").body()).contains("nothing is known of 2 of 21 days");
    }

    @Test
    @Order(9)
    void temperaturesAreTakenWholeOrNotAtAll() {
        farm.at("2026-11-28T08:00:00+02:00");
        assertThat(temperatures("date,tmax_c,tmin_c\n2026-11-26,30,14\n2026-11-27,warm,15", "w8"))
                .contains("line 3")
                .contains("Nothing was entered");
        assertThat(temperatures("date,tmax_c,tmin_c\n2026-11-29,30,14", "w8")).contains("still to come");
        assertThat(temperatures("date,tmax_c,tmin_c\n2026-11-26,30,14", "w1")).contains("choose who enters it");
        assertThat(farm.json("/api/harvest").get("temperatureDays").asInt()).isZero();
        assertThat(temperatures("date,tmax_f,tmin_f\n2026-11-26,86,50", "w8")).isEmpty();
        assertThat(temperatures("date,tmax_c,tmin_c\n2026-11-26,28,12\n2026-11-27,28,12", "w8"))
                .isEmpty();
        JsonNode group = one(farm.json("/api/harvest").get("rows"), "row", "12")
                .get("groups")
                .get(0);
        // Put right from 86 and 50 to 28 and 12: ten each day.
        assertThat(group.get("degreeDays").get("simple").asDouble()).isEqualTo(20);
        assertThat(group.get("degreeDays").get("missing").asInt()).isEqualTo(1);
    }

    private static String temperatures(String csv, String by) {
        HttpResponse<String> response = farm.post("/harvest/temperatures", Map.of("csv", csv, "by", by));
        return response.statusCode() == 302 ? "" : response.body();
    }

    /** Counted by hand from the script. */
    @Test
    @Order(10)
    void aSeasonIsCounted() {
        JsonNode season = farm.json("/api/season?year=2025");

        assertThat(season.get("season").asText()).isEqualTo("2025/26");

        assertThat(season.get("years").toString()).isEqualTo("[2026,2025]");
        JsonNode spindle = one(season.get("cultivars"), "name", "Amber Spindle");
        assertThat(spindle.get("pegged").asInt()).isEqualTo(8 + 6 + 2 + 3 + 4 + 6 + 8 + 8);
        assertThat(spindle.get("tied").asInt()).isEqualTo(6 + 5 + 2 + 3 + 4 + 5 + 7 + 8);
        assertThat(spindle.get("lost").asInt()).isEqualTo(2 + 2 + 1 + 1);
        assertThat(spindle.get("onVine").asInt()).isEqualTo(2);
        assertThat(spindle.get("culled").asInt()).isEqualTo(2);
        assertThat(spindle.get("broughtIn").asInt()).isEqualTo(36);
        assertThat(spindle.get("withoutTie").asInt()).isEqualTo(2);
        assertThat(spindle.get("setPercent").asInt()).isEqualTo(95);
        assertThat(one(season.get("cultivars"), "name", "Nightjar").has("setPercent"))
                .isFalse();
        assertThat(season.get("mornings")).hasSize(6);
        assertThat(season.get("broughtIn").get(0).get("day").asText()).isEqualTo("2025-12-30");
    }

    /**
     * 94.5 g of 4 fruit, 109 of 5 and 188 of 8: 391.5 of 17, 23.029 each; off by 2.3824, -6.1471 and 3.7647, squared over the
     * fruit 1.4190, 7.5573 and 1.7716, over two 5.3740. Student's t of two degrees of freedom is 4.30265 (any table):
     * 4.30265 * sqrt(5.3740 / 17) = 2.419.
     */
    @Test
    @Order(10)
    void whatAFruitGivesIsLearntFromLots() {
        JsonNode learnt = one(farm.json("/api/season?year=2025").get("learnt"), "cultivar", "Amber Spindle");

        assertThat(learnt.get("lots").asInt()).isEqualTo(3);
        assertThat(learnt.get("fruit").asInt()).isEqualTo(17);
        JsonNode grams = learnt.get("gramsPerFruit");
        assertThat(grams.get("middle").asDouble()).isBetween(23.028, 23.030);
        assertThat(grams.get("high").asDouble() - grams.get("middle").asDouble())
                .isBetween(2.418, 2.420);
        // That season is over: nothing of it is still to come.
        assertThat(learnt.has("grams")).isFalse();
        JsonNode greycap = one(farm.json("/api/season?year=2025").get("learnt"), "cultivar", "Greycap Nine");
        assertThat(greycap.has("gramsPerFruit")).isFalse();
        assertThat(greycap.get("says").asText()).contains("Too little is known: 1 lot");
    }

    /**
     * Of 40 ties of Amber Spindle in the season before 36 came in. Of n on the vine n 36.5 / 41 are expected (Jeffreys'
     * prior), each with 391.5 / 17 g.
     */
    @Test
    @Order(10)
    void whatIsToComeIsToldByWhatCameInBefore() {
        JsonNode season = farm.json("/api/season?year=2026");
        JsonNode learnt = one(season.get("learnt"), "cultivar", "Amber Spindle");

        assertThat(season.get("isOver").asBoolean()).isFalse();
        int ties = learnt.get("onVine").asInt();
        assertThat(ties).isPositive();
        assertThat(learnt.get("keptOf").asText()).isEqualTo("40 ties of Amber Spindle in 2025/26");
        assertThat(learnt.get("kept").get("middle").asDouble()).isEqualTo(90);
        double expected = ties * 36.5 / 41 * 391.5 / 17;
        assertThat(learnt.get("grams").get("middle").asDouble()).isBetween(expected - 1e-6, expected + 1e-6);
        assertThat(learnt.get("grams").get("low").asDouble()).isLessThan(expected);
        assertThat(farm.get("/season?year=2026").body()).contains("id=\"c-to-come-d\"", "id=\"c-fates-d\"");
        assertThat(farm.get("/season?year=2025").body()).doesNotContain("c-to-come");
    }

    /** Six fruit of five dams that were named, each seed in a lot of its own: as much of each dam is five dams' worth. */
    @Test
    @Order(10)
    void plantsThatWereNamedAreFollowed() {
        JsonNode descent = farm.json("/api/lot/LB-MIX").get("descent");

        assertThat(descent.get("dams").asInt()).isEqualTo(5);
        assertThat(descent.get("unnamed").asInt()).isZero();
        assertThat(descent.get("sizes").get(0).get("value").asDouble()).isBetween(5 - 1e-9, 5 + 1e-9);
        assertThat(texts(descent.get("gave"), "dam"))
                .containsExactlyInAnyOrder("2025/22.3", "2025/22.8", "2025/23.5", "2025/23.12", "2025/23.20");
        assertThat(descent.get("gave"))
                .allSatisfy(dam -> assertThat(dam.get("share").asDouble()).isBetween(0.2 - 1e-9, 0.2 + 1e-9));
        assertThat(farm.json("/api/trace?packet=LB-MIX.7").get("flowers").findValuesAsText("tie"))
                .containsExactlyInAnyOrder("004606", "004607", "004608", "004609", "004610", "004611");
        assertThat(farm.json("/api/pairing?morning=2025-11-26")
                        .get("cultivars")
                        .get(0)
                        .get("pairs"))
                .hasSize(6);
        assertThat(farm.json("/api/bulk?cultivar=Late+Bronze&grams=60").get("parts"))
                .hasSize(6);
    }

    @Test
    @Order(10)
    void aSeasonIsTakenAwayAsATable() {
        List<String> lines =
                farm.get("/api/season.csv?year=2025").body().lines().toList();

        assertThat(lines.get(0)).startsWith("season,planting,cultivar,pegged,tied,");
        assertThat(lines).hasSize(5);
        assertThat(lines.get(2)).startsWith("2025/26,Long strip,Amber Spindle,45,40,40,6,2,2,36,2,");
        assertThat(farm.get("/season?year=2025").body())
                .contains("Season 2025/26")
                .contains("<svg class=\"plot low\"");
        assertThat(farm.get("/season?year=3000").statusCode()).isEqualTo(400);
        assertThat(farm.get("/season?year=1999").body()).contains("Nothing was reported of this season yet.");
        assertThat(farm.get("/api/cull?day=yesterday").statusCode()).isEqualTo(400);
    }

    /** A tie that two rows have is on the fruit of the later report, and is one fruit of the season all the same. */
    @Test
    @Order(10)
    void aTieOfTwoRowsIsOneFruit() {
        JsonNode before = farm.json("/api/season?year=2026").get("total");
        assertThat(onVine("12")).contains("004700", "004701");

        farm.at("2026-11-26T07:50:00+02:00").text("Nomsa", "5 13 004700");
        farm.awaitProjections();
        JsonNode after = farm.json("/api/season?year=2026").get("total");
        assertThat(onVine("12")).doesNotContain("004700").contains("004701");
        assertThat(onVine("13")).contains("004700");
        assertThat(after.get("numbered").asInt())
                .isEqualTo(before.get("numbered").asInt());
        assertThat(after.get("tied").asInt()).isGreaterThan(before.get("tied").asInt());

        // Taken back, it is on the first row again.
        farm.at("2026-11-26T07:55:00+02:00").text("Nomsa", "0");
        farm.awaitProjections();
        assertThat(onVine("12")).contains("004700");
    }

    private static List<String> onVine(String row) {
        return StreamSupport.stream(
                        farm.json("/api/cull?day=2026-11-27").get("rows").spliterator(), false)
                .filter(one -> one.get("row").asText().equals(row))
                .flatMap(one -> StreamSupport.stream(one.get("ties").spliterator(), false))
                .map(JsonNode::asText)
                .toList();
    }

    /** What is texted by others on a farm at work is not buried under a season of invention. */
    @Test
    @Order(11)
    void aFarmAtWorkIsLeftAlone() {
        try (TestFarm busy = new TestFarm(Engine.asked())) {
            busy.at("2026-11-25T17:00:00+02:00").text("Nomsa", "1 12 6 m 12");
            assertThat(busy.bean(DemoSeason.class).play(NOW)).isEmpty();
        }
    }

    /** Stopped in the middle, it goes on where it was, and nothing is there twice. */
    @Test
    @Order(12)
    void aSeasonThatWasCutShortIsGoneOnWith() throws InterruptedException {
        try (TestFarm stopped = new TestFarm(Engine.asked(), "--duskpeg.demo-season=true")) {
            List<Long> sizes = new ArrayList<>();
            for (int stop = 0; stop < 3; stop++) {
                Thread.sleep(700);
                stopped.restart();
                sizes.add(count(stopped));
            }
            long deadline = System.nanoTime() + 60_000_000_000L;
            while (!stopped.json("/api/lot/AS-C").path("state").asText().equals("released")
                    && System.nanoTime() < deadline) {
                Thread.sleep(100);
            }
            assertThat(stopped.json("/api/lot/AS-C").path("state").asText()).isEqualTo("released");
            long straight;
            try (TestFarm other = new TestFarm(Engine.asked())) {
                other.bean(DemoSeason.class).play(Instant.now());
                straight = count(other);
            }
            assertThat(sizes.get(0)).isLessThanOrEqualTo(straight);
            assertThat(count(stopped)).isEqualTo(straight);
        }
    }

    private static long count(TestFarm of) {
        return of.bean(JdbcClient.class)
                .sql("select count(*) from event")
                .query(Long.class)
                .single();
    }
}
