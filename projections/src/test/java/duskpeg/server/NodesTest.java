package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.ledger.VerifierKey;
import duskpeg.core.text.Outbox;
import duskpeg.core.text.Outgoing;
import duskpeg.messaging.carrier.Carrier;
import duskpeg.projections.alerts.Lookout;
import duskpeg.projections.ledger.KeyFile;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.BooleanSupplier;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestMethodOrder;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Two servers on one PostgreSQL, started at once on an empty database; then one that takes over from nodes that died. That
 * processes are really killed is in the benchmarks ({@code Nodes}).
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class NodesTest {

    private static final FarmId FARM = new FarmId("marrowfield");
    private static final String MORNING = "2026-11-26";
    private static final String EVENING = "2026-11-25T17:10:00+02:00";
    private static final Duration PATIENCE = Duration.ofSeconds(60);

    private final List<String> database = Engine.POSTGRESQL.settings();
    private final CountingCarrier carrier = new CountingCarrier();
    private final List<Path> data = new ArrayList<>();
    private final List<TestFarm> nodes = new ArrayList<>();
    private final ExecutorService crew = Executors.newFixedThreadPool(8);

    @BeforeAll
    void startTwoAtOnce() throws Exception {
        data.add(Files.createTempDirectory("duskpeg-node"));
        data.add(Files.createTempDirectory("duskpeg-node"));
        for (Future<TestFarm> node : crew.invokeAll(data.stream()
                .<Callable<TestFarm>>map(directory -> () -> start(directory))
                .toList())) {
            nodes.add(node.get());
        }
    }

    private TestFarm start(Path directory) {
        return new TestFarm(
                        database,
                        server -> server.registerBean(
                                "countingCarrier",
                                Carrier.class,
                                () -> carrier,
                                definition -> definition.setPrimary(true)),
                        List.of(),
                        "--duskpeg.data-dir=" + directory)
                .at(EVENING);
    }

    @AfterAll
    void stop() {
        crew.shutdownNow();
        nodes.forEach(TestFarm::close);
    }

    private static void await(String what, BooleanSupplier fulfilled) {
        Instant end = Instant.now().plus(PATIENCE);
        while (!fulfilled.getAsBoolean()) {
            assertThat(Instant.now()).as(what).isBefore(end);
            try {
                Thread.sleep(50);
            } catch (InterruptedException e) {
                throw new IllegalStateException(e);
            }
        }
    }

    private List<String> all(List<Callable<String>> doing) throws Exception {
        List<String> answers = new ArrayList<>();
        for (Future<String> one : crew.invokeAll(doing)) {
            answers.add(one.get());
        }
        return answers;
    }

    private static JsonNode row(TestFarm node, String row) {
        for (JsonNode one : node.json("/api/board?morning=" + MORNING).get("rows")) {
            if (one.get("row").asText().equals(row)) {
                return one;
            }
        }
        throw new AssertionError("no row " + row);
    }

    private void awaitPegged(String row, int pegged) {
        nodes.forEach(node ->
                await("row " + row, () -> row(node, row).get("pegged").asInt() == pegged));
    }

    private JdbcClient jdbc() {
        return nodes.get(0).bean(JdbcClient.class);
    }

    private long count(String of) {
        return jdbc().sql("select count(*) from " + of).query(Long.class).single();
    }

    private Set<String> owners() {
        return jdbc()
                .sql("select owner from token where processor <> '__config'")
                .query((row, number) -> String.valueOf(row.getString(1)))
                .list()
                .stream()
                .collect(Collectors.toSet());
    }

    @Test
    @Order(1)
    void whatBothFoundMissingWasEnteredOnce() {
        assertThat(nodes.get(0).bean(Index.class).farms()).containsExactly(FARM);
        // demo-farm.json: 8 people, 10 strips.
        assertThat(count("person")).isEqualTo(8);
        assertThat(count("holding")).isEqualTo(10);
        assertThat(count("event where event_type = 'farm-opened'")).isEqualTo(1);
    }

    @Test
    @Order(2)
    void aTextThatBothAreGivenAtOnceIsOneReport() throws Exception {
        for (int i = 0; i < 5; i++) {
            String sid = TestFarm.newSid();
            List<String> answers = all(Stream.of(0, 1, 0, 1, 0, 1, 0, 1)
                    .<Callable<String>>map(node -> () -> nodes.get(node).text("Nomsa", "1 12 2 m 4", sid))
                    .toList());
            assertThat(Set.copyOf(answers)).hasSize(1);
            assertThat(answers.get(0))
                    .startsWith(i == 0 ? "Row 12: 2 pegged" : "Row 12: 2 more pegged, " + 2 * (i + 1));
        }
        awaitPegged("12", 10);
        assertThat(count("field_text")).isEqualTo(5);
    }

    @Test
    @Order(3)
    void textsOnOneRowToBothAreAllWrittenDownAndNoTieIsGivenTwice() throws Exception {
        all(IntStream.range(0, 40)
                .<Callable<String>>mapToObj(i -> () -> nodes.get(i % 2)
                        .text(List.of("Nomsa", "Pieter", "Lerato", "Ruth").get(i / 2 % 4), "1 13 1 m 2"))
                .toList());
        awaitPegged("13", 40);
        nodes.forEach(node -> node.at("2026-11-26T08:08:00+02:00"));
        List<String> answers = all(IntStream.range(0, 20)
                .<Callable<String>>mapToObj(i -> () -> nodes.get(i % 2).text("Nomsa", "2345 13 1"))
                .toList());
        nodes.forEach(node -> node.at(EVENING));
        assertThat(answers).allMatch(answer -> answer.contains(" tied 0047"));
        assertThat(jdbc().sql("select tie from tie_use").query(String.class).list())
                .hasSize(20)
                .doesNotHaveDuplicates();
    }

    @Test
    @Order(4)
    void anAnswerTellsWhatTheOtherNodeWrote() {
        nodes.forEach(node -> node.text("Lerato", "9 20"));
        for (int i = 1; i <= 4; i++) {
            nodes.get(i % 2).text("Nomsa", "1 20 2 m 4");
            // Asking writes nothing, so nothing but looking tells the other that its page is old.
            assertThat(nodes.get(1 - i % 2).text("Lerato", "9 20")).contains("Row 20", 2 * i + " pegged");
        }
    }

    @Test
    @Order(4)
    void aBoardIsLiveOnTheNodeThatDidNotTakeTheText() throws IOException {
        for (int i = 0; i < 2; i++) {
            try (BoardStreamTest.Viewer viewer =
                    new BoardStreamTest.Viewer(nodes.get(i).address("/api/board/stream?morning=" + MORNING))) {
                viewer.next("snapshot");
                nodes.get(1 - i).text("Nomsa", "1 1" + (4 + i) + " 3 m 6");
                JsonNode row = viewer.next("row");
                // What was said before may come to this board only now.
                while (!row.get("row").asText().equals("1" + (4 + i))) {
                    row = viewer.next("row");
                }
                assertThat(row.get("pegged").asInt()).isEqualTo(3);
            }
        }
    }

    @Test
    @Order(5)
    void aPersonIsToldOnceWhicheverNodesLookAndSend() throws Exception {
        Instant at = OffsetDateTime.parse("2026-11-26T10:01:00+02:00").toInstant();
        all(IntStream.range(0, 8)
                .<Callable<String>>mapToObj(i -> () -> {
                    nodes.get(i % 2).bean(Lookout.class).look(FARM, at);
                    return "";
                })
                .toList());
        assertThat(count("alert")).isPositive();
        long alerts = count("alert");
        assertThat(count("outgoing")).isEqualTo(alerts);

        IntStream.range(0, 60)
                .forEach(i -> nodes.get(i % 2)
                        .bean(TransactionTemplate.class)
                        .executeWithoutResult(status -> nodes.get(i % 2)
                                .bean(Outbox.class)
                                .post(FARM, "+1555555012" + i % 10, "number " + i, "n" + i, true, Instant.now())));

        await("all are sent", () -> count("outgoing where state = 'delivered'") == alerts + 60);
        assertThat(carrier.sent).hasSize((int) alerts + 60).doesNotHaveDuplicates();
    }

    @Test
    @Order(6)
    void aNodeWithAnotherKeySignsNothingAndSaysSo() throws IOException {
        TestFarm first = nodes.get(0);
        TestFarm second = nodes.get(1);
        String key = first.get("/api/ledger/key").body();
        assertThat(first.get("/api/ledger/checkpoint").statusCode()).isEqualTo(200);

        // It has no key yet, and makes none.
        assertThat(second.get("/api/ledger/key").body()).isEqualTo(key);
        assertThat(data.get(1).resolve("ledger.key")).doesNotExist();
        second.text("Nomsa", "1 16 1 m 2");
        await("a larger tree", () -> second.get("/api/ledger/checkpoint").statusCode() == 503);
        assertThat(second.json("/health").get("reasons").toString()).contains("ledger's key");
        assertThat(second.get("/health").statusCode()).isEqualTo(200);

        Files.copy(data.get(0).resolve("ledger.key"), data.get(1).resolve("ledger.key"));
        assertThat(second.get("/api/ledger/checkpoint").statusCode()).isEqualTo(200);
        assertThat(second.get("/api/ledger/key").body()).isEqualTo(key);

        Path other = Files.createTempDirectory("duskpeg-node");
        try (TestFarm third = start(other)) {
            new KeyFile(other.resolve("ledger.key")).keys("another", VerifierKey.Kind.NOTE);
            first.text("Nomsa", "1 16 1 m 2");
            await("a larger tree", () -> third.get("/api/ledger/checkpoint").statusCode() == 503);
            assertThat(third.get("/api/ledger/key").body()).isEqualTo(key);
        }
    }

    @Test
    @Order(7)
    void whatANodeLeftIsTakenOver() {
        TestFarm first = nodes.remove(0);
        first.close();
        // A node that is stopped gives its segments back.
        await("the other has them all", () -> owners().size() == 1 && !owners().contains("null"));
        nodes.get(0).text("Nomsa", "1 17 4 m 8");
        awaitPegged("17", 4);

        // One that is killed does not: the database has heard of it a moment ago.
        nodes.remove(0).close();
        try (TestFarm last = start(data.get(0))) {
            nodes.add(last);
            last.bean(JdbcClient.class)
                    .sql("update token set owner = 'killed', claimed_at = ?")
                    .param(Instant.now().toString())
                    .update();
            assertThat(last.text("Nomsa", "1 18 5 m 10")).startsWith("Row 18: 5 pegged");
            awaitPegged("18", 5);
            await("nothing is left to the killed one", () -> !owners().contains("killed"));
            nodes.clear();
        }
    }

    /** Takes everything, and keeps what it was given, from whichever node. */
    private static final class CountingCarrier implements Carrier {

        final List<String> sent = new CopyOnWriteArrayList<>();

        @Override
        public Answer send(Outgoing text) {
            sent.add(text.recipient() + " " + text.words());
            return new Answer.Taken("SM" + text.id() + "x" + text.attempts(), Outgoing.State.DELIVERED, null);
        }

        @Override
        public List<Known> sentTo(FarmId farm, String recipient, Instant since) {
            return List.of();
        }

        @Override
        public boolean answersStop() {
            return false;
        }
    }
}
