package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.net.HttpURLConnection;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.springframework.jdbc.core.simple.JdbcClient;

/** A live board ends soon after the session in which it was asked for, and not before. */
class StreamEndTest {

    /** Two snapshots come within this. */
    private static final Duration SOON = Duration.ofSeconds(25);

    @Test
    void aLiveBoardEndsWithItsSession() throws IOException {
        try (SignInFarm farm = new SignInFarm(Engine.H2).withAccounts()) {
            String worker = farm.signIn("worker");
            String supervisor = farm.signIn("supervisor");
            String stays = farm.signIn("owner");
            try (Viewer out = new Viewer(farm, worker);
                    Viewer disabled = new Viewer(farm, supervisor);
                    Viewer staying = new Viewer(farm, stays)) {
                for (Viewer viewer : new Viewer[] {out, disabled, staying}) {
                    assertThat(viewer.next()).isTrue();
                }
                farm.post(worker, "/signout", Map.of());
                long id = farm.farm
                        .bean(JdbcClient.class)
                        .sql("select id from account where login = 'supervisor'")
                        .query(Long.class)
                        .single();
                farm.post(stays, "/accounts/" + id + "/disable", Map.of());
                out.ends();
                disabled.ends();
                assertThat(staying.next()).isTrue();
                assertThat(staying.next()).isTrue();
                farm.clock.move(Duration.ofHours(12));
                staying.ends();
            }
        }
    }

    private static final class Viewer implements AutoCloseable {

        private final HttpURLConnection connection;
        private final BufferedReader lines;

        Viewer(SignInFarm farm, String cookie) throws IOException {
            connection = (HttpURLConnection)
                    URI.create(farm.farm.address("/api/board/stream")).toURL().openConnection();
            connection.setRequestProperty("Cookie", cookie);
            connection.setReadTimeout((int) SOON.toMillis());
            lines = new BufferedReader(new InputStreamReader(connection.getInputStream(), StandardCharsets.UTF_8));
        }

        /** Whether another event comes; false once the stream has ended. */
        boolean next() throws IOException {
            for (String line = lines.readLine(); line != null; line = lines.readLine()) {
                if (line.startsWith("event:")) {
                    return true;
                }
            }
            return false;
        }

        void ends() throws IOException {
            Instant began = Instant.now();
            while (next()) {
                assertThat(Duration.between(began, Instant.now())).isLessThan(SOON);
            }
        }

        @Override
        public void close() {
            connection.disconnect();
        }
    }
}
