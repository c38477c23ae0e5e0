package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.tuple;

import com.fasterxml.jackson.databind.JsonNode;
import duskpeg.core.farm.FarmId;
import duskpeg.projections.copies.Copies;
import duskpeg.projections.parking.Parking;
import duskpeg.projections.parking.Parking.Waiting;
import duskpeg.projections.rebuild.Rebuild;
import java.net.ConnectException;
import java.nio.charset.StandardCharsets;
import java.sql.SQLException;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.function.BooleanSupplier;
import javax.sql.DataSource;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.springframework.dao.CannotAcquireLockException;
import org.springframework.dao.DataAccessResourceFailureException;
import org.springframework.dao.DataIntegrityViolationException;
import org.springframework.jdbc.core.simple.JdbcClient;

/** An event that a projection can't take waits aside with those of its subject behind it; all others go on. */
class ParkingTest {

    private static final String DAWN = "2026-11-26T07:10:00+02:00";
    private static final String MORNING = "2026-11-26";
    private static final String ROW = "marrowfield/row/13/2026-11-26";
    private static final String FRUIT = "marrowfield/tie/004704";

    @Test
    void faultsOfTheProgramParkAndADatabaseThatIsGoneDoesNot() {
        assertThat(Parking.parks(new IllegalStateException("no such row"))).isTrue();
        // SQL states of ISO 9075: a value too long, a connection lost, two transactions that can't both be.
        assertThat(Parking.parks(new DataIntegrityViolationException("too long", new SQLException("", "22001"))))
                .isTrue();
        assertThat(Parking.parks(new DataAccessResourceFailureException(
                        "gone", new SQLException("", "08006", new ConnectException()))))
                .isFalse();
        assertThat(Parking.parks(new CannotAcquireLockException("two met", new SQLException("", "40001"))))
                .isFalse();
        assertThat(Parking.parks(new IllegalStateException(new OutOfMemoryError())))
                .isFalse();
    }

    private static void await(BooleanSupplier condition) throws InterruptedException {
        long started = System.nanoTime();
        while (!condition.getAsBoolean()) {
            assertThat(System.nanoTime() - started)
                    .isLessThan(Duration.ofMinutes(1).toNanos());
            Thread.sleep(20);
        }
    }

    private static JsonNode onBoard(TestFarm farm, String row) {
        for (JsonNode one : farm.json("/api/board?morning=" + MORNING).get("rows")) {
            if (one.get("row").asText().equals(row)) {
                return one;
            }
        }
        throw new AssertionError("no row " + row);
    }

