package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.OffsetDateTime;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The forecast of a morning, over HTTP, as its reports come in. */
@OnBothEngines
class ForecastTest {

    private static final String FORECAST = "/api/forecast?morning=2026-11-26";

    private static TestFarm farm;

    @BeforeAll
    static void start() {
        farm = new TestFarm(Engine.asked());
        farm.at("2026-11-25T17:10:00+02:00");
        farm.text("Nomsa", "1 12 40 m 80");
        farm.text("Pieter", "1 13 30 m 60");
        for (int n = 0; n < 5; n++) {
            farm.at("2026-11-26T06:" + (10 + 10 * n) + ":00+02:00");
            farm.text("Nomsa", "2345 12 5");
            farm.text("Pieter", "2345 13 4");
        }
        farm.awaitProjections();
    }

    @AfterAll
    static void stop() {
        farm.close();
    }

    @Test
    void theEveningBeforeThereIsAWideGuess() {
        JsonNode forecast = farm.at("2026-11-26T17:10:00+02:00").json("/api/forecast");

        assertThat(forecast.get("morning").asText()).isEqualTo("2026-11-27");
        assertThat(forecast.get("whole").isNull()).isTrue();
        assertThat(forecast.get("rows")).isEmpty();
        assertThat(forecast.get("note").asText()).contains("from earlier mornings");
    }

    @Test
    void rowsAndTheWholeHaveTheirTimesAndChances() {
        JsonNode forecast = farm.at("2026-11-26T06:55:00+02:00").json(FORECAST);

        assertThat(forecast.get("limit").asText()).isEqualTo("2026-11-26T10:00:00+02:00");
        assertThat(forecast.get("reports").asInt()).isEqualTo(10);
        assertThat(forecast.get("note").asText()).isEqualTo("From 10 reports of this morning.");
        assertThat(forecast.get("rows").findValuesAsText("row")).containsExactly("12", "13");
        for (JsonNode finish : forecast.findValues("finish")) {
            rises(finish);
        }
        rises(forecast.get("whole"));
        JsonNode evidence = forecast.get("rows").get(0).get("evidence");
        assertThat(evidence.get("workers").get(0).asText()).isEqualTo("w1");
        assertThat(evidence.get("reports").asInt()).isEqualTo(5);
        assertThat(evidence.get("flowersAnHour").asDouble()).isBetween(20.0, 40.0);
        assertThat(evidence.get("work").asDouble()).isBetween(14.0, 15.0);
    }

    private static void rises(JsonNode finish) {
        assertThat(OffsetDateTime.parse(finish.get("p10").asText()))
                .isBefore(OffsetDateTime.parse(finish.get("p50").asText()));
        assertThat(OffsetDateTime.parse(finish.get("p50").asText()))
                .isBefore(OffsetDateTime.parse(finish.get("p90").asText()));
        assertThat(finish.get("byNow").asDouble())
                .isBetween(0.0, finish.get("byTarget").asDouble());
        assertThat(finish.get("byTarget").asDouble())
                .isBetween(0.0, finish.get("byLimit").asDouble());
        assertThat(finish.get("byLimit").asDouble()).isLessThanOrEqualTo(1);
    }

    @Test
    void theSameQuestionIsAnsweredTheSame() {
        assertThat(farm.at("2026-11-26T06:56:00+02:00").json(FORECAST)).isEqualTo(farm.json(FORECAST));
    }

    @Test
    void theBoardSaysItInWords() {
        String board = farm.at("2026-11-26T06:55:00+02:00")
                .get("/board?morning=2026-11-26")
                .body();

        assertThat(board).contains("All tied about", "chance of the limit", "From 10 reports of this morning.");
    }

    @Test
    void whatWillMissIsMarkedInWordsToo() {
        String board = farm.at("2026-11-26T09:50:00+02:00")
                .get("/board?morning=2026-11-26")
                .body();

        assertThat(board).contains("At risk.", "at risk: chance of the limit");
    }

    @Test
    void aMorningThatHasPassedIsNotForecastOnTheBoard() {
        String board = farm.at("2026-11-28T09:50:00+02:00")
                .get("/board?morning=2026-11-26")
                .body();

        assertThat(board).doesNotContain("All tied about").doesNotContain("expected finish");
    }

    @ParameterizedTest
    @ValueSource(strings = {"1900-01-01", "2199-12-31", "%2B999999999-01-01"})
    void ofOtherTimesNothingIsSaid(String morning) {
        JsonNode forecast = farm.json("/api/forecast?morning=" + morning);

        assertThat(forecast.get("rows")).isEmpty();
        assertThat(forecast.get("whole").isNull()).isTrue();
    }

    @Test
    void badInputIsAProblem() {
        assertThat(farm.get("/api/forecast?morning=soon").statusCode()).isEqualTo(400);
        assertThat(farm.get("/api/forecast?farm=nowhere").statusCode()).isEqualTo(404);
    }
}
