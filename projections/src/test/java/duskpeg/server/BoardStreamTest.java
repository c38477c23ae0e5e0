package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.net.HttpURLConnection;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;

/** The live board as a machine sees it: a snapshot, then the rows that change. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
@OnBothEngines
class BoardStreamTest {

    private static final String EVENING = "2026-11-25T17:10:00+02:00";
    private static final String STREAM = "/api/board/stream?morning=2026-11-26";
    private static final ObjectMapper JSON = new ObjectMapper();

    private final TestFarm farm = new TestFarm(Engine.asked()).at(EVENING);

    @AfterAll
    void stop() {
        farm.close();
    }

    @Test
    void beginsWithASnapshotAndGoesOnWithTheRowsThatChange() throws IOException {
        farm.text("Nomsa", "1 12 14 m 28");
        farm.awaitProjections();
        try (Viewer viewer = new Viewer(farm.address(STREAM))) {
            JsonNode snapshot = viewer.next("snapshot");
            assertThat(snapshot.get("rows")).hasSize(24);
            assertThat(snapshot.get("rows").get(11).get("pegged").asInt()).isEqualTo(14);

            farm.text("Nomsa", "1 13 9 m 18");

            JsonNode row = viewer.next("row");
            assertThat(row.get("row").asText()).isEqualTo("13");
            assertThat(row.get("pegged").asInt()).isEqualTo(9);
            assertThat(row.get("left").asInt()).isEqualTo(9);
        }
    }

    @Test
    void aViewerWhoComesBackIsRightAtOnce() throws IOException {
        try (Viewer viewer = new Viewer(farm.address(STREAM))) {
            viewer.next("snapshot");
        }
        farm.text("Lerato", "1 22 5 m 10");
        farm.awaitProjections();
        try (Viewer again = new Viewer(farm.address(STREAM))) {
            assertThat(again.next("snapshot").get("rows").get(21).get("pegged").asInt())
                    .isEqualTo(5);
        }
    }

    @Test
    void theSnapshotComesAgainByItself() throws IOException {
        try (Viewer viewer = new Viewer(farm.address(STREAM))) {
            viewer.next("snapshot");
            assertThat(viewer.next("snapshot").get("rows")).hasSize(24);
        }
    }

    /** Reads server-sent events (WHATWG HTML, 9.2), one at a time. */
    static final class Viewer implements AutoCloseable {

        private static final Duration PATIENCE = Duration.ofSeconds(30);

        private final HttpURLConnection connection;
        private final BufferedReader lines;

        Viewer(String address) throws IOException {
            connection = (HttpURLConnection) URI.create(address).toURL().openConnection();
            connection.setReadTimeout((int) PATIENCE.toMillis());
            lines = new BufferedReader(new InputStreamReader(connection.getInputStream(), StandardCharsets.UTF_8));
            assertThat(connection.getContentType()).startsWith("text/event-stream");
        }

        /** The data of the next event of that name; others are passed over. */
        JsonNode next(String name) throws IOException {
            String event = "";
            for (String line = lines.readLine(); line != null; line = lines.readLine()) {
                if (line.startsWith("event:")) {
                    event = line.substring("event:".length()).strip();
                } else if (line.startsWith("data:") && event.equals(name)) {
                    return JSON.readTree(line.substring("data:".length()));
                }
            }
            throw new AssertionError("the stream ended");
        }

        @Override
        public void close() {
            connection.disconnect();
        }
    }
}
