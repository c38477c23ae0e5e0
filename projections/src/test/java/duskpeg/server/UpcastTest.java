package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.store.Upcasts;
import duskpeg.core.store.Upcasts.Step;
import duskpeg.projections.rebuild.Rebuild;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import javax.sql.DataSource;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Primary;
import org.springframework.jdbc.core.simple.JdbcClient;

/** An event of an invented older shape lies in the log, and everything that reads events reads it as today's. */
class UpcastTest {

    private static final String ROUND = "marrowfield/row/15/2026-11-26";
    private static final String OLD = """
            {"round":"%s","females":9,"males":18,"told":{"by":"marrowfield/worker/w1","done":"2026-11-25T15:00:00Z",\
            "heard":"2026-11-25T15:00:00Z","text":"marrowfield/text/SMold","line":1,"seal":"%s"}}""".formatted(ROUND, "0".repeat(64));

    /** Without an annotation, so that no other test's server finds it. */
    static class Old {
        @Bean
        @Primary
        Upcasts withAnOlderShape() {
            return new Upcasts(List.of(new Step("pegged", "0", "2", old -> {
                old.set("count", old.remove("females"));
                return old;
            })));
        }
    }

    @ParameterizedTest
    @EnumSource
    void whatWasStoredInAnotherShapeIsReadAsTodays(Engine engine) {
        try (TestFarm farm = new TestFarm(engine, List.of(Old.class))) {
            farm.bean(JdbcClient.class)
                    .sql("insert into event (event_id, stream, sequence, stream_type, event_type, revision, payload,"
                            + " metadata, stored_at) values ('old', ?, 0, 'Page', 'pegged', '0', ?, ?,"
                            + " '2026-11-25T15:00:00Z')")
                    .params(ROUND, OLD.getBytes(StandardCharsets.UTF_8), "{}".getBytes(StandardCharsets.UTF_8))
                    .update();

            // The board follows, and the aggregate is read from it.
            assertThat(farm.row("2026-11-26", "15").get("pegged").asInt()).isEqualTo(9);
            assertThat(farm.at("2026-11-26T07:10:00+02:00").text("Nomsa", "2 15 3"))
                    .startsWith("Row 15: 3 opened. 9 left.");

            farm.awaitProjections();
            Map<String, List<String>> followed = MadeTables.of(farm.bean(DataSource.class));
            farm.bean(Rebuild.class).projections();
            farm.awaitProjections();
            Map<String, List<String>> anew = MadeTables.of(farm.bean(DataSource.class));
            assertThat(anew.get("board")).isEqualTo(followed.get("board")).hasSize(2);
            // So is a history.
            assertThat(farm.json("/api/row/15/2026-11-26")
                            .get("acts")
                            .get(0)
                            .get("count")
                            .asInt())
                    .isEqualTo(9);

            // The leaf is of what is stored.
            assertThat(farm.json("/api/ledger/event/old").toString())
                    .contains("females")
                    .doesNotContain("count");
        }
    }
}
