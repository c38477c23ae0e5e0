package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assumptions.assumeThat;

import duskpeg.core.ledger.Seen;
import duskpeg.projections.ledger.LastSeen;
import duskpeg.projections.ledger.LastSeen.OtherLog;
import java.io.IOException;
import java.io.RandomAccessFile;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Random;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.springframework.jdbc.core.simple.JdbcClient;

/** A database that is damaged, in use, or on a full disk: what the operator is told, and what is not lost. */
class BrokenDatabaseTest {

    private static final String FILE = "duskpeg.mv.db";
    private static final String SEEN = "ledger.seen";
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
        byte[] noise = new byte[whole.length];
        new Random(1).nextBytes(noise);
        Files.write(folder.resolve(FILE), noise);
        Ended ended = run(data, "--server.port=0");
        assertThat(ended.status()).isEqualTo(1);
        assertThat(ended.said())
                .contains("The file of the embedded database is damaged", "restore FILE")
                .doesNotContain("\tat ");
        // It is left as it was found.
        assertThat(Files.readAllBytes(folder.resolve(FILE))).isEqualTo(noise);
        Files.write(folder.resolve(FILE), whole);
        try (TestFarm farm = new TestFarm(List.of(data))) {
            assertThat(farm.counts("2026-11-26", "20")).startsWith("pegged 14,");
        }
    }

    /** The server's own start, in this process; what stopped it and is told in plain words, or nothing. */
    private static Optional<Throwable> start(String... settings) {
        try {
            new TestFarm(List.of(settings)).close();
            return Optional.empty();
        } catch (RuntimeException e) {
            return Stream.<Throwable>iterate(e, Objects::nonNull, Throwable::getCause)
                    .filter(cause -> cause instanceof OtherLog || cause instanceof SQLException)
                    .findFirst()
                    .or(() -> {
                        throw e;
                    });
        }
    }

    /**
     * H2 opens many a file that lost its end without a word. Cut anywhere, it is refused, or all that was seen of the log is
     * in it.
     */
    @Test
    void aFileThatLostItsEndIsNeverTakenForAWholeOne() throws Exception {
        String data = "--duskpeg.data-dir=" + folder;
        try (TestFarm farm = new TestFarm(List.of(data))) {
            for (int i = 1; i <= 20; i++) {
                farm.text("Nomsa", "1 " + i + " 14 m 28");
            }
            farm.awaitProjections();
        }
        Path file = folder.resolve(FILE);
        byte[] whole = Files.readAllBytes(file);
        byte[] seen = Files.readAllBytes(folder.resolve(SEEN));
        Map<String, Integer> found = new TreeMap<>();
        for (int bytes :
                new int[] {4096, 8192, whole.length / 8, whole.length / 2, whole.length - 12_288, whole.length - 1}) {
            Files.write(file, Arrays.copyOf(whole, bytes));
            Optional<Throwable> stopped = start(data);
            if (stopped.isEmpty()) {
                // H2 lost nothing of it, or the server would not have started.
                assertThat(Seen.parse(Files.readString(folder.resolve(SEEN))).logs())
                        .as(bytes + " bytes")
                        .isEqualTo(Seen.parse(new String(seen, StandardCharsets.UTF_8))
                                .logs());
            } else {
                assertThat(Files.readAllBytes(folder.resolve(SEEN))).isEqualTo(seen);
            }
            found.merge(
                    stopped.map(why -> why instanceof OtherLog ? "older" : "damaged")
                            .orElse("whole"),
                    1,
                    Integer::sum);
            Files.write(folder.resolve(SEEN), seen);
        }
        // Those are the ones that H2 opens without a word.
        assertThat(found).as(found.toString()).containsKey("older");

        Files.write(file, Arrays.copyOf(whole, 0));
        Ended ended = run(data, "--server.port=0");
        assertThat(ended.status()).isEqualTo(1);
        assertThat(ended.said())
                .contains(
                        "The database is not the one that this server last saw: of marrowfield there are 0 events, and there"
                                + " were ",
                        "restore FILE",
                        "accept",
                        "list of messages")
                .doesNotContain("\tat ");
        Files.write(file, whole);
        try (TestFarm farm = new TestFarm(List.of(data))) {
            assertThat(farm.counts("2026-11-26", "20")).startsWith("pegged 14,");
        }
    }

    @Test
    void anOlderCopyIsRefusedUntilItIsAcceptedAndThatIsNotedDown() throws Exception {
        String data = "--duskpeg.data-dir=" + folder;
        Path file = folder.resolve(FILE);
        try (TestFarm farm = new TestFarm(List.of(data))) {
            farm.text("Nomsa", "1 1 14 m 28");
            farm.awaitProjections();
        }
        byte[] older = Files.readAllBytes(file);
        byte[] olderSeen = Files.readAllBytes(folder.resolve(SEEN));
        try (TestFarm farm = new TestFarm(List.of(data))) {
            farm.text("Nomsa", "1 2 14 m 28");
            farm.awaitProjections();
        }
        byte[] newer = Files.readAllBytes(file);
        byte[] newerSeen = Files.readAllBytes(folder.resolve(SEEN));
        assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(folder.resolve(SEEN))))
                .isEqualTo("rw-------");

        // A file that is older than the database is right.
        Files.write(folder.resolve(SEEN), olderSeen);
        assertThat(start(data)).isEmpty();
        assertThat(Seen.parse(Files.readString(folder.resolve(SEEN))).logs())
                .isEqualTo(Seen.parse(new String(newerSeen, StandardCharsets.UTF_8))
                        .logs());

        Files.write(file, older);
        assertThat(start(data)).get().isInstanceOf(OtherLog.class);
        // Looking at it is not refused, and says so.
        Ended checked = run("check", data);
        assertThat(checked.status()).isEqualTo(1);
        assertThat(checked.said()).contains("FAILS  The database is not the one that this server last saw");
        assertThat(start(data)).get().isInstanceOf(OtherLog.class);

        Ended accepted = run("accept", data);
        assertThat(accepted.status()).isZero();
        assertThat(accepted.said())
                .contains("of marrowfield there are", "That is kept as", "carrier's list of messages");
        List<Path> aside = aside();
        assertThat(aside).hasSize(1);
        assertThat(Seen.parse(Files.readString(aside.get(0))).logs())
                .isEqualTo(Seen.parse(new String(newerSeen, StandardCharsets.UTF_8))
                        .logs());
        assertThat(start(data)).isEmpty();

        // Another history from there on is another log, however long it is.
        try (TestFarm farm = new TestFarm(List.of(data))) {
            farm.text("Nomsa", "1 3 14 m 28\n1 4 14 m 28\n1 5 14 m 28");
            farm.awaitProjections();
        }
        Files.write(folder.resolve(SEEN), newerSeen);
        assertThat(start(data)).get().isInstanceOf(OtherLog.class).asString().contains("are not those that there were");
        Files.write(file, newer);
        assertThat(start(data)).isEmpty();
    }

    private List<Path> aside() throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            return files.filter(one -> one.getFileName().toString().startsWith(SEEN + "."))
                    .toList();
        }
    }

    /** What can't be read says nothing, but that there was something. */
    @Test
    void aDamagedNoteOfWhatWasSeenStopsNothingButAnEmptyDatabase() throws Exception {
        String data = "--duskpeg.data-dir=" + folder;
        try (TestFarm farm = new TestFarm(List.of(data))) {
            farm.text("Nomsa", "1 1 14 m 28");
            farm.awaitProjections();
        }
        for (byte[] damage : List.of(new byte[0], new byte[] {(byte) 0xff, 0, 1})) {
            Files.write(folder.resolve(SEEN), damage);
            assertThat(start(data)).isEmpty();
            assertThat(Seen.parse(Files.readString(folder.resolve(SEEN))).logs())
                    .containsKey("marrowfield");
        }
        assertThat(aside()).isNotEmpty();
        Files.write(folder.resolve(SEEN), new byte[0]);
        Files.delete(folder.resolve(FILE));
        assertThat(start(data))
                .get()
                .isInstanceOf(OtherLog.class)
                .asString()
                .contains("There is nothing in the database");
        // Who takes the note away too begins anew, as on the first day.
        Files.delete(folder.resolve(SEEN));
        assertThat(start(data)).isEmpty();
    }

    /** A folder in its place: nothing can be written there, whoever one is. */
    @Test
    void whereItCanNotBeKeptTheServerWorksAndSaysSo() throws Exception {
        List<String> settings = List.of("--duskpeg.data-dir=" + folder);
        try (TestFarm farm = new TestFarm(settings)) {
            farm.awaitProjections();
        }
        Path blocked = Files.createDirectory(folder.resolve("blocked"));
        try (TestFarm farm = new TestFarm(settings, "--duskpeg.ledger-seen=" + blocked)) {
            farm.bean(LastSeen.class).keep();
            assertThat(farm.text("Nomsa", "1 1 14 m 28")).startsWith("Row 1:");
            assertThat(farm.get("/health").statusCode()).isEqualTo(200);
            assertThat(farm.json("/health").get("reasons").toString()).contains("what this node saw of the log");
        }
    }

    /** As when a standby takes over that had not got everything yet. */
    @Test
    void aLogThatGetsShorterWhileTheServerRunsIsSaidAndNotForgotten() throws Exception {
        String data = "--duskpeg.data-dir=" + folder;
        try (TestFarm farm = new TestFarm(List.of(data))) {
            farm.text("Nomsa", "1 1 14 m 28");
            farm.awaitProjections();
            farm.bean(LastSeen.class).keep();
            byte[] seen = Files.readAllBytes(folder.resolve(SEEN));
            farm.bean(JdbcClient.class)
                    .sql("delete from ledger_leaf where leaf = (select max(leaf) from ledger_leaf)")
                    .update();
            farm.bean(LastSeen.class).keep();
            assertThat(Files.readAllBytes(folder.resolve(SEEN))).isEqualTo(seen);
            assertThat(farm.json("/health").get("status").asText()).isEqualTo("warning");
        }
        assertThat(start(data)).get().isInstanceOf(OtherLog.class);
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
                assertThat(answered.values()).noneMatch(answer -> answer.contains("something went wrong"));
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
