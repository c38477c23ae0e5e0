package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import duskpeg.projections.rebuild.Rebuild;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;

/** What is taken back, corrected, named by plant, finished and forgiven, over HTTP. Each test has rows of its own. */
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
@OnBothEngines
class SayingItAnewTest {

    private static final String EVENING = "2026-11-25T17:10:00+02:00";
    private static final String MORNING = "2026-11-26";
    private static final String DAWN = "2026-11-26T08:08:00+02:00";
    private static final String LATE = "2026-11-26T10:20:00+02:00";

    private static TestFarm farm;

    @BeforeAll
    static void start() {
        farm = new TestFarm(Engine.asked());
    }

    @AfterAll
    static void stop() {
        farm.close();
    }

    private static String next(int worker) {
        return farm.json("/api/farm")
                .get("workers")
                .get(worker)
                .get("strips")
                .get(0)
                .get("next")
                .asText();
    }

    @Test
    @Order(1)
    void partOfALineIsTakenBackAndItsTiesAreFreeAgain() {
        farm.at(EVENING).text("Nomsa", "1 12 14 28");
        farm.at(DAWN).text("Nomsa", "2345 12 6");

        assertThat(farm.text("Nomsa", "0 12 2"))
                .isEqualTo("Taken back: row 12: 2 opened, pollinated, bagged, tied 004704-004705."
                        + " Stands: row 12: 4 opened, pollinated, bagged, tied 004700-004703.");
        assertThat(farm.counts(MORNING, "12"))
                .isEqualTo("pegged 14, males 28, opened 4, pollinated 4, bagged 4, tied 4, lost 0, left 10");
        assertThat(farm.questions(MORNING, "12")).isEmpty();
        assertThat(next(0)).isEqualTo("004704");
        assertThat(farm.fruit("004703").get("acts").findValuesAsText("grade"))
                .containsExactly("row", "fruit", "fruit", "fruit", "fruit");
        assertThat(farm.get("/api/fruit/004705").statusCode()).isEqualTo(404);
    }

    @Test
    @Order(2)
    void aTieIsTakenBackAloneAndTheRestOfItsLineStands() {
        assertThat(farm.at(DAWN).text("Nomsa", "0 4701"))
                .isEqualTo("Taken back: row 12: 1 opened, pollinated, bagged, tied 004701."
                        + " Stands: row 12: 3 opened, pollinated, bagged, tied 004700 004702-004703.");
        assertThat(farm.row(MORNING, "12").get("tied").asInt()).isEqualTo(3);
        assertThat(farm.text("Pieter", "0 4700")).isEqualTo("Nothing of yours to take back.");
        assertThat(farm.fruit("004700").get("state").asText()).isEqualTo("tied");
    }

    @Test
    @Order(3)
    void aNumberThatAnotherSaidTooStaysUsed() {
        farm.at(EVENING).text("Lerato", "1 9 4 8");
        farm.at(DAWN).text("Pieter", "2345 13 1");
        farm.text("Lerato", "5 9 4750");
        assertThat(farm.text("Lerato", "0 4750")).startsWith("Taken back: row 9: 1 tied 004750.");

        assertThat(farm.fruit("004750").get("row").asText()).isEqualTo("13");
        assertThat(farm.fruit("004750").get("questions")).isEmpty();
        assertThat(next(1)).isEqualTo("004751");
    }

    @Test
    @Order(4)
    void aCorrectionKeepsTheTimeAndTheTies() {
        farm.at(EVENING).text("Lerato", "1 10 9 18");
        farm.at(DAWN).text("Lerato", "2345 10 6; 8 10 1");
        farm.text("Lerato", "2345 9 1");

        assertThat(farm.at(LATE).text("Lerato", "00 2345 10 5"))
                .isEqualTo("Corrected, was row 10: 6 opened, pollinated, bagged, tied 004800-004805."
                        + " Row 10: 5 opened, pollinated, bagged, tied 004800-004804. 3 left.");
        assertThat(farm.counts(MORNING, "10"))
                .isEqualTo("pegged 9, males 18, opened 5, pollinated 5, bagged 5, tied 5, lost 1, left 3");
        assertThat(farm.questions(MORNING, "10")).isEmpty();
        assertThat(farm.text("Lerato", "wrong 1 10 8 16"))
                .isEqualTo("Corrected, was row 10: 9 pegged. Row 10: 8 pegged for 26 Nov. Males 16 of 16.");
        assertThat(farm.row(MORNING, "10").get("tied").asInt()).isEqualTo(5);
    }

    @Test
    @Order(5)
    void aCorrectionOfNothingIsNotedAsNew() {
        assertThat(farm.at(EVENING).text("Ruth", "00 1 11 6 12"))
                .isEqualTo(
                        "Nothing of yours to correct, so noted as new. Row 11: 6 pegged for 26 Nov. Males 12 of 12.");
        assertThat(farm.text("Ruth", "00 1 99 6")).startsWith("No row 99");
    }

    @Test
    @Order(6)
    void aFruitIsCorrectedByItsTie() {
        farm.at("2026-12-04T16:00:00+02:00").text("Lerato", "6 4800-4801");

        assertThat(farm.text("Lerato", "00 40 4800")).isEqualTo("Corrected, was culled 004800. Bags off 1: 004800.");
        assertThat(farm.fruit("004800").get("state").asText()).isEqualTo("tied");
        assertThat(farm.fruit("004801").get("state").asText()).isEqualTo("culled");
    }

