package duskpeg.projections.ledger;

import duskpeg.core.audit.Proved;
import duskpeg.core.farm.FarmId;
import duskpeg.core.ledger.Appender;
import duskpeg.core.ledger.Checkpoint;
import duskpeg.core.ledger.Hash;
import duskpeg.core.ledger.KeptInMemory;
import duskpeg.core.ledger.Note;
import duskpeg.core.ledger.SignerKey;
import duskpeg.core.ledger.Tree;
import duskpeg.core.ledger.VerifierKey;
import duskpeg.core.store.Inserts;
import duskpeg.core.store.StoredEvents;
import duskpeg.core.store.StoredEvents.Stored;
import duskpeg.projections.Each;
import duskpeg.projections.Wanted;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.springframework.jdbc.core.JdbcOperations;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionTemplate;

/** The trees of the farms, kept in tables. */
@Component
public class Ledger {

    /** Fewer than any database's limit on the values of a query. */
    private static final int AT_ONCE = 500;

    private final JdbcOperations operations;
    private final JdbcClient jdbc;
    private final StoredEvents events;
    private final LedgerKeys keys;
    private final Cosignatures cosignatures;
    private final TransactionTemplate transaction;
    private final Clock clock;

    Ledger(
            JdbcOperations operations,
            StoredEvents events,
            LedgerKeys keys,
            Cosignatures cosignatures,
            TransactionTemplate transaction,
            Clock clock) {
        this.operations = operations;
        this.jdbc = JdbcClient.create(operations);
        this.events = events;
        this.keys = keys;
        this.cosignatures = cosignatures;
        this.transaction = transaction;
        this.clock = clock;
    }

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
        Inserts rows = new Inserts(operations, "ledger_leaf", List.of("farm", "leaf", "event_id"));
        for (Stored leaf : leaves) {
            rows.add(farm, appender.size(), leaf.id());
            appender.append(hash(leaf));
        }
        rows.write();
        appender.keep();
    }

    private static Hash hash(Stored leaf) {
        return Hash.ofLeaf(leaf.canonical().getBytes(StandardCharsets.UTF_8));
    }

    private long size(String farm) {
        return new JdbcTiles(jdbc, farm).leaves();
    }

    private Tree tree(FarmId farm, long size) {
        return new Tree(size, new JdbcTiles(jdbc, farm.value()));
    }

    /** The keys that sign this farm's checkpoints. */
    public List<VerifierKey> keys(FarmId farm) {
        return keys.verifiers(farm);
    }

    /**
     * How the tree stands now, signed, and cosigned by the witnesses that saw it so. What was signed once is kept: of
     * one size there is one checkpoint.
     */
    public Note checkpoint(FarmId farm) {
        long size = size(farm.value());
        return signed(farm, size).orElseGet(() -> sign(farm, size)).with(cosignatures.of(farm, size));
    }

    private Optional<Note> signed(FarmId farm, long size) {
        return signedAt(farm, size).map(Note::parse);
    }

    /** What was signed of a tree of that size, as it was written. */
    public Optional<String> signedAt(FarmId farm, long size) {
        return jdbc.sql("select note from ledger_checkpoint where farm = ? and tree_size = ?")
                .params(farm.value(), size)
                .query(String.class)
                .optional();
    }

    private Note sign(FarmId farm, long size) {
        Note note = sign(
                farm, new Checkpoint(keys.origin(farm), size, tree(farm, size).root()).text());
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

    /**
     * Signs a text with the farm's keys.
     *
     * @param text a checkpoint, or what can't be taken for one
     */
    public Note sign(FarmId farm, String text) {
        List<SignerKey> signers = keys.of(farm);
        Note note = Note.sign(text, signers.get(0));
        for (SignerKey signer : signers.subList(1, signers.size())) {
            note = note.signedBy(signer);
        }
        return note;
    }

    /**
     * Earlier checkpoints that were signed, with a key that still is in use: of each day (UTC) the last.
     *
     * @param before the size of the tree before which they are
     */
    public List<Note> earlier(FarmId farm, long before) {
        Map<LocalDate, Note> last = new LinkedHashMap<>();
        List<VerifierKey> inUse = keys(farm);
        jdbc.sql("select note, signed from ledger_checkpoint where farm = ? and tree_size < ? order by tree_size")
                .params(farm.value(), before)
                .query(row -> {
                    Note note = Note.parse(row.getString(1));
                    if (inUse.stream().anyMatch(note::isSignedBy)) {
                        last.put(
                                row.getObject(2, OffsetDateTime.class)
                                        .withOffsetSameInstant(ZoneOffset.UTC)
                                        .toLocalDate(),
                                note);
                    }
                });
        return last.values().stream()
                .sorted(Comparator.comparingLong(
                        note -> Checkpoint.parse(note.text()).size()))
                .toList();
    }

    /** The events of these streams that are in the tree of a checkpoint, in its order, with what proves them. */
    public List<Proved> ofStreams(FarmId farm, Collection<String> streams, Note checkpoint) {
        if (streams.isEmpty()) {
            return List.of();
        }
        long size = Checkpoint.parse(checkpoint.text()).size();
        List<String> ids = new ArrayList<>();
        Wanted.of(streams)
                .forEach(some ->
                        ids.addAll(jdbc.sql("select event_id from " + some.as("name") + " join event on stream = name")
                                .params(some.and())
                                .query(String.class)
                                .list()));
        return prove(
                farm,
                size,
                leaves(farm, ids).entrySet().stream()
                        .filter(one -> one.getValue() < size)
                        .map(one -> new Leaf(one.getValue(), one.getKey()))
                        .sorted(Comparator.comparingLong(Leaf::place))
                        .toList());
    }

    /** Hands on every event that is in the tree of a checkpoint, in its order, with what proves it; a few are read at once. */
    public void each(FarmId farm, Note checkpoint, Each<Proved> each) throws IOException {
        long size = Checkpoint.parse(checkpoint.text()).size();
        Tree tree = tree(farm, size);
        for (long from = 0; from < size; from += AT_ONCE) {
            List<Leaf> some = jdbc.sql(
                            "select leaf, event_id from ledger_leaf where farm = ? and leaf >= ? and leaf < ? order by leaf")
                    .params(farm.value(), from, Math.min(from + AT_ONCE, size))
                    .query(Ledger::leaf)
                    .list();
            for (Proved event : prove(tree, some)) {
                each.take(event);
            }
        }
    }

    private record Leaf(long place, String event) {}

    private static Leaf leaf(ResultSet row, int number) throws SQLException {
        return new Leaf(row.getLong(1), row.getString(2));
    }

    private List<Proved> prove(FarmId farm, long size, List<Leaf> leaves) {
        return prove(tree(farm, size), leaves);
    }

    private List<Proved> prove(Tree tree, List<Leaf> leaves) {
        Map<String, Stored> stored =
                events.withIds(leaves.stream().map(Leaf::event).toList());
        List<Proved> proved = new ArrayList<>();
        for (Leaf leaf : leaves) {
            Stored event = stored.get(leaf.event());
            if (event != null) {
                proved.add(new Proved(leaf.place(), event.canonical(), tree.inclusion(leaf.place())));
            }
        }
        return proved;
    }

    /** The event with what proves it against a checkpoint; empty where it is not in that tree. */
    public Optional<Proved> prove(FarmId farm, String eventId, Note checkpoint) {
        long size = Checkpoint.parse(checkpoint.text()).size();
        return jdbc.sql("select leaf from ledger_leaf where farm = ? and event_id = ? and leaf < ?")
                .params(farm.value(), eventId, size)
                .query(Long.class)
                .optional()
                .flatMap(leaf -> prove(farm, size, List.of(new Leaf(leaf, eventId))).stream()
                        .findFirst());
    }

    /** Which leaves of the farm's tree these events are; one that is not in it yet is left out. */
    public Map<String, Long> leaves(FarmId farm, Collection<String> ids) {
        Map<String, Long> leaves = new HashMap<>();
        Wanted.of(ids)
                .forEach(some -> jdbc.sql("select event_id, leaf from " + some.as("id")
                                + " join ledger_leaf on farm = ? and event_id = id")
                        .params(some.and(farm.value()))
                        .query(row -> {
                            leaves.put(row.getString(1), row.getLong(2));
                        }));
        return leaves;
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
     * What a look at everything that is kept of a farm found.
     *
     * @param leaves how many leaves the tree has
     * @param changed the ids of events that were changed or are gone, in the order of the leaves
     * @param outside how many events of the log are not in the tree
     * @param tree whether the tree that is kept is that of the events
     * @param checkpoints how many checkpoints were signed
     * @param broken the sizes of those whose tree was another, or whose signature is wrong
     * @param ofOtherKeys how many are signed with none of the keys now in use
     */
    public record Inspection(
            long leaves,
            List<String> changed,
            long outside,
            boolean tree,
            int checkpoints,
            List<Long> broken,
            int ofOtherKeys) {

        /** Whether nothing was found. */
        public boolean isWhole() {
            return changed.isEmpty() && outside == 0 && tree && broken.isEmpty();
        }
    }

    /** Makes every leaf anew from the log, and the tree from them, and compares with all that is kept and was signed. */
    public Inspection inspect(FarmId farm) {
        return inspect(farm, keys(farm));
    }

    /**
     * The same, where the keys of this server may be others than those that signed.
     *
     * @param inUse the keys that sign the farm's checkpoints
     */
    public Inspection inspect(FarmId farm, List<VerifierKey> inUse) {
        JdbcTiles kept = new JdbcTiles(jdbc, farm.value());
        List<String> ids = jdbc.sql("select event_id from ledger_leaf where farm = ? order by leaf")
                .param(farm.value())
                .query(String.class)
                .list();
        List<String> changed = new ArrayList<>();
        List<Hash> leaves = new ArrayList<>();
        for (int from = 0; from < ids.size(); from += JdbcTiles.WIDTH) {
            List<String> some = ids.subList(from, Math.min(from + JdbcTiles.WIDTH, ids.size()));
            Map<String, Stored> stored = events.withIds(some);
            byte[] hashes = kept.tile(0, from / JdbcTiles.WIDTH);
            for (int i = 0; i < some.size(); i++) {
                Stored event = stored.get(some.get(i));
                Hash leaf = event == null ? Hash.EMPTY : hash(event);
                if (hashes.length < (i + 1) * Hash.SIZE
                        || !leaf.equals(Hash.of(Arrays.copyOfRange(hashes, i * Hash.SIZE, (i + 1) * Hash.SIZE)))) {
                    changed.add(some.get(i));
                }
                leaves.add(leaf);
            }
        }
        KeptInMemory anew = KeptInMemory.of(leaves);
        Signed signed = signed(farm, anew, leaves.size(), inUse);
        return new Inspection(
                ids.size(),
                changed,
                outside(farm),
                isTree(farm, anew, ids.size()),
                signed.all,
                signed.broken,
                signed.ofOtherKeys);
    }

    private long outside(FarmId farm) {
        return jdbc.sql("select count(*) from event where (stream = ? or stream like ?) and not exists"
                        + " (select 1 from ledger_leaf where farm = ? and ledger_leaf.event_id = event.event_id)")
                .params(farm.value(), farm.value() + "/%", farm.value())
                .query(Long.class)
                .single();
    }

    private boolean isTree(FarmId farm, KeptInMemory anew, long size) {
        try {
            return size == size(farm.value()) && tree(farm, size).root().equals(new Tree(size, anew).root());
        } catch (IllegalStateException e) {
            // A tile is too short.
            return false;
        }
    }

    /** What was found of the checkpoints. */
    private static final class Signed {
        private final List<Long> broken = new ArrayList<>();
        private int all;
        private int ofOtherKeys;
    }

    private Signed signed(FarmId farm, KeptInMemory anew, long leaves, List<VerifierKey> inUse) {
        Map<Long, String> notes = new LinkedHashMap<>();
        jdbc.sql("select tree_size, note from ledger_checkpoint where farm = ? order by tree_size")
                .param(farm.value())
                .query(row -> {
                    notes.put(row.getLong(1), row.getString(2));
                });
        Signed signed = new Signed();
        notes.forEach((size, text) -> {
            signed.all++;
            try {
                Note note = Note.parse(text);
                Checkpoint is = Checkpoint.parse(note.text());
                boolean ofTree =
                        size <= leaves && is.size() == size && is.root().equals(new Tree(size, anew).root());
                if (!ofTree || inUse.stream().anyMatch(key -> note.names(key) && !note.isSignedBy(key))) {
                    signed.broken.add(size);
                } else if (inUse.stream().noneMatch(note::names)) {
                    signed.ofOtherKeys++;
                }
            } catch (IllegalArgumentException e) {
                signed.broken.add(size);
            }
        });
        return signed;
    }
}
