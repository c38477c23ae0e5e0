package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import duskpeg.core.farm.FarmId;
import duskpeg.core.ledger.Checkpoint;
import duskpeg.core.ledger.Hash;
import duskpeg.core.ledger.Note;
import duskpeg.core.ledger.Proofs;
import duskpeg.core.ledger.VerifierKey;
import duskpeg.projections.ledger.Ledger;
import duskpeg.projections.rebuild.Rebuild;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Base64;
import java.util.List;
import java.util.stream.StreamSupport;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.springframework.jdbc.core.simple.JdbcClient;

/** An auditor who has only what she was given: an older checkpoint and the key. */
class LedgerTest {

    private static final FarmId FARM = new FarmId("marrowfield");

    private static List<Hash> hashes(JsonNode proof) {
        return StreamSupport.stream(proof.spliterator(), false)
                .map(hash -> Hash.of(Base64.getDecoder().decode(hash.asText())))
                .toList();
    }

    @ParameterizedTest
    @EnumSource(Engine.class)
    void everyEventIsProvedAndNoneCanBeChangedUnseen(Engine engine) {
        try (TestFarm farm = new TestFarm(engine)) {
            farm.at("2026-11-25T17:00:00+02:00").text("Nomsa", "1 12 14 m 28");
            farm.awaitProjections();
            VerifierKey key =
                    VerifierKey.parse(farm.get("/api/ledger/key").body().strip());
            Note older = Note.parse(farm.get("/api/ledger/checkpoint").body());
            assertThat(older.isSignedBy(key)).isTrue();
            farm.at("2026-11-26T07:00:00+02:00").text("Nomsa", "2345 12 6");
            farm.text("Pieter", "1 13 9\n2345 13 2");
            farm.awaitProjections();
            farm.restart();
            farm.bean(Rebuild.class).everything();
            farm.text("Pieter", "0");
            farm.awaitProjections();

            Note newer = Note.parse(farm.get("/api/ledger/checkpoint").body());
            assertThat(newer.isSignedBy(key)).isTrue();
            assertThat(farm.get("/api/ledger/checkpoint").body()).isEqualTo(newer.toString());
            Checkpoint then = Checkpoint.parse(older.text());
            Checkpoint now = Checkpoint.parse(newer.text());
            JsonNode consistency = farm.json("/api/ledger/consistency?from=" + then.size() + "&to=" + now.size());
            assertThat(Proofs.consistent(
                            then.size(), then.root(), now.size(), now.root(), hashes(consistency.get("proof"))))
                    .isTrue();
            List<String> ids = farm.bean(JdbcClient.class)
                    .sql("select event_id from event order by position")
                    .query(String.class)
                    .list();
            assertThat(now.size()).isEqualTo(ids.size());
            List<Long> places = new ArrayList<>();
            for (String id : ids) {
                JsonNode proved = farm.json("/api/ledger/event/" + id);
                Hash leaf = Hash.ofLeaf(proved.get("event").asText().getBytes(StandardCharsets.UTF_8));
                assertThat(proved.get("event").asText()).contains(id);
                assertThat(Proofs.includes(
                                leaf,
                                proved.get("index").asLong(),
                                now.size(),
                                hashes(proved.get("proof")),
                                now.root()))
                        .isTrue();
                places.add(proved.get("index").asLong());
            }
            assertThat(places).doesNotHaveDuplicates().hasSize(ids.size());

            assertThat(farm.bean(Ledger.class).inspect(FARM))
                    .matches(Ledger.Inspection::isWhole)
                    .extracting(Ledger.Inspection::leaves, Ledger.Inspection::ofOtherKeys)
                    .containsExactly(now.size(), 0);
            String victim = ids.get(ids.size() - 3);
            farm.bean(JdbcClient.class)
                    .sql("update event set revision = '9' where event_id = ?")
                    .param(victim)
                    .update();
            Ledger.Inspection found = farm.bean(Ledger.class).inspect(FARM);
            assertThat(found.changed()).containsExactly(victim);
            assertThat(found.tree()).isFalse();
            assertThat(found.broken()).containsExactly(now.size());
        }
    }

    @ParameterizedTest
    @EnumSource(value = Engine.class, names = "H2")
    void whatIsNotThereIsSaid(Engine engine) {
        try (TestFarm farm = new TestFarm(engine)) {
            assertThat(farm.get("/api/ledger/event/none").statusCode()).isEqualTo(404);
            assertThat(farm.get("/api/ledger/consistency?from=5&to=100000").statusCode())
                    .isEqualTo(400);
            assertThat(farm.get("/api/ledger/consistency?from=x&to=1").statusCode())
                    .isEqualTo(400);
        }
    }
}
