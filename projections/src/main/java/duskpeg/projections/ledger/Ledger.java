package duskpeg.projections.ledger;

import duskpeg.core.farm.FarmId;
import duskpeg.core.ledger.Appender;
import duskpeg.core.ledger.Checkpoint;
import duskpeg.core.ledger.Hash;
import duskpeg.core.ledger.Note;
import duskpeg.core.ledger.SignerKey;
import duskpeg.core.ledger.Tree;
import duskpeg.core.ledger.VerifierKey;
import duskpeg.core.store.StoredEvents;
import duskpeg.core.store.StoredEvents.Stored;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionTemplate;

/** The trees of the farms, kept in tables. */
@Component
public class Ledger {

    private final JdbcClient jdbc;
    private final StoredEvents events;
    private final LedgerKeys keys;
    private final TransactionTemplate transaction;
    private final Clock clock;

    Ledger(JdbcClient jdbc, StoredEvents events, LedgerKeys keys, TransactionTemplate transaction, Clock clock) {
        this.jdbc = jdbc;
        this.events = events;
        this.keys = keys;
        this.transaction = transaction;
        this.clock = clock;
    }

    /**
     * An event with what proves it.
     *
     * @param event the event in canonical JSON: the leaf
     * @param index which leaf it is, from 0
     * @param checkpoint the signed checkpoint it is proved against
     * @param proof the inclusion proof
     */
    public record Proved(String event, long index, Note checkpoint, List<Hash> proof) {}

    /** Makes events leaves, in this order; call it inside the transaction that reads them. */
    void append(List<String> ids) {
        Map<String, Stored> stored = events.withIds(ids);
        Map<String, List<Stored>> byFarm = new LinkedHashMap<>();
        for (String id : ids) {
            Stored event = stored.get(id);
            if (event == null) {
                throw new IllegalStateException("event " + id + " is not in the store");
            }
            byFarm.computeIfAbsent(event.farm(), farm -> new ArrayList<>()).add(event);
        }
        byFarm.forEach(this::append);
    }

    private void append(String farm, List<Stored> leaves) {
        Appender appender = new Appender(size(farm), new JdbcTiles(jdbc, farm));
        for (Stored leaf : leaves) {
            jdbc.sql("insert into ledger_leaf (farm, leaf, event_id) values (?, ?, ?)")
                    .params(farm, appender.size(), leaf.id())
                    .update();
            appender.append(hash(leaf));
        }
        appender.keep();
    }

    private static Hash hash(Stored leaf) {
        return Hash.ofLeaf(leaf.canonical().getBytes(StandardCharsets.UTF_8));
    }

    private long size(String farm) {
        return jdbc.sql("select coalesce(max(leaf) + 1, 0) from ledger_leaf where farm = ?")
                .param(farm)
                .query(Long.class)
                .single();
    }

    private Tree tree(FarmId farm, long size) {
        return new Tree(size, new JdbcTiles(jdbc, farm.value()));
    }

    /** The keys that sign this farm's checkpoints. */
    public List<VerifierKey> keys(FarmId farm) {
        return keys.of(farm).stream().map(SignerKey::verifier).toList();
    }

    /** How the tree stands now, signed. What was signed once is kept: of one size there is one checkpoint. */
    public Note checkpoint(FarmId farm) {
        long size = size(farm.value());
        return signed(farm, size).orElseGet(() -> sign(farm, size));
    }

    private Optional<Note> signed(FarmId farm, long size) {
        return jdbc.sql("select note from ledger_checkpoint where farm = ? and tree_size = ?")
                .params(farm.value(), size)
                .query(String.class)
                .optional()
                .map(Note::parse);
    }

    private Note sign(FarmId farm, long size) {
        Checkpoint checkpoint =
                new Checkpoint(keys.origin(farm), size, tree(farm, size).root());
        List<SignerKey> signers = keys.of(farm);
        Note note = Note.sign(checkpoint.text(), signers.get(0));
        for (SignerKey signer : signers.subList(1, signers.size())) {
            note = note.signedBy(signer);
        }
        String text = note.toString();
        transaction.executeWithoutResult(status -> jdbc.sql("insert into ledger_checkpoint"
                        + " (farm, tree_size, note, signed) select ?, ?, ?, ? where not exists"
                        + " (select 1 from ledger_checkpoint where farm = ? and tree_size = ?)")
                .params(
                        farm.value(),
                        size,
                        text,
                        OffsetDateTime.ofInstant(clock.instant(), ZoneOffset.UTC),
                        farm.value(),
                        size)
                .update());
        return note;
    }

    /** The event with what proves it against a checkpoint; empty where it is not in that tree. */
    public Optional<Proved> prove(FarmId farm, String eventId, Note checkpoint) {
        long size = Checkpoint.parse(checkpoint.text()).size();
        return jdbc.sql("select leaf from ledger_leaf where farm = ? and event_id = ? and leaf < ?")
                .params(farm.value(), eventId, size)
                .query(Long.class)
                .optional()
                .flatMap(leaf -> Optional.ofNullable(
                                events.withIds(List.of(eventId)).get(eventId))
                        .map(stored -> new Proved(
                                stored.canonical(),
                                leaf,
                                checkpoint,
                                tree(farm, size).inclusion(leaf))));
    }

    /**
     * That the tree of an earlier size is the beginning of the later one.
     *
     * @throws IllegalArgumentException if there was no tree of one of these sizes
     */
    public List<Hash> consistency(FarmId farm, long earlier, long later) {
        if (later > size(farm.value())) {
            throw new IllegalArgumentException("no tree of " + later + " yet");
        }
        return tree(farm, later).consistency(earlier);
    }

    /**
     * Looks for what does not fit: every event in the store is hashed again and compared with its leaf.
     *
     * @return the ids of events that were changed or are gone, in the order of the leaves
     */
    public List<String> changed(FarmId farm) {
        JdbcTiles tiles = new JdbcTiles(jdbc, farm.value());
        List<String> changed = new ArrayList<>();
        List<String> ids = jdbc.sql("select event_id from ledger_leaf where farm = ? order by leaf")
                .param(farm.value())
                .query(String.class)
                .list();
        for (int from = 0; from < ids.size(); from += JdbcTiles.WIDTH) {
            List<String> some = ids.subList(from, Math.min(from + JdbcTiles.WIDTH, ids.size()));
            Map<String, Stored> stored = events.withIds(some);
            byte[] hashes = tiles.tile(0, from / JdbcTiles.WIDTH);
            for (int i = 0; i < some.size(); i++) {
                Stored event = stored.get(some.get(i));
                boolean whole = event != null
                        && hashes.length >= (i + 1) * Hash.SIZE
                        && hash(event).equals(Hash.of(Arrays.copyOfRange(hashes, i * Hash.SIZE, (i + 1) * Hash.SIZE)));
                if (!whole) {
                    changed.add(some.get(i));
                }
            }
        }
        return changed;
    }
}