    @ParameterizedTest
    @EnumSource
    void whatCantBeWrittenWaitsWithItsSubjectAndIsTakenWhenTheFaultIsMended(Engine engine) throws Exception {
        try (TestFarm farm = new TestFarm(engine)) {
            Parking parking = farm.bean(Parking.class);
            JdbcClient jdbc = farm.bean(JdbcClient.class);
            farm.at("2026-11-25T17:10:00+02:00").text("Nomsa", "1 12 14 28; 1 13 9 18");
            farm.awaitProjections();
            jdbc.sql("alter table board_act_1 add constraint fault check (position < 0 or row_label <> '13') "
                            + (engine == Engine.H2 ? "nocheck" : "not valid"))
                    .update();
            jdbc.sql("alter table board_act_2 add constraint fault_2 check (row_label <> '13')")
                    .update();

            farm.at(DAWN).text("Nomsa", "2 12 3");
            assertThat(farm.text("Nomsa", "2 13 3")).startsWith("Row 13: 3 opened");
            farm.text("Nomsa", "2 14 3");
            await(() -> parking.waiting().size() == 1);
            farm.text("Nomsa", "3 13 2");
            farm.text("Nomsa", "3 12 3");
            await(() -> parking.waiting().size() == 2);
            farm.awaitProjections();

            assertThat(onBoard(farm, "13").get("opened").asInt()).isZero();
            assertThat(onBoard(farm, "12").get("pollinated").asInt()).isEqualTo(3);
            assertThat(onBoard(farm, "14").get("opened").asInt()).isEqualTo(3);
            assertThat(parking.waiting())
                    .extracting(Waiting::projection, Waiting::subject, Waiting::type)
                    .containsExactly(tuple("board", ROW, "opened"), tuple("board", ROW, "pollinated"));
            assertThat(parking.waiting().get(0).reason()).containsIgnoringCase("fault");
            assertThat(parking.waiting().get(1).reason()).isNull();
            assertThat(parking.count("board", new FarmId("marrowfield"))).isEqualTo(2);
            assertThat(parking.count("board", new FarmId("hill"))).isZero();
            await(() -> farm.json("/health").get("status").asText().equals("warning"));
            assertThat(farm.get("/health").statusCode()).isEqualTo(200);
            assertThat(farm.json("/health").get("parked").get("board").asInt()).isEqualTo(2);
            assertThat(farm.get("/metrics").body())
                    .contains("duskpeg_parked_events{processor=\"board\"} 2")
                    .contains("duskpeg_parked_events{processor=\"ledger\"} 0");
            assertThat(farm.get("/operations").body()).contains(ROW, "Try again");
            assertThat(farm.get("/board?morning=" + MORNING).body())
                    .contains("2 reports are noted, but not on the boards");

            farm.post("/operations/parked", Map.of("projection", "board", "subject", ROW));
            assertThat(parking.waiting()).hasSize(2);
            // What can't be written while it is made anew changes nothing.
            assertThatThrownBy(() -> farm.bean(Rebuild.class).projections())
                    .isInstanceOf(DataIntegrityViolationException.class);
            assertThat(farm.bean(Copies.class).live("board")).isEqualTo(1);

            jdbc.sql("alter table board_act_1 drop constraint fault").update();
            jdbc.sql("alter table board_act_2 drop constraint fault_2").update();
            farm.post("/operations/parked", Map.of("projection", "board", "subject", ROW));

            assertThat(parking.waiting()).isEmpty();
            assertThat(onBoard(farm, "13").get("opened").asInt()).isEqualTo(3);
            assertThat(onBoard(farm, "13").get("pollinated").asInt()).isEqualTo(2);
            Map<String, List<String>> taken = MadeTables.of(farm.bean(DataSource.class));
            farm.bean(Rebuild.class).projections();
            assertThat(MadeTables.of(farm.bean(DataSource.class))).isEqualTo(taken);
        }
    }

    @ParameterizedTest
    @EnumSource
    void whatCantBeReadParksEverywhereButInTheLedger(Engine engine) throws Exception {
        try (TestFarm farm = new TestFarm(engine)) {
            Parking parking = farm.bean(Parking.class);
            farm.awaitProjections();
            int leaves = leaves(farm);
            put(farm, 0, "culled", "{\"subject\":\"" + FRUIT + "\",\"count\":");
            put(farm, 1, "finished", "{}");
            await(() -> parking.waiting().size() == 4);
            farm.at(DAWN).text("Nomsa", "2 12 3");
            await(() -> onBoard(farm, "12").get("opened").asInt() == 3);

            assertThat(parking.counts()).isEqualTo(Map.of("board", 2L, "history", 2L));
            assertThat(leaves(farm)).isEqualTo(leaves);

            farm.bean(Rebuild.class).projections();
            assertThat(farm.bean(Copies.class).live("board")).isEqualTo(2);
            assertThat(parking.counts()).isEqualTo(Map.of("board", 2L, "history", 2L));
            assertThat(parking.waiting().get(0).reason()).contains("can't be read");
            assertThat(parking.waiting().get(1).reason()).isNull();
            assertThat(onBoard(farm, "12").get("opened").asInt()).isEqualTo(3);
        }
    }

    private static int leaves(TestFarm farm) {
        return farm.bean(JdbcClient.class)
                .sql("select count(*) from ledger_leaf")
                .query(Integer.class)
                .single();
    }

    private static void put(TestFarm farm, int sequence, String type, String payload) {
        farm.bean(JdbcClient.class)
                .sql(
                        "insert into event (event_id, stream, sequence, stream_type, event_type, revision, payload, metadata,"
                                + " stored_at) values (?, ?, ?, 'Page', ?, '1', ?, ?, '2026-11-26T05:00:00Z')")
                .params(
                        "torn-" + sequence,
                        FRUIT,
                        sequence,
                        type,
                        payload.getBytes(StandardCharsets.UTF_8),
                        "{}".getBytes(StandardCharsets.UTF_8))
                .update();
    }
}
