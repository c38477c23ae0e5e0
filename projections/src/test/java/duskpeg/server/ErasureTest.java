package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import duskpeg.core.audit.Container;
import duskpeg.core.crew.People;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Erasure;
import duskpeg.core.fieldbook.FieldBook;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.text.OptOuts;
import duskpeg.core.text.Outbox;
import duskpeg.core.text.OutgoingTexts;
import duskpeg.projections.audit.CheckCommand;
import duskpeg.projections.audit.VerifyCommand;
import duskpeg.projections.people.CompactCommand;
import duskpeg.projections.rebuild.Rebuild;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.slf4j.LoggerFactory;
import org.springframework.boot.autoconfigure.jdbc.JdbcConnectionDetails;
import org.springframework.core.env.Environment;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionTemplate;

/** What is personal of a worker is erased, and what she did is not. */
class ErasureTest {

    private static final FarmId FARM = new FarmId("marrowfield");
    private static final WorkerId NOMSA = new WorkerId(FARM, "w1");
    private static final String NUMBER = "+15555550101";
    private static final String DIGITS = "15555550101";
    /** Words that nobody else has said. */
    private static final String PRIVATE = "zebrafinch";

    private static final String IN_USE = "quailhorn";

    @TempDir
    Path folder;

    private static void aMorning(TestFarm farm) {
        farm.at("2026-11-25T17:10:00+02:00").text("Nomsa", "1 12 14 m 28", "SMpegged");
        farm.text("Nomsa", PRIVATE + " 14", "SMunread");
        farm.text("Nomsa", "STOP");
        farm.text("Pieter", "1 14 3 m 6");
        farm.text("Lerato", "tell nomsa the gate is shut", "SMother");
        farm.text("Lerato", "call " + DIGITS + " about the " + IN_USE, "SMnumber");
        farm.at("2026-11-26T07:10:00+02:00").text("Nomsa", "2345 12 6", "SMtied");
        farm.text("Nomsa", "2345 14 1");
        farm.text("Pieter", "strip to Nomsa from 4790", "SMstrip");
        farm.at("2026-11-26T07:20:00+02:00");
        farm.post(
                "/alerts/caution",
                Map.of("kind", "SPRAY", "planting", "", "from", "", "until", "2026-11-26T09:00", "by", "w8"));
        JdbcClient jdbc = farm.bean(JdbcClient.class);
        jdbc.sql("insert into call_back (farm, worker, asked) values ('marrowfield', 'w1', current_timestamp)")
                .update();
        // Who was a stranger before she was enrolled.
        jdbc.sql("insert into field_text (farm, text_id, sender, words, salt, heard, unread, reply)"
                        + " values ('marrowfield', 'SMbefore', ?, ?, 'ab', current_timestamp, 1, 'who are you')")
                .params(NUMBER, "may I work here, " + PRIVATE)
                .update();
        farm.bean(TransactionTemplate.class).executeWithoutResult(status -> {
            Outbox outbox = farm.bean(Outbox.class);
            Instant night = Instant.parse("2026-11-25T20:30:00Z");
            outbox.post(FARM, NUMBER, "be early, " + PRIVATE, "checkpoint-" + NUMBER, night);
            outbox.post(FARM, TestFarm.PHONES.get("Pieter"), "Nomsa has your knife", "knife", night);
            outbox.post(FARM, TestFarm.PHONES.get("Pieter"), "the gate is shut", "gate", night);
        });
        farm.awaitProjections();
    }

    private static HttpResponse<String> erase(TestFarm farm, String worker, String... more) {
        Map<String, String> form = new LinkedHashMap<>(Map.of("farm", "marrowfield", "by", "w8", "confirm", worker));
        for (int i = 0; i < more.length; i += 2) {
            form.put(more[i], more[i + 1]);
        }
        return farm.post("/people/" + worker + "/erase", form);
    }

