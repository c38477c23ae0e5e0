package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalStateException;

import duskpeg.projections.copies.Copies;
import duskpeg.projections.rebuild.Rebuild;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import javax.sql.DataSource;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.springframework.jdbc.core.simple.JdbcClient;

/** What is made anew from the log is what was made while it was written, and making it stops nobody. */
class RebuildTest {

    private static final String DAWN = "2026-11-26T07:10:00+02:00";

    /** A season with everything in it: also lots, temperatures, strips that went about, and what was taken back. */
    private static void aSeason(TestFarm farm) {
        farm.bean(DemoSeason.class).play(Instant.parse("2026-11-25T10:00:00Z"));
        farm.at("2026-11-25T17:10:00+02:00").text("Nomsa", "1 12 14 m 28");
        farm.text("Pieter", "peg 13 9 males 16");
        farm.at(DAWN).text("Nomsa", "2345 12 6");
        farm.text("Nomsa", "2345 12 2 004709");
        farm.text("Nomsa", "0");
        farm.text("Nomsa", "23 12 2; 4 12 2; 5 12 1");
        farm.text("Nomsa", "0 12 2");
        farm.text("Pieter", "23 13 4\n45 13 3");
        farm.text("Pieter", "0 13");
        farm.text("Pieter", "2345 13 3");
        farm.text("Pieter", "strip to Nomsa from 4790");
        farm.text("Lerato", "spoilt 4806");
        farm.text("Lerato", "0");
        farm.text("Lerato", "strip 8000-8049");
        farm.text("Lerato", "0");
        farm.text("Nomsa", "zzz 9 4", "SMunread");
        farm.post("/inbox/read", Map.of("by", "w8", "text", "SMunread", "line", "1", "words", "2 9 4"));
        farm.text("Nomsa", "8 004701");
        farm.post(
                "/alerts/caution",
                Map.of("kind", "SPRAY", "planting", "", "from", "", "until", "2026-11-26T09:00", "by", "w8"));
        farm.awaitProjections();
    }

    @ParameterizedTest
    @EnumSource
    void tablesAreTheSameWhetherFollowedOrMadeAnew(Engine engine) {
        try (TestFarm farm = new TestFarm(engine)) {
            aSeason(farm);
            DataSource database = farm.bean(DataSource.class);
            Map<String, List<String>> followed = MadeTables.of(database);
            List<String> indexes = MadeTables.indexes(database);
            assertThat(followed).allSatisfy((table, rows) -> {
                if (!table.equals("figure_entry")) {
                    assertThat(rows).as(table).isNotEmpty();
                }
            });

            assertThat(farm.bean(Rebuild.class).everything()).isTrue();

            assertThat(farm.bean(Copies.class).live("board")).isEqualTo(2);
            assertThat(MadeTables.of(database)).isEqualTo(followed);
            assertThat(MadeTables.indexes(database)).isEqualTo(indexes);

            farm.text("Nomsa", "23 12 1");
            farm.bean(Rebuild.class).everything();
            farm.awaitProjections();
            assertThat(farm.bean(Copies.class).live("board")).isEqualTo(1);
            assertThat(MadeTables.of(database).get("board"))
                    .hasSize(followed.get("board").size() + 2);
            assertThat(MadeTables.indexes(database)).isEqualTo(indexes);
            assertThat(farm.bean(JdbcClient.class)
                            .sql("select count(*) from board_act_2")
                            .query(Integer.class)
                            .single())
                    .isZero();
        }
    }

