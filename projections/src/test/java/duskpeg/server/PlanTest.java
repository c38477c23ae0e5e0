package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpResponse;
import java.util.LinkedHashMap;
import java.util.Map;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** The evening's plan, over HTTP. */
@OnBothEngines
class PlanTest {

    private static final String MORNING = "2026-11-26";

    private TestFarm farm;

    @BeforeEach
    void open() {
        farm = new TestFarm(Engine.asked()).at("2026-11-25T17:30:00+02:00");
        farm.text("Nomsa", "1 1 14 m 24");
        farm.text("Pieter", "1 2 10 m 30");
        farm.text("Lerato", "1 12.7 1 2 from 12.7 14.2");
        farm.awaitProjections();
    }

    @AfterEach
    void close() {
        farm.close();
    }

    private JsonNode plan() {
        return farm.json("/api/plan");
    }

    private HttpResponse<String> roster(String by, String... workers) {
        Map<String, String> form = new LinkedHashMap<>();
        form.put("farm", "marrowfield");
        form.put("morning", MORNING);
        form.put("start", "05:00");
        form.put("by", by);
        if (workers.length > 0) {
            form.put("crew", workers[0]);
        }
        return workers.length < 2 ? farm.post("/plan/roster", form) : farm.post("/plan/roster?" + rest(workers), form);
    }

    private static String rest(String... workers) {
        StringBuilder rest = new StringBuilder();
        for (int i = 1; i < workers.length; i++) {
            rest.append(i == 1 ? "" : "&").append("crew=").append(workers[i]);
        }
        return rest.toString();
    }

    @Test
    void inTheAfternoonItIsThePlanOfTomorrow() {
        JsonNode plan = plan();

        assertThat(plan.get("morning").asText()).isEqualTo(MORNING);
        assertThat(plan.get("females").asInt()).isEqualTo(25);
        JsonNode greycap = plan.get("cultivars").get(0);
        assertThat(greycap.get("needed").asInt()).isEqualTo(48);
        assertThat(greycap.get("males").asInt()).isEqualTo(54);
        assertThat(greycap.get("spare").asInt()).isEqualTo(6);
        assertThat(greycap.get("takers").get(0).get("row").asText()).isEqualTo("1");
        assertThat(greycap.get("givers").get(0).get("spare").asInt()).isEqualTo(10);
        assertThat(plan.get("warnings").findValuesAsText("kind")).containsExactly("sire-is-dam");
        assertThat(plan.get("roomOfMales").asInt()).isEqualTo(3);
    }

    @Test
    void thePageSaysItToo() {
        assertThat(farm.get("/plan").body())
                .contains("Plan for", "Greycap Nine", "row 1: 4 short", "row 2: 10 spare", "own plant");
    }

    @Test
    void fewerPeopleHaveALowerChanceAndLessRoom() {
        JsonNode all = plan();
        assertThat(all.get("rostered").asBoolean()).isFalse();
        assertThat(all.get("crew")).hasSize(8);

        assertThat(roster("w8", "w1").statusCode()).isEqualTo(302);
        JsonNode one = plan();

        assertThat(one.get("rostered").asBoolean()).isTrue();
        assertThat(one.get("start").asText()).isEqualTo("2026-11-26T05:00:00+02:00");
        assertThat(one.get("byTarget").asDouble())
                .isLessThan(all.get("byTarget").asDouble());
        assertThat(one.get("roomOfCrew").asInt())
                .isLessThan(all.get("roomOfCrew").asInt());
        assertThat(one.get("hours").asDouble()).isPositive();
    }

    @Test
    void whatWasRosteredLastStands() {
        roster("w8", "w1", "w2");
        roster("w8", "w3");

        assertThat(plan().get("crew"))
                .filteredOn(hand -> hand.get("coming").asBoolean())
                .extracting(hand -> hand.get("name").asText())
                .containsExactly("Lerato");
    }

    @Test
    void onlyASupervisorRosters() {
        HttpResponse<String> refused = roster("w1", "w1");

        assertThat(refused.statusCode()).isEqualTo(422);
        assertThat(refused.body()).contains("choose the supervisor who enters it");
        assertThat(plan().get("rostered").asBoolean()).isFalse();
    }

    @Test
    void aTimeThatIsNoneIsSaidToBe() {
        HttpResponse<String> refused = farm.post(
                "/plan/roster", Map.of("farm", "marrowfield", "morning", MORNING, "start", "early", "by", "w8"));

        assertThat(refused.statusCode()).isEqualTo(422);
        assertThat(refused.body()).contains("is no time");
    }

    @Test
    void theCrewIsToldByText() {
        roster("w8", "w1", "w2");
        farm.post("/plan/tell", Map.of("farm", "marrowfield", "morning", MORNING));
        farm.post("/plan/tell", Map.of("farm", "marrowfield", "morning", MORNING));

        assertThat(Received.by(farm, "Nomsa", 1))
                .containsExactly(
                        "26 Nov: 25 flowers in 3 rows. Be there at 05:00. 10:00 is the limit. Send 9 0 for your row.");
        assertThat(Received.by(farm, "Lerato", 0)).isEmpty();
    }

    @Test
    void withNothingPeggedThereIsAPlanToo() {
        farm.at("2026-12-25T17:30:00+02:00");

        assertThat(plan().get("females").asInt()).isZero();
        assertThat(plan().get("byLimit").isNull()).isTrue();
        assertThat(farm.get("/plan").body()).contains("Nothing is pegged for this morning yet.");
    }
}
