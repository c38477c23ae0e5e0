package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.farm.FarmId;
import duskpeg.core.text.Outbox;
import duskpeg.projections.audit.CheckCommand;
import duskpeg.projections.ops.Backup;
import duskpeg.projections.ops.Operations;
import duskpeg.projections.rebuild.CatchUp;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.MessageDigest;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import java.util.zip.ZipOutputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionTemplate;

/** What is backed up is what is restored, from and to either engine, and nothing else is. */
class BackupTest {

    private static final FarmId FARM = new FarmId("marrowfield");
    private static final String DAWN = "2026-11-26T08:08:00+02:00";
    private static final List<String> PAGES = List.of(
            "/api/board?morning=2026-11-26",
            "/api/board?morning=2026-11-26&at=07:30",
            "/api/fruit/004700",
            "/api/fruit/004700/verdict",
            "/api/strips",
            "/api/strips/004706",
            "/api/inbox",
            "/api/people",
            "/api/outbox",
            "/api/alerts",
            "/api/farm",
            "/api/ledger/checkpoint",
            "/api/export/events.jsonl");

    @TempDir
    Path folder;

    private static void aNight(TestFarm farm) {
        farm.at("2026-11-25T17:10:00+02:00").text("Nomsa", "1 12 14 m 28", "SMpegged");
        farm.text("Pieter", "peg 13 9 males 16");
        farm.text("Lerato", "the gate \u2014 is shut \uD83C\uDF83", "SMunread");
        farm.text("Pieter", "STOP");
        farm.text("+15555550177", "who am I");
        farm.at("2026-11-26T07:10:00+02:00").text("Nomsa", "2345 12 6", "SMtied");
        farm.text("Nomsa", "2345 12 2 004709");
        farm.text("Nomsa", "0");
        farm.text("Pieter", "strip to Nomsa from 4790");
        farm.at("2026-11-26T07:20:00+02:00");
        farm.post(
                "/alerts/caution",
                Map.of("kind", "SPRAY", "planting", "", "from", "", "until", "2026-11-26T09:00", "by", "w8"));
        farm.post("/people/w3/erase", Map.of("farm", "marrowfield", "by", "w8", "confirm", "w3"));
        farm.bean(TransactionTemplate.class)
                .executeWithoutResult(status -> farm.bean(Outbox.class)
                        .post(
                                FARM,
                                TestFarm.PHONES.get("Pieter"),
                                "be early",
                                "early",
                                Instant.parse("2026-11-25T20:30:00Z")));
        farm.awaitProjections();
    }

    /** What can be seen of the farm, byte by byte. */
    private static Map<String, String> seen(TestFarm farm) {
        farm.awaitProjections();
        farm.at(DAWN);
        Map<String, String> seen = new LinkedHashMap<>();
        for (String page : PAGES) {
            var response = farm.get(page);
            assertThat(response.statusCode()).as(page).isEqualTo(200);
            seen.put(page, response.body());
        }
        return seen;
    }

    /** What a command said, and its status. */
    private record Said(int status, String words) {}

    private static Said run(List<String> settings, String... arguments) {
        ByteArrayOutputStream printed = new ByteArrayOutputStream();
        SpringApplicationBuilder server = new SpringApplicationBuilder(Duskpeg.class);
        int status = new Operations(
                        (own, doing) -> Duskpeg.alone(server, own, doing),
                        new PrintStream(printed, true, StandardCharsets.UTF_8))
                .run(Stream.concat(Stream.of(arguments), settings.stream()).toArray(String[]::new));
        return new Said(status, printed.toString(StandardCharsets.UTF_8));
    }