    private static void eraseNomsa(TestFarm farm) {
        Set<String> keys =
                farm
                        .bean(Erasure.class)
                        .find(farm.bean(People.class).find(NOMSA).orElseThrow())
                        .mentions()
                        .stream()
                        .map(mention -> mention.key())
                        .collect(Collectors.toSet());
        HttpResponse<String> done = erase(farm, "w1", "also", String.join(",", keys));
        assertThat(done.statusCode()).as(done.body()).isEqualTo(302);
    }

    /** Every value of every table, as text. */
    private static String everything(TestFarm farm) {
        JdbcClient jdbc = farm.bean(JdbcClient.class);
        List<String> tables = jdbc.sql("select table_name from information_schema.tables"
                        + " where lower(table_schema) = 'public' order by table_name")
                .query(String.class)
                .list();
        StringBuilder all = new StringBuilder();
        tables.forEach(table -> jdbc.sql("select * from \"" + table + "\"").query(row -> {
            for (int column = 1; column <= row.getMetaData().getColumnCount(); column++) {
                Object value = row.getObject(column);
                all.append(value instanceof byte[] bytes ? new String(bytes, StandardCharsets.UTF_8) : value)
                        .append('\n');
            }
        }));
        assertThat(tables).hasSizeGreaterThan(20);
        return all.toString();
    }

    /** What is told of the farm without her name and what she wrote. */
    private static JsonNode nameless(JsonNode json) {
        json.findParents("worker").stream()
                .map(ObjectNode.class::cast)
                .filter(one -> one.get("worker").asText().equals("w1"))
                .forEach(one -> one.remove(List.of("words", "sent")));
        remove(json, "Nomsa");
        return json;
    }

    private static void remove(JsonNode json, String text) {
        json.forEach(one -> remove(one, text));
        if (json instanceof ObjectNode object) {
            object.properties().removeIf(field -> field.getValue().asText().contains(text));
        }
    }

    @ParameterizedTest
    @EnumSource
    void nothingPersonalIsLeftAndNothingElseIsLost(Engine engine) throws Exception {
        try (TestFarm farm = new TestFarm(engine)) {
            aMorning(farm);
            assertThat(everything(farm)).contains("Nomsa", DIGITS, PRIVATE, IN_USE);
            JsonNode verdict = farm.json("/api/fruit/004700/verdict");
            JsonNode settledOfTwo = farm.json("/api/fruit/004706/verdict");
            JsonNode fruit = nameless(farm.json("/api/fruit/004700"));
            JsonNode board = nameless(farm.json("/api/board?morning=2026-11-26").get("rows"));
            JsonNode strips = nameless(farm.json("/api/strips"));

            String checkpoint = farm.get("/api/ledger/checkpoint").body();

            eraseNomsa(farm);

            assertThat(everything(farm)).doesNotContainIgnoringCase("nomsa").doesNotContain(DIGITS, PRIVATE, IN_USE);
            assertThat(everything(farm)).contains("the gate is shut", "Lerato", "1 14 3 m 6");
            farm.awaitProjections();
            assertThat(farm.json("/api/fruit/004700/verdict")).isEqualTo(verdict);
            assertThat(farm.json("/api/fruit/004706/verdict")).isEqualTo(settledOfTwo);
            assertThat(farm.json("/api/fruit/004700")).isEqualTo(fruit);
            assertThat(farm.json("/api/board?morning=2026-11-26").get("rows")).isEqualTo(board);
            assertThat(nameless(farm.json("/api/strips"))).isEqualTo(strips);
            proofsHold(farm, checkpoint);

            farm.bean(Rebuild.class).everything();

            assertThat(farm.json("/api/board?morning=2026-11-26").get("rows")).isEqualTo(board);
            assertThat(farm.json("/api/fruit/004700")).isEqualTo(fruit);
            assertThat(farm.bean(CheckCommand.class).run(nowhere())).isZero();
            farm.restart();
            assertThat(farm.json("/api/people").get(0).get("worker").asText()).isEqualTo("w2");
            assertThat(everything(farm)).doesNotContainIgnoringCase("nomsa");
        }
    }

