package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A text is answered as kept only if it is kept: while the database is gone the carrier is told to come again. */
class DatabaseGoneTest {

    private static final Pattern PORT = Pattern.compile("//localhost:([0-9]+)/");

    private static HttpResponse<String> text(TestFarm farm, String sid) {
        return farm.post(Map.of(
                "From", TestFarm.PHONES.get("Nomsa"), "To", "+15555550100", "Body", "1 12 3 m 6", "MessageSid", sid));
    }

    private static boolean behind(TestFarm farm) {
        return farm.json("/health").findValuesAsText("positions").stream().anyMatch(left -> !left.equals("0"));
    }

    @ParameterizedTest
    @ValueSource(booleans = {false, true})
    void whileItIsGoneNothingIsTakenForKeptAndAfterwardsAllGoesOn(boolean silent) throws Exception {
        List<String> settings = new ArrayList<>(Engine.POSTGRESQL.settings());
        Matcher port = PORT.matcher(settings.get(0));
        assertThat(port.find()).as(settings.get(0)).isTrue();
        try (Gate gate = new Gate(Integer.parseInt(port.group(1)))) {
            String url = port.replaceFirst("//localhost:" + gate.port() + "/");
            settings.set(0, url + (url.contains("?") ? "&" : "?") + "connectTimeout=2&socketTimeout=2");
            try (TestFarm farm = new TestFarm(settings, "--spring.datasource.hikari.connection-timeout=1000")) {
                farm.at("2026-11-25T17:10:00+02:00");
                assertThat(text(farm, "SMbefore").statusCode()).isEqualTo(200);
                assertThat(farm.get("/health").statusCode()).isEqualTo(200);

                if (silent) {
                    gate.silence();
                } else {
                    gate.shut();
                }
                for (String sid : List.of("SMduring1", "SMduring2")) {
                    long began = System.nanoTime();
                    HttpResponse<String> refused = text(farm, sid);
                    assertThat(refused.statusCode()).as(refused.body()).isEqualTo(503);
                    assertThat(refused.headers().firstValue("Retry-After")).contains("5");
                    assertThat(refused.body()).contains("not kept").doesNotContain("<Message>");
                    // A carrier waits 15 s.
                    assertThat(Duration.ofNanos(System.nanoTime() - began)).isLessThan(Duration.ofSeconds(15));
                }
                // What was seen two seconds ago is not looked for again.
                Thread.sleep(2100);
                HttpResponse<String> down = farm.get("/health");
                assertThat(down.statusCode()).isEqualTo(503);
                assertThat(down.body()).contains("\"down\"", "the database does not answer");
                assertThat(farm.get("/metrics").body()).contains("duskpeg_up 0.0", "status=\"503\"");

                gate.open();
                String answer = "";
                for (int tries = 0; tries < 30 && answer.isEmpty(); tries++) {
                    HttpResponse<String> again = text(farm, "SMduring1");
                    if (again.statusCode() == 200) {
                        answer = TestFarm.message(again.body());
                    }
                }
                assertThat(answer).startsWith("Row 12: 3 more pegged, 6 for");
                assertThat(TestFarm.message(text(farm, "SMduring1").body())).isEqualTo(answer);
                // A projection that failed meanwhile waits a while before it tries again.
                for (int looks = 0; looks < 60 && behind(farm); looks++) {
                    Thread.sleep(2100);
                }
                // What was refused was not kept, and what was answered was, once.
                String counts = "";
                for (int looks = 0; looks < 30 && counts.isEmpty(); looks++) {
                    try {
                        counts = farm.counts("2026-11-26", "12");
                    } catch (IllegalStateException stillFailing) {
                        Thread.sleep(2100);
                    }
                }
                assertThat(counts).startsWith("pegged 6,");
                Thread.sleep(2100);
                JsonNode up = farm.json("/health");
                assertThat(up.get("status").asText()).isIn("ok", "warning");
            }
        }
    }
}
