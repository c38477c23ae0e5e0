package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** The same evening and morning twice, once by calls and once by texts: they must leave the same board and fruit. */
class CallMorningTest {

    private static final String MORNING = "2026-11-26";

    /** When, who, and what is keyed; in a text the star is a space. */
    private record Report(String at, String who, String keys) {}

    private static final List<Report> NIGHT = List.of(
            new Report("2026-11-25T17:10:00+02:00", "Nomsa", "1*12*14*28"),
            new Report("2026-11-25T17:10:00+02:00", "Pieter", "1*13*9*16"),
            new Report("2026-11-25T17:40:00+02:00", "Pieter", "0"),
            new Report("2026-11-25T17:40:00+02:00", "Pieter", "1*13*9*18"),
            new Report("2026-11-26T06:40:00+02:00", "Nomsa", "2345*12*6*004705"),
            new Report("2026-11-26T07:05:00+02:00", "Pieter", "8*13*1*1"),
            new Report("2026-11-26T07:05:00+02:00", "Pieter", "2345*13*3"),
            new Report("2026-11-26T07:30:00+02:00", "Nomsa", "2345*12*2*004708"),
            new Report("2026-11-26T07:31:00+02:00", "Nomsa", "0"),
            new Report("2026-11-26T07:31:00+02:00", "Nomsa", "2345*12*2*004707*004708"),
            new Report("2026-11-26T08:50:00+02:00", "Lerato", "2345*12*6"),
            new Report("2026-11-26T08:50:00+02:00", "Pieter", "2345*13*4"),
            new Report("2026-11-26T10:12:00+02:00", "Pieter", "2345*13*1"),
            new Report("2026-12-04T16:00:00+02:00", "Lerato", "6*12*9"),
            new Report("2026-12-04T16:01:00+02:00", "Lerato", "6*4702"),
            new Report("2027-01-25T09:00:00+02:00", "Nomsa", "7*004700*004701*004703"));

    @ParameterizedTest
    @EnumSource
    void aMorningOfCallsLeavesWhatAMorningOfTextsLeaves(Engine engine) {
        try (TestFarm called = new TestFarm(engine);
                TestFarm texted = new TestFarm(engine)) {
            Map<String, TestCall> calls = new HashMap<>();
            for (Report report : NIGHT) {
                String answer =
                        texted.at(report.at()).text(report.who(), report.keys().replace('*', ' '));
                called.at(report.at());
                // Everybody stays on the line as long as the clock stands still.
                String spoken = calls.computeIfAbsent(report.who() + report.at(), one -> called.call(report.who()))
                        .reports(report.keys());
                // Numbers of three digits or fewer are spoken as they are written.
                assertThat(spoken).as(report.toString()).startsWith(answer.substring(0, 5));
            }

            called.awaitProjections();
            texted.awaitProjections();
            JsonNode rows = called.json("/api/board?morning=" + MORNING).get("rows");
            assertThat(rows)
                    .hasSize(24)
                    .isEqualTo(texted.json("/api/board?morning=" + MORNING).get("rows"));
            assertThat(called.counts(MORNING, "12"))
                    .isEqualTo("pegged 14, males 28, opened 14, pollinated 14, bagged 14, tied 14, lost 0, left 0");
            assertThat(called.questions(MORNING, "13")).containsExactly("after-limit");
            for (String tie : List.of("004700", "004702", "004703", "004707", "004805", "004757")) {
                assertThat(history(called, tie)).as(tie).isEqualTo(history(texted, tie));
            }
        }
    }

    /** A fruit's history but for the names of its messages. */
    private static JsonNode history(TestFarm farm, String tie) {
        JsonNode fruit = farm.fruit(tie);
        for (JsonNode act : fruit.findParents("grade")) {
            ((ObjectNode) act).remove("text");
        }
        return fruit;
    }
}