    /** By both verifiers, which share no code; what an auditor keeps of before is in her hands. */
    private void proofsHold(TestFarm farm, String checkpoint) throws Exception {
        assertThat(farm.bean(CheckCommand.class).run(nowhere())).isZero();
        Path bundle = folder.resolve("bundle.zip");
        Files.write(bundle, farm.download("/api/audit/bundle?tie=4700"));
        String kept = Files.writeString(folder.resolve("kept.txt"), checkpoint).toString();
        String key = farm.get("/api/ledger/key").body().strip();
        String[] arguments = Stream.concat(
                        Stream.of(bundle.toString(), "--checkpoint", kept),
                        key.lines().flatMap(line -> Stream.of("--key", line)))
                .toArray(String[]::new);
        ByteArrayOutputStream printed = new ByteArrayOutputStream();
        PrintStream out = new PrintStream(printed, true, StandardCharsets.UTF_8);
        assertThat(VerifyCommand.run(List.of(arguments), out))
                .as(printed.toString(StandardCharsets.UTF_8))
                .isZero();
        VerifyJava.Said said = new VerifyJava(
                        folder, Container.read(Files.readAllBytes(bundle)).get("Verify.java"))
                .run(List.of(arguments));
        assertThat(said.status()).as(said.words()).isZero();
    }

    private static PrintStream nowhere() {
        return new PrintStream(new ByteArrayOutputStream(), true, StandardCharsets.UTF_8);
    }

    @ParameterizedTest
    @EnumSource
    void everyPageIsStillRead(Engine engine) {
        try (TestFarm farm = new TestFarm(engine)) {
            aMorning(farm);
            eraseNomsa(farm);
            farm.awaitProjections();
            for (String page : List.of(
                    "/",
                    "/board?morning=2026-11-26",
                    "/board/moves",
                    "/plan",
                    "/alerts",
                    "/inbox",
                    "/outbox",
                    "/strips",
                    "/strips/004700",
                    "/fruit/004700",
                    "/fruit/004706",
                    "/find?worker=w1",
                    "/phone",
                    "/people",
                    "/lots",
                    "/board/mornings",
                    "/api/inbox",
                    "/api/outbox",
                    "/api/farm",
                    "/api/alerts")) {
                HttpResponse<String> response = farm.get(page);
                assertThat(response.statusCode()).as(page).isEqualTo(200);
                assertThat(response.body())
                        .as(page)
                        .doesNotContainIgnoringCase("nomsa")
                        .doesNotContain(DIGITS, PRIVATE);
            }
            assertThat(farm.get("/fruit/004700").body())
                    .contains("a name no longer kept", "The words are no longer kept");
            assertThat(farm.get("/outbox").body()).contains("a number no longer kept", "the gate is shut");
            assertThat(farm.bean(OutgoingTexts.class).newest(FARM, 9))
                    .filteredOn(text -> text.words().isEmpty())
                    .hasSizeGreaterThanOrEqualTo(2)
                    .noneMatch(text -> text.state().word().equals("waiting"));
        }
    }

    @ParameterizedTest
    @EnumSource
    void aMessageThatComesAgainIsKnownAndANewOneIsAStrangers(Engine engine) {
        try (TestFarm farm = new TestFarm(engine)) {
            aMorning(farm);
            int events = events(farm);
            eraseNomsa(farm);

            for (String sid : List.of("SMpegged", "SMunread", "SMtied", "SMbefore")) {
                HttpResponse<String> again = farm.post(
                        Map.of("From", NUMBER, "To", "+15555550100", "Body", "1 12 14 m 28", "MessageSid", sid));
                assertThat(again.statusCode()).isEqualTo(200);
                assertThat(again.body()).doesNotContain("<Message>");
            }
            assertThat(events(farm)).isEqualTo(events + 1);
            assertThat(everything(farm)).doesNotContain(DIGITS);
            // Of another's message the words are gone, and her answer is not.
            assertThat(farm.text("Lerato", "anything", "SMother")).isNotBlank();

            assertThat(farm.text("Nomsa", "1 12 14")).contains("not on the crew list");
            assertThat(events(farm)).isEqualTo(events + 1);
            assertThat(farm.json("/api/inbox").get("texts").get(0).get("sender").asText())
                    .isEqualTo(NUMBER);
        }
    }

