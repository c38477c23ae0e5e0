package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.Test;

/** What an auditor is told of one fruit, at any time. */
@OnBothEngines
class VerdictTest {

    private static String found(JsonNode verdict, String rule) {
        return StreamSupport.stream(verdict.get("evidence").spliterator(), false)
                .filter(one -> one.get("rule").asText().equals(rule))
                .map(one -> one.get("result").asText() + " " + one.get("grade").asText())
                .findFirst()
                .orElseThrow();
    }

    @Test
    void aFruitIsJudgedByWhatWasKnown() {
        try (TestFarm farm = new TestFarm(Engine.asked())) {
            farm.at("2026-11-25T17:00:00+02:00").text("Pieter", "1 12 14 m 28");
            farm.at("2026-11-26T07:00:00+02:00").text("Nomsa", "2345 12 6");
            farm.at("2026-11-26T07:30:00+02:00");
            farm.awaitProjections();
            JsonNode then = farm.json("/api/fruit/4703/verdict");
            assertThat(then.get("verdict").asText()).isEqualTo("unfinished");
            assertThat(then.get("rules").asText()).isEqualTo("2");
            assertThat(found(then, "pegged-the-evening-before")).isEqualTo("holds row");
            assertThat(found(then, "pollinated-in-the-window")).isEqualTo("holds fruit");
            assertThat(found(then, "tied-at-harvest")).startsWith("not-shown");
            assertThat(farm.get("/fruit/4703").body()).contains("Verdict").contains("unfinished");

            farm.at("2027-01-25T09:00:00+02:00").text("Lerato", "7 4703");
            farm.awaitProjections();
            assertThat(farm.json("/api/fruit/4703/verdict").get("verdict").asText())
                    .isEqualTo("pure");
            assertThat(farm.json("/api/fruit/4703/verdict?rules=1&at=2026-11-26T07:30:00%2B02:00")
                            .get("verdict")
                            .asText())
                    .isEqualTo("unfinished");

            // Every event that is named is in the ledger, where it can be proved.
            for (JsonNode one : then.get("evidence")) {
                for (JsonNode event : one.get("events")) {
                    assertThat(farm.get("/api/ledger/event/" + event.asText()).statusCode())
                            .isEqualTo(200);
                }
            }
            for (String wrong : List.of("?rules=0", "?at=yesterday")) {
                assertThat(farm.get("/api/fruit/4703/verdict" + wrong).statusCode())
                        .isEqualTo(400);
            }
            assertThat(farm.get("/api/fruit/4799/verdict").statusCode()).isEqualTo(404);
            assertThat(farm.get("/api/fruit/4703/verdict?at=2026-11-25T12:00:00%2B02:00")
                            .statusCode())
                    .isEqualTo(404);
        }
    }

    @Test
    void aRowsNightIsReadAsItWasKnown() {
        try (TestFarm farm = new TestFarm(Engine.asked())) {
            farm.at("2026-11-25T17:00:00+02:00").text("Pieter", "1 12 14 m 27");
            farm.at("2026-11-26T07:00:00+02:00").text("Nomsa", "2345 12 6");
            farm.at("2026-11-26T07:10:00+02:00").text("Lerato", "2345 12 1");
            farm.text("Lerato", "0");
            farm.awaitProjections();
            JsonNode night = farm.json("/api/row/12/2026-11-26");
            assertThat(night.get("counts").get("pegged").asInt()).isEqualTo(14);
            assertThat(night.get("counts").get("tied").asInt()).isEqualTo(6);
            assertThat(night.get("ties")).hasSize(6);
            assertThat(night.get("takenBack")).hasSize(4);
            assertThat(night.get("questions").findValuesAsText("kind")).containsExactly("males-short");
            assertThat(night.get("acts").get(0).get("words").asText()).isEqualTo("1 12 14 m 27");
            JsonNode then = farm.json("/api/row/12/2026-11-26?at=2026-11-26T06:00:00%2B02:00");
            assertThat(then.get("ties")).isEmpty();
            assertThat(farm.get("/row/12/2026-11-26").body())
                    .contains("4 taken back")
                    .contains("004705");
            assertThat(farm.get("/row/12/2026-11-27").statusCode()).isEqualTo(404);
            assertThat(farm.get("/row/x/2026-11-26").statusCode()).isEqualTo(404);
            assertThat(farm.get("/row/12/never").statusCode()).isEqualTo(400);

            // That morning was under the first rules; today's ask one thing more.
            assertThat(farm.get("/fruit/4703").body())
                    .contains("By the rules of its day, rules <span>1</span>")
                    .contains("neighbours far or bagged: not asked then, holds now");
        }
    }
}