    /** The same in a process of its own: inside one, H2 lets everybody in. */
    private static Said elsewhere(List<String> settings, String... arguments) throws Exception {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-cp",
                System.getProperty("java.class.path"),
                Duskpeg.class.getName()));
        command.addAll(List.of(arguments));
        command.addAll(settings);
        Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
        String words = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        return new Said(process.waitFor(), words);
    }

    /** Settings of a database, with the ledger's key where the test says. */
    private List<String> settings(Engine engine, String key) {
        List<String> settings = new ArrayList<>(engine.settings());
        settings.add("--duskpeg.ledger-key=" + folder.resolve(key));
        return settings;
    }

    private Path file() {
        return folder.resolve("backup.zip");
    }

    @ParameterizedTest
    @CsvSource({"H2, H2", "H2, POSTGRESQL", "POSTGRESQL, H2"})
    void whatIsRestoredIsTheSameToTheByteAndGoesOn(Engine one, Engine other) {
        List<String> from = settings(one, "ledger.key");
        Map<String, String> before;
        try (TestFarm farm = new TestFarm(from)) {
            aNight(farm);
            before = seen(farm);
        }
        List<String> to = settings(other, "ledger.key");
        if (one == other) {
            Said backedUp = run(from, "backup", file().toString());
            assertThat(backedUp.status()).as(backedUp.words()).isZero();
            assertThat(backedUp.words()).contains("newest signed checkpoint\nduskpeg.invalid/marrowfield");
            Said restored = run(to, "restore", file().toString());
            assertThat(restored.status()).as(restored.words()).isZero();
            assertThat(restored.words()).contains("holds  it fits the signed checkpoint", "All holds.");
        } else {
            Said moved = run(
                    from,
                    Stream.concat(Stream.of("move"), to.stream().flatMap(this::moving))
                            .toArray(String[]::new));
            assertThat(moved.status()).as(moved.words()).isZero();
            assertThat(moved.words())
                    .contains("same   event: ", "holds  it fits the signed checkpoint", "has the same rows in both");
        }

        try (TestFarm farm = new TestFarm(to)) {
            assertThat(seen(farm)).isEqualTo(before);
            // What came before is known when it comes again, and what is new is heard.
            farm.at("2026-11-26T08:10:00+02:00");
            assertThat(farm.text("Nomsa", "2345 12 6", "SMtied")).startsWith("Row 12: 6 opened");
            assertThat(seen(farm)).isEqualTo(before);
            assertThat(farm.at("2026-11-26T08:12:00+02:00").text("Nomsa", "2345 12 3"))
                    .contains("tied 004706-004708");
            assertThat(farm.text("Pieter", "13 has a hole in the fence")).isNotBlank();
            assertThat(farm.counts("2026-11-26", "12")).contains("tied 9");
        }
        Said checked = check(to);
        assertThat(checked.status()).as(checked.words()).isZero();
    }

    private Stream<String> moving(String setting) {
        if (setting.startsWith("--duskpeg.data-dir=")) {
            return Stream.of("--to-url=jdbc:h2:file:" + setting.substring(setting.indexOf('=') + 1)
                    + "/duskpeg;WRITE_DELAY=0;LOCK_TIMEOUT=10000;DB_CLOSE_ON_EXIT=FALSE;TRACE_LEVEL_FILE=0");
        }
        if (setting.startsWith("--spring.datasource.password=")) {
            Path password = folder.resolve("password");
            try {
                Files.writeString(password, setting.substring(setting.indexOf('=') + 1) + "\n");
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
            return Stream.of("--to-password-file=" + password);
        }
        return Stream.of(setting)
                .filter(one -> one.startsWith("--spring."))
                .map(one -> one.replace("--spring.datasource.url=", "--to-url=")
                        .replace("--spring.datasource.username=", "--to-user="));
    }

    private static Said check(List<String> settings) {
        ByteArrayOutputStream printed = new ByteArrayOutputStream();
        int status =
                Duskpeg.alone(new SpringApplicationBuilder(Duskpeg.class), settings.toArray(String[]::new), context -> {
                    context.getBean(CatchUp.class).await(Duration.ofMinutes(1));
                    return context.getBean(CheckCommand.class)
                            .run(new PrintStream(printed, true, StandardCharsets.UTF_8));
                });
        return new Said(status, printed.toString(StandardCharsets.UTF_8));
    }

    /** In the place of a database of which the server saw more. */
    @Test
    void aRestoreTakesThePlaceOfWhatWasSeen() throws Exception {
        List<String> settings = settings(Engine.H2, "ledger.key");
        Path data = Path.of(settings.get(0).substring("--duskpeg.data-dir=".length()));
        try (TestFarm farm = new TestFarm(settings)) {
            aNight(farm);
        }
        assertThat(run(settings, "backup", file().toString()).status()).isZero();
        try (TestFarm farm = new TestFarm(settings)) {
            farm.at("2026-11-26T08:10:00+02:00").text("Nomsa", "2345 12 3");
            farm.awaitProjections();
        }
        Files.move(data.resolve("duskpeg.mv.db"), data.resolve("aside.mv.db"));
        Said restored = run(settings, "restore", file().toString());
        assertThat(restored.status()).as(restored.words()).isZero();
        assertThat(restored.words())
                .contains(
                        "note   The database is not the one that this server last saw: of marrowfield there are",
                        "That is kept as " + data.resolve("ledger.seen."),
                        "holds  the log goes on from what this server last saw of it");
        try (TestFarm farm = new TestFarm(settings)) {
            assertThat(farm.text("Pieter", "13 has a hole in the fence")).isNotBlank();
        }
        Said nothing = run(settings, "accept");
        assertThat(nothing.status()).isZero();
        assertThat(nothing.words()).contains("There was nothing to accept.");
    }

    /** Every answered report of that moment and nothing of what came later, while reports come in. */
    @ParameterizedTest
    @EnumSource
    void aBackupMadeWhileReportsComeInIsOfOneMoment(Engine engine) throws Exception {
        List<String> from = settings(engine, "ledger.key");
        ExecutorService crew = Executors.newFixedThreadPool(2);
        int answered;
        try (TestFarm farm = new TestFarm(from)) {
            farm.at("2026-11-25T17:10:00+02:00").text("Nomsa", "1 12 14 m 28");
            AtomicBoolean goOn = new AtomicBoolean(true);
            for (String who : List.of("Nomsa", "Pieter")) {
                crew.execute(() -> {
                    while (goOn.get()) {
                        farm.text(who, "1 12 1 m 2\n1 13 1 m 2");
                    }
                });
            }
            TimeUnit.MILLISECONDS.sleep(300);
            answered = farm.bean(JdbcClient.class)
                    .sql("select count(*) from field_text")
                    .query(Integer.class)
                    .single();
            farm.bean(Backup.class).write(file(), Instant.now());
            TimeUnit.MILLISECONDS.sleep(200);
            goOn.set(false);
            crew.shutdown();
            assertThat(crew.awaitTermination(30, TimeUnit.SECONDS)).isTrue();
        }
        assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(file())))
                .isEqualTo("rw-------");
        List<String> to = settings(Engine.H2, "ledger.key");
        Said restored = run(to, "restore", file().toString());
        assertThat(restored.status()).as(restored.words()).isZero();
        try (TestFarm farm = new TestFarm(to)) {
            JdbcClient jdbc = farm.bean(JdbcClient.class);
            List<String> texts = jdbc.sql("select text_id from field_text where reply is not null")
                    .query(String.class)
                    .list();
            assertThat(texts).hasSizeGreaterThanOrEqualTo(answered);
            assertThat(jdbc.sql("select count(*) from field_text where reply is null")
                            .query(Integer.class)
                            .single())
                    .isZero();
            List<String> inLog = jdbc.sql("select payload from event")
                    .query((row, number) -> new String(row.getBytes(1), StandardCharsets.UTF_8))
                    .list();
            // Each text is of two lines, and each line is one act; the first had one.
            for (String text : texts) {
                assertThat(inLog.stream()
                                .filter(event ->
                                        event.contains("/" + text + "\"") || event.contains("\"" + text + "\"")))
                        .as(text)
                        .hasSizeBetween(1, 2);
            }
            long acts =
                    inLog.stream().filter(event -> event.contains("\"told\"")).count();
            assertThat(acts).isEqualTo(2L * texts.size() - 1);
        }
    }

    @Test
    void aFileThatIsNotAsItWasWrittenIsRefusedAndNothingOfItIsRestored() throws Exception {
        List<String> from = settings(Engine.H2, "ledger.key");
        try (TestFarm farm = new TestFarm(from)) {
            aNight(farm);
            Said inUse = elsewhere(from, "backup", file().toString());
            assertThat(inUse.status()).isEqualTo(1);
            assertThat(inUse.words()).contains("open in a running server", "duskpeg.backup-dir");
        }
        assertThat(run(from, "backup", file().toString()).status()).isZero();
        assertThat(run(from, "backup", file().toString()).words()).contains("there is a file");
        Map<String, byte[]> entries = entries(Files.readAllBytes(file()));
        List<String> to = settings(Engine.H2, "ledger.key");

        byte[] whole = Files.readAllBytes(file());
        refused(to, "cut", Arrays.copyOf(whole, whole.length - 100), "no backup");
        refused(to, "other", "not a zip".getBytes(StandardCharsets.UTF_8), "no backup");
        byte[] flipped = whole.clone();
        flipped[200] ^= 1;
        refused(to, "flipped", flipped, "Nothing was restored");
        refused(to, "gone", zip(without(entries, "person.jsonl")), "there is no person.jsonl in it");
        refused(to, "words", zip(with(entries, "field_text.jsonl", "28", "29", false)), "not as it was written");
        // Whoever changes the manifest too is found out by the ledger, where it is the log that was changed.
        refused(
                to,
                "event",
                zip(with(entries, "event.jsonl", "\"revision\":\"1\"", "\"revision\":\"3\"", true)),
                "and the backup says");
        refused(
                to,
                "schema",
                zip(with(entries, "manifest.json", "\"schema\" : \"", "\"schema\" : \"9", false)),
                "does not know");

        Said none = run(
                settings(Engine.H2, "ledger.key"),
                "backup",
                folder.resolve("none.zip").toString());
        assertThat(none.status()).isEqualTo(1);
        assertThat(none.words()).contains("no database there");

        Said restored = run(to, "restore", file().toString());
        assertThat(restored.status()).as(restored.words()).isZero();
        Said again = run(to, "restore", file().toString());
        assertThat(again.status()).isEqualTo(1);
        assertThat(again.words()).contains("the database is not empty");
    }

    /** The source was tampered with before the backup was made: the file is right, and its log is not. */
    @Test
    void aLogThatDoesNotFitItsLedgerIsRestoredOnlyOnPurpose() {
        List<String> from = settings(Engine.H2, "ledger.key");
        try (TestFarm farm = new TestFarm(from)) {
            aNight(farm);
            farm.get("/api/ledger/checkpoint");
            farm.bean(JdbcClient.class)
                    .sql("update event set revision = '9' where position = 5")
                    .update();
        }
        assertThat(run(from, "backup", file().toString()).status()).isZero();
        List<String> to = settings(Engine.H2, "ledger.key");

        Said refused = run(to, "restore", file().toString());
        assertThat(refused.status()).isEqualTo(1);
        assertThat(refused.words()).contains("FAILS  the log is not that of its ledger", "--although");

        Said restored = run(to, "restore", file().toString(), "--although");
        assertThat(restored.status()).isEqualTo(1);
        assertThat(restored.words()).contains("Restored.", "events were changed or are gone", "Not all holds");
    }

    /** A text that waited in the backup may have been sent before it was restored. */
    @Test
    void whatWaitedToBeSentIsNotSentOnceMore() {
        List<String> from = settings(Engine.H2, "ledger.key");
        try (TestFarm farm = new TestFarm(from)) {
            aNight(farm);
            farm.bean(JdbcClient.class)
                    .sql("update outgoing set state = 'waiting', next_try = current_timestamp + interval '1' day")
                    .update();
        }
        assertThat(run(from, "backup", file().toString()).status()).isZero();
        List<String> to = settings(Engine.H2, "ledger.key");

        Said restored = run(to, "restore", file().toString());

        assertThat(restored.words()).contains("texts waited to be sent");
        try (TestFarm farm = new TestFarm(to)) {
            assertThat(farm.json("/api/outbox").findValuesAsText("state"))
                    .isNotEmpty()
                    .containsOnly("unknown");
        }
    }

    @Test
    void withoutTheKeyItIsSaidAndNoneIsMade() {
        List<String> from = settings(Engine.H2, "ledger.key");
        try (TestFarm farm = new TestFarm(from)) {
            aNight(farm);
        }
        assertThat(run(from, "backup", file().toString()).status()).isZero();

        Said restored = run(settings(Engine.H2, "other.key"), "restore", file().toString());

        assertThat(restored.status()).as(restored.words()).isZero();
        assertThat(restored.words()).contains("the ledger's key is not here");
        assertThat(folder.resolve("other.key")).doesNotExist();
    }

    @Test
    void nobodyMovesADatabaseThatAServerWorksOn() {
        List<String> from = settings(Engine.POSTGRESQL, "ledger.key");
        try (TestFarm farm = new TestFarm(from)) {
            farm.awaitProjections();
            Said refused = run(from, "move", "--to-url=jdbc:h2:file:" + folder.resolve("moved"));
            assertThat(refused.status()).isEqualTo(1);
            assertThat(refused.words()).contains("a server works on this database");
            assertThat(run(from, "backup", file().toString()).status()).isZero();
        }
    }

    private void refused(List<String> to, String name, byte[] bytes, String why) throws IOException {
        Path bad = Files.write(folder.resolve(name + ".zip"), bytes);
        Said said = run(to, "restore", bad.toString());
        assertThat(said.status()).as(said.words()).isEqualTo(1);
        assertThat(said.words()).contains(why).contains("Nothing was restored");
    }

    private static Map<String, byte[]> entries(byte[] zip) throws IOException {
        Map<String, byte[]> entries = new LinkedHashMap<>();
        try (ZipInputStream in = new ZipInputStream(new ByteArrayInputStream(zip))) {
            for (ZipEntry entry = in.getNextEntry(); entry != null; entry = in.getNextEntry()) {
                entries.put(entry.getName(), in.readAllBytes());
            }
        }
        return entries;
    }

    private static byte[] zip(Map<String, byte[]> entries) throws IOException {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (ZipOutputStream zip = new ZipOutputStream(bytes)) {
            for (Map.Entry<String, byte[]> entry : entries.entrySet()) {
                zip.putNextEntry(new ZipEntry(entry.getKey()));
                zip.write(entry.getValue());
            }
        }
        return bytes.toByteArray();
    }

    private static Map<String, byte[]> without(Map<String, byte[]> entries, String name) {
        Map<String, byte[]> fewer = new LinkedHashMap<>(entries);
        assertThat(fewer.remove(name)).isNotNull();
        return fewer;
    }

    /** One entry with something else in it, and its hash in the manifest too, if so wanted. */
    private static Map<String, byte[]> with(
            Map<String, byte[]> entries, String name, String was, String is, boolean hashToo) throws Exception {
        Map<String, byte[]> changed = new LinkedHashMap<>(entries);
        String text = new String(entries.get(name), StandardCharsets.UTF_8);
        assertThat(text).contains(was);
        byte[] other = text.replace(was, is).getBytes(StandardCharsets.UTF_8);
        changed.put(name, other);
        if (hashToo) {
            String manifest = new String(entries.get("manifest.json"), StandardCharsets.UTF_8);
            changed.put(
                    "manifest.json",
                    manifest.replace(sha256(entries.get(name)), sha256(other)).getBytes(StandardCharsets.UTF_8));
        }
        return changed;
    }

    private static String sha256(byte[] bytes) throws Exception {
        return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
    }
}