    private static int events(TestFarm farm) {
        return farm.bean(JdbcClient.class)
                .sql("select count(*) from event")
                .query(Integer.class)
                .single();
    }

    @ParameterizedTest
    @EnumSource
    void sheIsNeverEnrolledOrNamedAgain(Engine engine) {
        try (TestFarm farm = new TestFarm(engine)) {
            aMorning(farm);
            eraseNomsa(farm);
            CommandGateway commands = farm.bean(CommandGateway.class);

            assertThatIllegalArgumentException()
                    .isThrownBy(() -> commands.sendAndWait(
                            new FieldBook.SetUp(List.of(new FarmEvent.Enrolled(NOMSA, Role.CREW, Instant.EPOCH)))));
            assertThatIllegalArgumentException()
                    .isThrownBy(() -> farm.bean(People.class).add(new People.Person(NOMSA, "Nomsa", NUMBER, "en")));
            assertThat(erase(farm, "w1").statusCode()).isEqualTo(404);
            Erasure.Result again =
                    commands.sendAndWait(new Erasure.Erase(NOMSA, new WorkerId(FARM, "w8"), Set.of(), Instant.EPOCH));
            assertThat(again).isEqualTo(Erasure.Result.NOT_KNOWN);
            // What is left on her strip is taken back all the same, and nothing is given to her.
            assertThat(farm.post("/strips/issue", Map.of("by", "w8", "worker", "w1", "first", "6000", "last", "6049"))
                            .statusCode())
                    .isEqualTo(422);
            assertThat(farm.post("/strips/return", Map.of("by", "w8", "worker", "w1", "first", "4707"))
                            .statusCode())
                    .isEqualTo(302);
            assertThat(farm.post("/board/moves", Map.of("worker", "w1", "row", "14", "left", "3"))
                            .statusCode())
                    .isEqualTo(400);
        }
    }

    /** Two farms on one server: a number is looked up on all of them, and a message belongs to one. */
    @ParameterizedTest
    @EnumSource
    void anotherFarmIsLeftAlone(Engine engine) {
        try (TestFarm farm = new TestFarm(engine)) {
            aMorning(farm);
            FarmId other = new FarmId("otherfield");
            WorkerId same = new WorkerId(other, "w1");
            WorkerId own = new WorkerId(other, "w2");
            WorkerId supervisor = new WorkerId(other, "w8");
            CommandGateway commands = farm.bean(CommandGateway.class);
            commands.sendAndWait(new FieldBook.SetUp(List.of(
                    new FarmEvent.Opened(other, farm.bean(Index.class).settings(FARM), Instant.EPOCH),
                    new FarmEvent.Enrolled(same, Role.CREW, Instant.EPOCH),
                    new FarmEvent.Enrolled(own, Role.CREW, Instant.EPOCH),
                    new FarmEvent.Enrolled(supervisor, Role.SUPERVISOR, Instant.EPOCH))));
            People people = farm.bean(People.class);
            people.add(new People.Person(same, "Nomsa", NUMBER, "en"));
            people.add(new People.Person(own, "Itumeleng", "+15555550161", "en"));
            farm.text("+15555550161", "9 12", "SMelsewhere");
            OptOuts optOuts = farm.bean(OptOuts.class);
            farm.bean(TransactionTemplate.class).executeWithoutResult(status -> optOuts.add(NUMBER, Instant.EPOCH));

            Erasure.Result byAStranger =
                    commands.sendAndWait(new Erasure.Erase(own, new WorkerId(FARM, "w8"), Set.of(), Instant.EPOCH));
            assertThat(byAStranger).isEqualTo(Erasure.Result.NOT_A_SUPERVISOR);
            for (WorkerId worker : List.of(same, own)) {
                Erasure.Result erased =
                        commands.sendAndWait(new Erasure.Erase(worker, supervisor, Set.of(), Instant.EPOCH));
                assertThat(erased).isEqualTo(Erasure.Result.ERASED);
            }

            assertThat(people.find(NOMSA)).isPresent();
            assertThat(optOuts.contains(NUMBER)).isTrue();
            assertThat(farm.json("/api/fruit/004700").toString()).contains("2345 12 6");
            HttpResponse<String> again = farm.post(
                    Map.of("From", "+15555550161", "To", "+15555550100", "Body", "9 12", "MessageSid", "SMelsewhere"));
            assertThat(again.body()).doesNotContain("<Message>");
            assertThat(everything(farm)).doesNotContain("15555550161", "Itumeleng");
        }
    }

