package duskpeg.core.store;

import static duskpeg.core.Farm.MORNING;
import static duskpeg.core.Farm.row;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import duskpeg.core.act.Act;
import duskpeg.core.round.RoundId;
import duskpeg.core.store.EventLog.Stored;
import duskpeg.core.store.Upcasts.Step;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.SimpleDriverDataSource;

/** An old revision that can't be read as it is goes through the steps to today's, wherever events are read. */
class UpcastsTest {

    private static final String OLD = """
            {"round":"hill/row/12/%s","females":"14","told":%s}""";

    /** As though the first shape ever had the count as words under another name, and the next as words. */
    private static final Upcasts STEPS = new Upcasts(java.util.List.of(
            new Step("opened", "-1", "0", old -> {
                old.set("count", old.remove("females"));
                return old;
            }),
            new Step(
                    "opened", "0", "1", old -> old.put("count", old.get("count").asInt()))));

    private static String told() throws IOException {
        String stored = Files.readString(Path.of("src", "test", "resources", "events", "opened-1.json"));
        return stored.substring(stored.indexOf("\"told\":") + 7, stored.lastIndexOf('}'));
    }

    private static EventLog log(Upcasts upcasts) {
        return new EventLog(JdbcClient.create(new SimpleDriverDataSource()), upcasts);
    }

    private static Stored stored(String revision, String payload) {
        return new Stored(1, "e1", "hill/row/12/" + MORNING, "opened", revision, payload);
    }

    @Test
    void everyStepIsTakenInItsTurn() throws IOException {
        String old = OLD.formatted(MORNING, told());

        Act.Opened opened = (Act.Opened) log(STEPS).read(stored("-1", old));

        assertThat(opened.count()).isEqualTo(14);
        assertThat(opened.round()).isEqualTo(new RoundId(row("12").id(), MORNING));
        assertThat(log(STEPS).read(stored("0", old.replace("females", "count"))))
                .isEqualTo(opened);
        assertThatIllegalArgumentException()
                .isThrownBy(() -> log(Upcasts.RELEASED).read(stored("-1", old)));
        assertThat(EventLog.written(stored("-1", old), opened)).isEqualTo(EventJson.write(opened));
    }

    @Test
    void whatIsTodaysIsLeftAlone() throws IOException {
        String today = OLD.formatted(MORNING, told()).replace("\"females\":\"14\"", "\"count\":14");

        assertThat(log(STEPS).read(stored("1", today)))
                .isEqualTo(log(Upcasts.RELEASED).read(stored("1", today)));
    }

    @Test
    void anAuditReadsTheSameOfTheStoredBytes() throws IOException {
        String old = OLD.formatted(MORNING, told());
        String canonical = "{\"id\":\"e1\",\"stream\":\"hill/row/12/" + MORNING
                + "\",\"sequence\":0,\"type\":\"opened\",\"revision\":\"-1\",\"payload\":" + old + "}";

        assertThat(StoredEvents.read(0, canonical, STEPS).event())
                .isEqualTo(log(STEPS).read(stored("-1", old)));
    }
}
