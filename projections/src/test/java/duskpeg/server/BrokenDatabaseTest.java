package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assumptions.assumeThat;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.springframework.jdbc.core.simple.JdbcClient;

/** A database that is damaged, in use, or on a full disk: what the operator is told, and what is not lost. */
class BrokenDatabaseTest {

    private static final String FILE = "duskpeg.mv.db";
    private static final int FILL = 1 << 16;

    @TempDir
    Path folder;

    /** What a server of its own said until it ended, and how it ended. */
    private record Ended(int status, String said) {}

    private static Ended run(String... arguments) throws IOException, InterruptedException {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:TieredStopAtLevel=1",
                "-cp",
                System.getProperty("java.class.path"),
                "duskpeg.server.Duskpeg"));
        command.addAll(List.of(arguments));
        Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
        // One that goes on is ended, so that the test fails and does not wait.
        process.onExit().orTimeout(2, TimeUnit.MINUTES).whenComplete((ended, late) -> process.destroyForcibly());
        String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        return new Ended(process.waitFor(), said);
    }

    @Test
    void aDamagedOrUsedFileIsToldInASentence() throws Exception {
        String data = "--duskpeg.data-dir=" + folder;
        try (TestFarm farm = new TestFarm(List.of(data))) {
            for (int i = 1; i <= 20; i++) {
                farm.text("Nomsa", "1 " + i + " 14 m 28");
            }
            Ended inUse = run("backup", folder.resolve("b.zip").toString(), data);
            assertThat(inUse.status()).isEqualTo(1);
            assertThat(inUse.said().strip().lines()).hasSize(1);
            assertThat(inUse.said()).contains("open in a running server");
        }
        byte[] whole = Files.readAllBytes(folder.resolve(FILE));
        Map<String, byte[]> damaged = new LinkedHashMap<>();
        byte[] noise = new byte[whole.length];
        new Random(1).nextBytes(noise);
        // One that was cut off H2 may open, as it was earlier or even as an empty one: see docs/operations.md.
        damaged.put("noise", noise);
        for (Map.Entry<String, byte[]> one : damaged.entrySet()) {
            Files.write(folder.resolve(FILE), one.getValue());
            Ended ended = run(data, "--server.port=0");
            assertThat(ended.status()).as(one.getKey()).isEqualTo(1);
            assertThat(ended.said())
                    .as(one.getKey())
                    .contains("The file of the embedded database is damaged", "restore FILE")
                    .doesNotContain("\tat ");
            // It is left as it was found.
            assertThat(Files.readAllBytes(folder.resolve(FILE)))
                    .as(one.getKey())
                    .isEqualTo(one.getValue());
        }
        Files.write(folder.resolve(FILE), whole);
        try (TestFarm farm = new TestFarm(List.of(data))) {
            assertThat(farm.counts("2026-11-26", "20")).startsWith("pegged 14,");
        }
    }

    private static int mount(String... command) throws IOException, InterruptedException {
        return new ProcessBuilder(command).redirectErrorStream(true).start().waitFor();
    }

    private static void fill(Path file) throws IOException {
        try (RandomAccessFile filler = new RandomAccessFile(file.toFile(), "rw")) {
            filler.seek(filler.length());
            while (true) {
                filler.write(new byte[FILL]);
            }
        } catch (IOException full) {
            assertThat(full).hasMessageContaining("No space");
        }
    }

    private static HttpResponse<String> text(TestFarm farm, int number) {
        return farm.post(Map.of(
                "From",
                TestFarm.PHONES.get("Nomsa"),
                "To",
                "+15555550100",
                "Body",
                "1 " + (1 + number % 24) + " 1 m 2 and much more is said that cannot be read",
                "MessageSid",
                "SMfull" + number));
    }

    /** On a small disk of its own, which only root can make; a real full disk, not a played one. */
    @Test
    void onAFullDiskNothingIsTakenForKeptAndAllGoesOnWhenThereIsRoom() throws Exception {
        Path disk = Files.createDirectory(folder.resolve("disk"));
        assumeThat(System.getProperty("user.name")).as("who may mount").isEqualTo("root");
        assumeThat(mount("mount", "-t", "tmpfs", "-o", "size=24m", "tmpfs", disk.toString()))
                .as("mount")
                .isZero();
        try {
            Map<String, String> answered = new LinkedHashMap<>();
            try (TestFarm farm = new TestFarm(List.of("--duskpeg.data-dir=" + disk))) {
                farm.at("2026-11-25T17:10:00+02:00");
                int number = 0;
                for (; number < 5; number++) {
                    answered.put("SMfull" + number, text(farm, number).body());
                }
                fill(disk.resolve("filler"));
                int refused = 0;
                for (; number < 3000 && refused < 3; number++) {
                    HttpResponse<String> answer = text(farm, number);
                    if (answer.statusCode() == 200) {
                        answered.put("SMfull" + number, answer.body());
                    } else {
                        assertThat(answer.statusCode()).isEqualTo(503);
                        refused++;
                    }
                }
                assertThat(refused).as("texts refused while the disk was full").isEqualTo(3);
                Files.delete(disk.resolve("filler"));
                int status = 0;
                for (int tries = 0; tries < 60 && status != 200; tries++) {
                    Thread.sleep(500);
                    HttpResponse<String> again = text(farm, number);
                    status = again.statusCode();
                    if (status == 200) {
                        answered.put("SMfull" + number, again.body());
                    }
                }
                assertThat(status).as("once there is room again").isEqualTo(200);
                farm.restart();
                long events = events(farm);
                // What was answered is known, with its answer, and is not noted a second time.
                for (Map.Entry<String, String> one : answered.entrySet()) {
                    int known = Integer.parseInt(one.getKey().substring("SMfull".length()));
                    assertThat(text(farm, known).body()).isEqualTo(one.getValue());
                }
                assertThat(events(farm)).isEqualTo(events);
                assertThat(answered.values()).noneMatch(answer -> answer.contains("could not be"));
            }
        } finally {
            mount("umount", "-l", disk.toString());
        }
    }

    private static long events(TestFarm farm) {
        return farm.bean(JdbcClient.class)
                .sql("select count(*) from event")
                .query(Long.class)
                .single();
    }
}