    @Test
    void onlyASupervisorWhoIsSureErases() {
        try (TestFarm farm = new TestFarm(Engine.H2)) {
            aMorning(farm);
            assertThat(erase(farm, "w1", "by", "w2").statusCode()).isEqualTo(422);
            assertThat(erase(farm, "w1", "by", "w1").statusCode()).isEqualTo(422);
            assertThat(erase(farm, "w1", "by", "").statusCode()).isEqualTo(422);
            assertThat(erase(farm, "w1", "confirm", "w2").body()).contains("type w1 to confirm it");
            assertThat(erase(farm, "w8").body()).contains("without another supervisor");
            assertThat(erase(farm, "w9").statusCode()).isEqualTo(404);
            assertThat(farm.bean(People.class).all(FARM)).hasSize(8);
        }
    }

    @Test
    void othersWordsAreShownAndStayUnlessTicked() {
        try (TestFarm farm = new TestFarm(Engine.H2)) {
            aMorning(farm);
            farm.post(
                    "/figures/change",
                    Map.of(
                            "figure",
                            "germination-minimum/us/squash",
                            "value",
                            "85",
                            "source",
                            "Nomsa said so",
                            "edition",
                            "2026",
                            "by",
                            "w8"));
            String page = farm.get("/people/w1").body();
            assertThat(page)
                    .contains(
                            "tell nomsa the gate is shut",
                            "call " + DIGITS,
                            "Nomsa has your knife",
                            "1 entry of the log")
                    .doesNotContain(PRIVATE);

            assertThat(erase(farm, "w1", "also", "text/SMother").statusCode()).isEqualTo(302);

            assertThat(everything(farm))
                    .doesNotContain("tell nomsa")
                    .contains("call " + DIGITS, "Nomsa has your knife", "Nomsa said so");
        }
    }

    @Test
    void whoIsOnTheFarmIsPublishedWithoutNumbers() {
        try (TestFarm farm = new TestFarm(Engine.H2)) {
            aMorning(farm);
            HttpResponse<String> json = farm.get("/api/people");
            assertThat(json.body())
                    .contains("\"worker\":\"w1\",\"name\":\"Nomsa\"")
                    .doesNotContain("5555", "… 101");
            assertThat(farm.json("/api/people").get(0).get("lastHeard").asText())
                    .startsWith("2026-11-26T07:10");
            assertThat(farm.get("/people").body()).contains("… 101").doesNotContain("5550101");
            eraseNomsa(farm);
            assertThat(farm.json("/api/people").findValuesAsText("worker")).contains("w1");
            assertThat(farm.json("/api/people").findValuesAsText("erased")).hasSize(1);
        }
    }

    @Test
    void wordsAndNumbersAreNotLogged() {
        Logger root = (Logger) LoggerFactory.getLogger(org.slf4j.Logger.ROOT_LOGGER_NAME);
        ListAppender<ILoggingEvent> logged = new ListAppender<>();
        try (TestFarm farm = new TestFarm(Engine.H2)) {
            logged.start();
            root.addAppender(logged);
            aMorning(farm);
            eraseNomsa(farm);
            farm.text("Nomsa", PRIVATE);
            farm.bean(Rebuild.class).everything();
            assertThat(List.copyOf(logged.list))
                    .isNotEmpty()
                    .allSatisfy(event -> assertThat(event.getFormattedMessage())
                            .doesNotContain("Nomsa", DIGITS, PRIVATE, "5555550"));
        } finally {
            root.detachAppender(logged);
        }
    }

