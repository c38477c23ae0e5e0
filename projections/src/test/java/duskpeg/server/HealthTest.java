package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import duskpeg.core.farm.FarmId;
import duskpeg.core.text.Outbox;
import duskpeg.projections.ops.Backups;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.stream.Stream;
import org.axonframework.config.EventProcessingConfiguration;
import org.axonframework.eventhandling.EventProcessor;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionTemplate;

/** What {@code /health} and {@code /metrics} say is how it is. */
class HealthTest {

    @TempDir
    Path folder;

    /** A look that was not made before. */
    private static JsonNode health(TestFarm farm) throws InterruptedException {
        Thread.sleep(Duration.ofMillis(2100).toMillis());
        return farm.json("/health");
    }

    @ParameterizedTest
    @EnumSource
    void whatIsWrongIsNamed(Engine engine) throws Exception {
        try (TestFarm farm = new TestFarm(engine, "--duskpeg.backup-dir=" + folder, "--duskpeg.backup-keep=2")) {
            farm.at("2026-11-25T17:10:00+02:00").text("Nomsa", "1 12 3 m 6");
            farm.awaitProjections();
            JsonNode young = health(farm);
            assertThat(young.get("reasons").toString()).isEqualTo("[\"there is no backup yet\"]");

            for (int i = 0; i < 3; i++) {
                farm.bean(Backups.class).make();
                Thread.sleep(1100);
            }
            Files.writeString(folder.resolve("others.zip"), "");
            try (Stream<Path> files = Files.list(folder)) {
                assertThat(files).hasSize(3);
            }
            JsonNode well = health(farm);
            for (int looks = 0; looks < 15 && well.get("projections").toString().contains("\"positions\":1"); looks++) {
                well = health(farm);
            }
            assertThat(well.get("status").asText()).as(well.toString()).isEqualTo("ok");
            assertThat(well.get("projections").get("ledger").get("positions").asLong())
                    .isZero();
            assertThat(well.get("freeBytes").asLong()).isPositive();
            assertThat(well.get("backupSeconds").asLong()).isLessThan(60);

            // A projection that stands still, since long before it was looked at.
            String name = farm.bean(EventProcessingConfiguration.class).eventProcessors().keySet().stream()
                    .filter(one -> one.contains("board"))
                    .findFirst()
                    .orElseThrow();
            EventProcessor board = farm.bean(EventProcessingConfiguration.class)
                    .eventProcessor(name)
                    .orElseThrow();
            board.shutDown();
            farm.text("Nomsa", "1 12 1 m 2");
            JdbcClient jdbc = farm.bean(JdbcClient.class);
            jdbc.sql("update event set stored_at = ? where position = (select max(position) from event)")
                    .param(Instant.now().minusSeconds(600).toString())
                    .update();
            farm.bean(TransactionTemplate.class)
                    .executeWithoutResult(status -> farm.bean(Outbox.class)
                            .post(new FarmId("marrowfield"), "+15555550101", "early", "early", Instant.now()));
            // Only what is on its way no more: whoever sends it says last how it went.
            String unknown = "update outgoing set state = 'unknown' where state = 'delivered'";
            for (int looks = 0; looks < 100 && jdbc.sql(unknown).update() == 0; looks++) {
                Thread.sleep(100);
            }
            try (Stream<Path> files = Files.list(folder)) {
                for (Path file : files.toList()) {
                    Files.setLastModifiedTime(file, FileTime.from(Instant.now().minus(Duration.ofHours(30))));
                }
            }

            JsonNode ill = health(farm);

            assertThat(ill.get("status").asText()).isEqualTo("warning");
            assertThat(ill.get("reasons").toString())
                    .contains(
                            name + " is 6",
                            "s behind the log",
                            "of 1 texts nobody knows whether they arrived",
                            "the newest backup is 30 h old")
                    .doesNotContain("ledger");
            assertThat(ill.get("projections").get(name).get("positions").asLong())
                    .isEqualTo(1);
            assertThat(farm.get("/health").statusCode()).isEqualTo(200);
            assertThat(ill.toString()).doesNotContain(folder.toString(), "Nomsa", "15555550101");

            board.start();
            farm.awaitProjections();
            // A segment that had nothing to do says so within seconds.
            long left = 1;
            for (int looks = 0; looks < 15 && left > 0; looks++) {
                left = health(farm)
                        .get("projections")
                        .get(name)
                        .get("positions")
                        .asLong();
            }
            assertThat(left).isZero();
        }
    }

    /** Prometheus's text format, version 0.0.4: each line is a comment or a sample. */
    @Test
    void metricsAreInTheTextFormat() throws Exception {
        try (TestFarm farm = new TestFarm(Engine.H2)) {
            farm.at("2026-11-25T17:10:00+02:00").text("Nomsa", "1 12 3 m 6");
            farm.text("Nomsa", "1 12 1 m 2");
            HttpResponse<String> metrics = farm.get("/metrics");

            assertThat(metrics.headers().firstValue("Content-Type").orElseThrow())
                    .startsWith("text/plain")
                    .contains("version=0.0.4");
            List<String> lines = metrics.body().lines().toList();
            assertThat(lines)
                    .allMatch(line -> line.matches("# (HELP|TYPE) [a-z_][a-z0-9_]* .*")
                            || line.matches("[a-z_][a-z0-9_]*(\\{[^}]*\\})? (-?[0-9.]+(E-?[0-9]+)?|NaN|\\+Inf)"));
            assertThat(lines)
                    .contains(
                            "duskpeg_text_seconds_count{status=\"200\"} 2",
                            "duskpeg_text_seconds_bucket{status=\"200\",le=\"+Inf\"} 2",
                            "duskpeg_up 1.0",
                            "duskpeg_board_viewers 0.0",
                            "duskpeg_outgoing_texts{state=\"unknown\"} 0.0")
                    .anyMatch(line -> line.startsWith("jvm_memory_used_bytes{"))
                    .anyMatch(line -> line.startsWith("duskpeg_behind_seconds{processor=\"ledger\"}"));
        }
    }
}