    @Test
    @Order(7)
    void bagsTakenOffAreInTheHistory() {
        assertThat(farm.at("2026-12-01T07:00:00+02:00").text("Nomsa", "40 12 3"))
                .isEqualTo("Row 12: 3 unbagged.");
        assertThat(farm.text("Nomsa", "unbag 4702")).isEqualTo("Bags off 1: 004702.");

        JsonNode acts = farm.fruit("004702").get("acts");
        assertThat(acts.findValuesAsText("act")).endsWith("unbagged", "unbagged");
        assertThat(acts.findValuesAsText("grade")).endsWith("row", "fruit");
        assertThat(farm.get("/fruit/004702").body()).contains("of row 12:");
    }

    @Test
    @Order(8)
    void aPlantAndItsSiresAreKeptAndShown() {
        assertThat(farm.at(EVENING).text("Ruth", "1 14.7 2 from 9.3 10.2"))
                .isEqualTo("Row 14 (14.7 x 9.3, 10.2): 2 pegged for 26 Nov. Males not said, 4 needed.");
        assertThat(farm.at(DAWN).text("Ruth", "75*2345*14*7*1#"))
                .isEqualTo("Row 14: 1 opened, pollinated, bagged, tied 005050 (14.7). 1 left. 1h52 to 10:00.");
        assertThat(farm.text("Ruth", "9 14.7"))
                .isEqualTo("Row 14.7, 26 Nov: 2 pegged, 1 tied, 0 lost, 1 left. 1h52 to 10:00.");
        assertThat(farm.questions(MORNING, "14")).isEmpty();

        JsonNode fruit = farm.fruit("005050");
        assertThat(fruit.get("plant").asInt()).isEqualTo(7);
        assertThat(fruit.get("acts").get(0).get("sires").toString()).isEqualTo("[\"9.3\",\"10.2\"]");
        assertThat(farm.get("/fruit/005050").body()).contains("14.7", "with males from 9.3 and 10.2");
    }

    @Test
    @Order(9)
    void whatCannotBeOfPlantsAndSiresIsAsked() {
        farm.at(EVENING);
        assertThat(farm.text("Ruth", "1 15.41 1 2")).contains("no plant 15.41, row 15 has 40");
        assertThat(farm.text("Ruth", "1 15.7 1 2 from 15.7 17.2"))
                .contains("male from 15.7, the same plant")
                .contains("male from 17.2 is of another cultivar");
        assertThat(farm.text("Ruth", "1 16.7 1 2 from 15.7")).contains("only one male named, from 15.7");
        assertThat(farm.text("Ruth", "1 16.8 1 2 from 15.7 15.7")).contains("both males from 15.7");
        assertThat(farm.questions(MORNING, "15")).contains("plant-not-there", "sire-is-dam", "sire-of-another");
    }

    @Test
    @Order(10)
    void aRowIsSaidToBeFinished() {
        farm.at(EVENING).text("Pieter", "1 17 3 6");
        assertThat(farm.at(DAWN).text("Pieter", "2345 17 2; 90 17"))
                .contains("1 left.")
                .contains("CHECK: you said finished, 1 left.");
        assertThat(farm.row(MORNING, "17").get("finished").asBoolean()).isTrue();
        assertThat(farm.questions(MORNING, "17")).containsExactly("finished-with-left");
        assertThat(farm.get("/board?morning=" + MORNING).body()).contains("said to be finished");

        assertThat(farm.text("Pieter", "8 17 1 torn; row 17 is finished"))
                .isEqualTo("Row 17: 1 lost (torn). 0 left. 1h52 to 10:00. Row 17 finished. 0 left. 1h52 to 10:00.");
        assertThat(farm.questions(MORNING, "17")).isEmpty();
        assertThat(farm.text("Pieter", "0 17")).contains("row 17: finished");
        assertThat(farm.row(MORNING, "18").get("finished").asBoolean()).isFalse();
    }

    @Test
    @Order(11)
    void theNextRowIsTheOneWithMostLeftWhereNobodyIs() {
        farm.at(EVENING).text("Nomsa", "1 20 30 60");
        farm.text("Nomsa", "1 21 20 40");
        farm.at(DAWN).text("Ruth", "2 20 1");

        assertThat(farm.text("Pieter", "next")).isEqualTo("Next: row 21, 20 left. 1h52 to 10:00.");
        assertThat(farm.text("Ruth", "9 0")).startsWith("Next: row 20, 30 left.");
        assertThat(farm.at("2026-12-24T08:00:00+02:00").text("Ruth", "9 0"))
                .isEqualTo("Nothing is left to do, 24 Dec. 2h00 to 10:00.");
    }

    @Test
    @Order(12)
    void aSlipOfTheThumbIsForgivenAndSaid() {
        assertThat(farm.at(EVENING).text("Nomsa", "pegd 22 14 28"))
                .isEqualTo("\"pegd\" = pegged. Row 22: 14 pegged for 26 Nov. Males 28 of 28.");
        assertThat(farm.text("Nomsa", "unbeg 22 1")).startsWith("NOT NOTED.");
    }

    @Test
    @Order(13)
    void allOfItIsTheSameAfterARebuild() {
        farm.at(DAWN).awaitProjections();
        String board = farm.get("/api/board?morning=" + MORNING).body();
        String fruit = farm.get("/api/fruit/004702").body();
        String crew = farm.get("/api/farm").body();

        farm.bean(Rebuild.class).everything();

        assertThat(farm.get("/api/board?morning=" + MORNING).body()).isEqualTo(board);
        assertThat(farm.get("/api/fruit/004702").body()).isEqualTo(fruit);
        assertThat(farm.get("/api/farm").body()).isEqualTo(crew);
    }
}