    /** Looked for in the files themselves, in the encodings that a database may use, as they lie after a power cut. */
    @Test
    void afterCompactingNoFileHasIt() throws IOException {
        List<String> sought = List.of("Nomsa", NUMBER, DIGITS, PRIVATE, "1 12 14 m 28");
        Path copied = Files.createDirectory(folder.resolve("copied"));
        String elsewhere;
        try (TestFarm farm = new TestFarm(Engine.H2)) {
            Path running = Path.of(farm.bean(Environment.class).getRequiredProperty("duskpeg.data-dir"));
            elsewhere = "--spring.datasource.url="
                    + farm.bean(JdbcConnectionDetails.class)
                            .getJdbcUrl()
                            .replace(running.toString(), copied.toString());
            aMorning(farm);
            assertThat(found(running, sought)).containsExactlyElementsOf(sought);
            eraseNomsa(farm);
            assertThat(everything(farm)).doesNotContain("Nomsa", DIGITS, PRIVATE);
            try (Stream<Path> files = Files.list(running)) {
                for (Path file : files.toList()) {
                    Files.copy(file, copied.resolve(file.getFileName().toString()));
                }
            }
        }
        Files.writeString(copied.resolve("duskpeg.trace.db"), "an old error about " + PRIVATE);
        // To erase it alone leaves it in the file: without this the test would show nothing.
        assertThat(found(copied, sought)).containsExactlyElementsOf(sought);

        ByteArrayOutputStream printed = new ByteArrayOutputStream();
        CompactCommand.Compaction compaction;
        try (TestFarm farm =
                new TestFarm(Engine.H2, elsewhere, "--duskpeg.ledger-key=" + copied.resolve("ledger.key"))) {
            compaction = farm.bean(CompactCommand.class).prepare();
        }
        assertThat(compaction.run(new PrintStream(printed, true, StandardCharsets.UTF_8)))
                .as(printed.toString(StandardCharsets.UTF_8))
                .isZero();

        assertThat(found(copied, sought)).isEmpty();
        assertThat(found(copied, List.of("Lerato"))).isNotEmpty();
        try (TestFarm farm =
                new TestFarm(Engine.H2, elsewhere, "--duskpeg.ledger-key=" + copied.resolve("ledger.key"))) {
            farm.awaitProjections();
            ByteArrayOutputStream checked = new ByteArrayOutputStream();
            assertThat(farm.bean(CheckCommand.class).run(new PrintStream(checked, true, StandardCharsets.UTF_8)))
                    .as(checked.toString(StandardCharsets.UTF_8))
                    .isZero();
            assertThat(farm.fruit("004700").get("state").asText()).isNotBlank();
            assertThat(found(copied, sought)).isEmpty();
        }
    }

    @Test
    void onPostgresqlTheTablesAreWrittenAnew() {
        CompactCommand.Compaction compaction;
        try (TestFarm farm = new TestFarm(Engine.POSTGRESQL)) {
            aMorning(farm);
            eraseNomsa(farm);
            compaction = farm.bean(CompactCommand.class).prepare();
        }
        ByteArrayOutputStream printed = new ByteArrayOutputStream();
        assertThat(compaction.run(new PrintStream(printed, true, StandardCharsets.UTF_8)))
                .as(printed.toString(StandardCharsets.UTF_8))
                .isZero();
        assertThat(printed.toString(StandardCharsets.UTF_8))
                .contains("field_text")
                .contains("not reached");
    }

    private static List<String> found(Path folder, List<String> sought) throws IOException {
        List<String> contents = new ArrayList<>();
        try (Stream<Path> files = Files.walk(folder)) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                contents.add(new String(Files.readAllBytes(file), StandardCharsets.ISO_8859_1));
            }
        }
        assertThat(contents).isNotEmpty();
        return sought.stream()
                .filter(word -> Stream.of(StandardCharsets.UTF_8, StandardCharsets.UTF_16BE, StandardCharsets.UTF_16LE)
                        .map(encoding -> new String(word.getBytes(encoding), StandardCharsets.ISO_8859_1))
                        .anyMatch(bytes -> contents.stream().anyMatch(content -> content.contains(bytes))))
                .toList();
    }
}
