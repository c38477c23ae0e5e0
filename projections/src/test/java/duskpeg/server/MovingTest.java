package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Map;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

/** Somebody is moved to where she is needed, over HTTP: one click, and she is told by text. */
class MovingTest {

    private static final String MOVES = "/api/moves?morning=2026-11-26";

    private final TestFarm farm = new TestFarm(Engine.H2);

    @AfterEach
    void close() {
        farm.close();
    }

    @Test
    void whoIsMovedIsToldAndTheForecastTakesHerToBeThere() {
        farm.at("2026-11-25T17:10:00+02:00");
        farm.text("Nomsa", "1 1 30 m 60");
        farm.text("Pieter", "1 9 60 m 120");
        farm.text("Lerato", "1 17 30 m 60");
        farm.text("+15555550104", "1 24 100 m 200");
        for (int turn = 0; turn < 6; turn++) {
            farm.at("2026-11-26T0" + (6 + turn / 4) + ":" + (10 + 15 * (turn % 4)) + ":00+02:00");
            farm.text("Nomsa", "2345 1 5");
            farm.text("Pieter", "2345 9 4");
            farm.text("Lerato", "2345 17 5");
        }
        farm.at("2026-11-26T07:30:00+02:00").awaitProjections();

        JsonNode proposal = farm.json(MOVES);
        JsonNode move = proposal.get("moves").get(0);
        assertThat(move.get("before").asDouble())
                .isEqualTo(proposal.get("byLimit").asDouble());
        assertThat(move.get("after").asDouble())
                .isGreaterThan(move.get("before").asDouble());
        String row = move.get("to").asText();
        String left = move.get("left").asText();

        assertThat(farm.post("/board/moves", Map.of("worker", move.get("worker").asText(), "row", row, "left", left))
                        .statusCode())
                .isEqualTo(302);

        assertThat(Received.by(farm, move.get("name").asText(), 1))
                .singleElement()
                .satisfies(words -> assertThat(words).contains("row " + row, left));
        assertThat(farm.json(MOVES).get("byLimit").asDouble())
                .isEqualTo(move.get("after").asDouble());
        for (JsonNode one : farm.json("/api/forecast?morning=2026-11-26").get("rows")) {
            if (one.get("row").asText().equals(row)) {
                assertThat(one.get("evidence").get("workers"))
                        .extracting(JsonNode::asText)
                        .contains(move.get("worker").asText());
            }
        }
    }
}
