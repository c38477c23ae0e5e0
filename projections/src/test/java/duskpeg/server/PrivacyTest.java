package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.act.Act;
import duskpeg.core.act.Seal;
import java.util.List;
import org.axonframework.eventsourcing.eventstore.EventStorageEngine;
import org.junit.jupiter.api.Test;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Nothing personal is in the log, and yet the words beside it can be shown to be the words that were sent. */
@OnBothEngines
class PrivacyTest {

    @Test
    void theLogKnowsNoNamesNumbersOrWords() {
        try (TestFarm farm = new TestFarm(Engine.asked())) {
            farm.at("2026-11-25T17:10:00+02:00").text("Nomsa", "peg 12 14 males 28");
            farm.text("Lerato", "0 I am Lerato and this is private");
            farm.text("+15555550199", "1 12 14");

            List<String> log = payloads(farm);

            assertThat(log).isNotEmpty();
            assertThat(String.join("\n", log))
                    .doesNotContain("Nomsa", "Lerato", "1555555", "males 28", "private")
                    .contains("marrowfield/worker/w1");
        }
    }

    @Test
    void theSealShowsThatTheseWereTheWords() {
        try (TestFarm farm = new TestFarm(Engine.asked())) {
            farm.at("2026-11-25T17:10:00+02:00").text("Nomsa", "1 12 14 m 28", "SMsealed");
            String salt = farm.bean(JdbcClient.class)
                    .sql("select salt from field_text where text_id = 'SMsealed'")
                    .query(String.class)
                    .single();
            Act pegged = (Act) farm.bean(EventStorageEngine.class)
                    .readEvents("marrowfield/row/12/2026-11-26")
                    .next()
                    .getPayload();

            assertThat(pegged.told().seal()).isEqualTo(Seal.of(salt, "1 12 14 m 28"));
            assertThat(pegged.told().seal()).isNotEqualTo(Seal.of(salt, "1 12 15 m 28"));
        }
    }

    private static List<String> payloads(TestFarm farm) {
        return farm.bean(JdbcClient.class)
                .sql("select payload from event order by position")
                .query((row, number) -> new String(row.getBytes(1), java.nio.charset.StandardCharsets.UTF_8))
                .list();
    }
}