    @ParameterizedTest
    @EnumSource
    void textsAreTakenAndPagesAnsweredWhileProjectionsAreMadeAnew(Engine engine) throws Exception {
        try (TestFarm farm = new TestFarm(engine)) {
            aSeason(farm);
            AtomicBoolean done = new AtomicBoolean();
            ConcurrentLinkedQueue<String> answers = new ConcurrentLinkedQueue<>();
            ConcurrentLinkedQueue<Integer> pages = new ConcurrentLinkedQueue<>();
            ExecutorService others = Executors.newFixedThreadPool(4);
            List<Future<?>> busy = new ArrayList<>();
            for (String who : List.of("Nomsa", "Pieter", "Lerato")) {
                busy.add(others.submit(() -> {
                    while (!done.get()) {
                        answers.add(farm.text(who, "2 14 1"));
                    }
                }));
            }
            busy.add(others.submit(() -> {
                while (!done.get()) {
                    pages.add(farm.get("/api/board?morning=2026-11-26").statusCode());
                    pages.add(farm.get("/api/fruit/004700").statusCode());
                }
            }));
            int before = 0;
            for (int i = 0; i < 3; i++) {
                farm.bean(Rebuild.class).projections();
                assertThat(answers.size()).isGreaterThan(before);
                before = answers.size();
            }
            done.set(true);
            for (Future<?> one : busy) {
                one.get(1, TimeUnit.MINUTES);
            }
            others.shutdown();

            assertThat(answers).allMatch(answer -> answer.startsWith("Row 14: 1 opened"));
            assertThat(pages).isNotEmpty().allMatch(status -> status == 200);
            assertThat(farm.row("2026-11-26", "14").get("opened").asInt()).isEqualTo(answers.size());
            DataSource database = farm.bean(DataSource.class);
            Map<String, List<String>> after = MadeTables.of(database);
            farm.bean(Rebuild.class).everything();
            assertThat(MadeTables.of(database)).isEqualTo(after);
        }
    }

    @ParameterizedTest
    @EnumSource
    void whatEndsInTheMiddleHasChangedNothing(Engine engine) throws Exception {
        try (TestFarm farm = new TestFarm(engine)) {
            aSeason(farm);
            DataSource database = farm.bean(DataSource.class);
            Map<String, List<String>> before = MadeTables.of(database);
            Thread stopped = new Thread(() -> assertThatIllegalStateException()
                    .isThrownBy(() -> farm.bean(Rebuild.class).projections()));
            stopped.start();
            while (farm.bean(Rebuild.class).progress().isEmpty()) {
                Thread.onSpinWait();
            }
            stopped.interrupt();
            stopped.join(Duration.ofMinutes(1).toMillis());

            assertThat(MadeTables.of(database)).isEqualTo(before);
            farm.restart();
            assertThat(MadeTables.of(farm.bean(DataSource.class))).isEqualTo(before);
            farm.bean(Rebuild.class).projections();
            assertThat(farm.bean(Copies.class).live("history")).isEqualTo(2);
            assertThat(MadeTables.of(farm.bean(DataSource.class))).isEqualTo(before);
        }
    }

    @ParameterizedTest
    @EnumSource
    void anIndexThatWasLeftHalfMadeIsFinishedBeforeAnythingIsTaken(Engine engine) {
        try (TestFarm farm = new TestFarm(engine)) {
            aSeason(farm);
            Map<String, List<String>> before = MadeTables.of(farm.bean(DataSource.class));
            JdbcClient jdbc = farm.bean(JdbcClient.class);
            farm.bean(Copies.class).unfinished("index", true);
            jdbc.sql("delete from said").update();
            jdbc.sql("drop index said_worker").update();

            farm.restart();

            assertThat(MadeTables.of(farm.bean(DataSource.class))).isEqualTo(before);
            assertThat(MadeTables.indexes(farm.bean(DataSource.class)).toString())
                    .containsIgnoringCase("said_worker");
        }
    }

    @Test
    void theCommandBesideARunningServerLeavesTheIndex() throws Exception {
        List<String> database = Engine.POSTGRESQL.settings();
        try (TestFarm farm = new TestFarm(database)) {
            farm.at("2026-11-25T17:10:00+02:00").text("Nomsa", "1 12 14 m 28");
            farm.awaitProjections();

            // In a process of its own: who holds an event processor is known by the process.
            List<String> command = new ArrayList<>(List.of(
                    Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                    "-cp",
                    System.getProperty("java.class.path"),
                    Duskpeg.class.getName(),
                    "rebuild"));
            command.addAll(database);
            Process process =
                    new ProcessBuilder(command).redirectErrorStream(true).start();
            String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
            assertThat(process.waitFor()).as(said).isZero();
            assertThat(said)
                    .contains("A server works on this database", "Rebuilt history")
                    .doesNotContain("Rebuilt index");
            assertThat(farm.at(DAWN).text("Nomsa", "2 12 3")).startsWith("Row 12: 3 opened");
            assertThat(farm.counts("2026-11-26", "12")).startsWith("pegged 14, males 28, opened 3");
            assertThat(farm.bean(Copies.class).live("board")).isEqualTo(2);
        }
    }
}
