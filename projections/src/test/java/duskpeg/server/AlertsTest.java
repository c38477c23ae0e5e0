package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.github.kagkarlsson.scheduler.Scheduler;
import duskpeg.projections.rebuild.Rebuild;
import java.net.http.HttpResponse;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Warnings, on the assembled server: each once, seen by text, and never again by a rebuild. */
class AlertsTest {

    private TestFarm farm;

    private void open(Engine engine) {
        farm = new TestFarm(engine).at("2026-11-25T17:30:00+02:00");
        farm.text("Nomsa", "1 12 14 m 20");
        farm.text("Pieter", "1 13 60 m 120");
        farm.awaitProjections();
    }

    @AfterEach
    void close() {
        farm.close();
    }

    private void look(String time) {
        farm.awaitProjections();
        assertThat(farm.at(time).post("/alerts/look", Map.of()).statusCode()).isEqualTo(302);
    }

    private HttpResponse<String> caution(String kind, String planting, String until) {
        return farm.post(
                "/alerts/caution", Map.of("kind", kind, "planting", planting, "from", "", "until", until, "by", "w8"));
    }

    @ParameterizedTest
    @EnumSource
    void theSupervisorIsToldOnceAndAnswersThatSheHasSeenIt(Engine engine) {
        open(engine);

        look("2026-11-26T06:30:00+02:00");
        look("2026-11-26T06:31:00+02:00");

        assertThat(Received.by(farm, "Ruth", 1))
                .containsExactly("NOT STARTED: 74 flowers, and nobody has reported yet. Answer ok.");
        assertThat(Received.by(farm, "Nomsa", 0)).isEmpty();
        assertThat(farm.json("/api/alerts").get("told").get(0).get("seen").isNull())
                .isTrue();

        assertThat(farm.text("Ruth", "ok")).isEqualTo("Thank you, noted as seen.");
        assertThat(farm.json("/api/alerts").get("told").get(0).get("seen").asText())
                .isEqualTo("2026-11-26T06:31:00+02:00");
        assertThat(farm.text("Ruth", "99")).startsWith("Nothing is waiting to be seen.");
    }

    @ParameterizedTest
    @EnumSource
    void whatComesLaterIsToldAndWhatWasToldIsNot(Engine engine) {
        open(engine);
        farm.at("2026-11-26T06:00:00+02:00").text("Nomsa", "2345 12 6");
        farm.text("Pieter", "2345 13 2");

        look("2026-11-26T06:45:00+02:00");
        List<String> first = Received.by(farm, "Ruth", 1);
        assertThat(first).anyMatch(words -> words.startsWith("SILENT: nothing heard of row 12 (45 min), 13 (45 min)."));

        look("2026-11-26T10:01:00+02:00");
        assertThat(Received.by(farm, "Ruth", first.size() + 1))
                .hasSizeGreaterThan(first.size())
                .last()
                .isEqualTo("PAST 10:00: 66 flowers are not tied. Answer ok.");

        farm.bean(Rebuild.class).everything();
        look("2026-11-26T10:02:00+02:00");
        assertThat(Received.by(farm, "Ruth", 0)).hasSize(first.size() + 1);
    }

    @ParameterizedTest
    @EnumSource
    void malesShortAreToldInTheEvening(Engine engine) {
        open(engine);

        look("2026-11-25T18:05:00+02:00");

        assertThat(Received.by(farm, "Ruth", 1)).containsExactly("MALES SHORT for 26 Nov: Amber Spindle 8. Answer ok.");
    }

    @ParameterizedTest
    @EnumSource
    void everybodyIsToldWhatWasSprayedAndNobodyIsSentThere(Engine engine) {
        open(engine);
        farm.at("2026-11-26T06:00:00+02:00");
        farm.awaitProjections();
        assertThat(farm.text("Nomsa", "9 0")).startsWith("Next: row 13");

        assertThat(caution("SPRAY", "Long strip", "2026-11-27T06:00").statusCode())
                .isEqualTo(302);

        assertThat(Received.by(farm, "Nomsa", 1))
                .containsExactly("SPRAYED: Long strip. Do NOT enter before 27 Nov 06:00. The label governs: ask the"
                        + " supervisor. Answer ok.");
        // The server looks at all there is when a caution is entered.
        assertThat(Received.by(farm, "Ruth", 2))
                .anyMatch(words -> words.startsWith("SPRAYED: Long strip."))
                .anyMatch(words -> words.startsWith("NOT STARTED:"));
        assertThat(farm.text("Nomsa", "9 0")).startsWith("Nothing is left to do");
        assertThat(chanceOfTheLimit()).isZero();
        assertThat(farm.get("/alerts").body()).contains("SPRAYED, do not enter", "Long strip");
        assertThat(farm.get("/board").body()).contains("Row 12, do not enter");
        String sprayed = "Sprayed: Long strip. Do not enter before 27 Nov 06:00. The label governs.";
        assertThat(farm.get("/board").body()).contains(sprayed);
        assertThat(farm.get("/board?view=wall").body()).contains(sprayed);

        farm.at("2026-11-26T06:10:00+02:00")
                .post(
                        "/alerts/withdraw",
                        Map.of(
                                "kind", "SPRAY",
                                "planting", "Long strip",
                                "from", "2026-11-26T06:00",
                                "until", "2026-11-27T06:00",
                                "by", "w8"));
        assertThat(farm.json("/api/alerts").get("cautions")).isEmpty();
        assertThat(farm.text("Nomsa", "9 0")).startsWith("Next: row 13");
        assertThat(chanceOfTheLimit()).isPositive();
    }

    private double chanceOfTheLimit() {
        return farm.json("/api/forecast?morning=2026-11-26")
                .get("whole")
                .get("byLimit")
                .asDouble();
    }

    @ParameterizedTest
    @EnumSource
    void aCautionThatCannotBeIsNotEntered(Engine engine) {
        open(engine);

        assertThat(caution("SPRAY", "Nowhere", "2026-11-27T06:00").body()).contains("there is no planting Nowhere");
        assertThat(caution("SPRAY", "", "").body()).contains("say until when");
        assertThat(caution("SPRAY", "", "2020-01-01T06:00").statusCode()).isEqualTo(422);
        assertThat(caution("FROST", "", "2026-11-27T06:00").statusCode()).isEqualTo(422);
        assertThat(caution("HEAT", "", "soon").statusCode()).isEqualTo(422);
        JsonNode alerts = farm.json("/api/alerts");
        assertThat(alerts.get("cautions")).isEmpty();
        assertThat(alerts.get("told")).isEmpty();
    }

    @ParameterizedTest
    @EnumSource
    void theScheduleIsKeptAndGoesOnAfterARestart(Engine engine) {
        farm = new TestFarm(engine, "--duskpeg.schedule=true");
        assertThat(scheduled()).containsExactlyInAnyOrder("lookout", "publisher", "witnesses");

        farm.restart();

        assertThat(scheduled()).containsExactlyInAnyOrder("lookout", "publisher", "witnesses");
        assertThat(farm.bean(Scheduler.class).getSchedulerState().isStarted()).isTrue();
    }

    /** Also what is being done just now. */
    private List<String> scheduled() {
        return farm.bean(JdbcClient.class)
                .sql("select task_name from scheduled_tasks")
                .query(String.class)
                .list();
    }
}
