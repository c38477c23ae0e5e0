package duskpeg.projections.copies;

import duskpeg.core.act.Act;
import duskpeg.core.store.EventJson;
import duskpeg.core.store.EventLog;
import duskpeg.core.store.Inserts;
import duskpeg.projections.copies.Projection.Entry;
import duskpeg.projections.copies.Projection.Table;
import java.sql.Savepoint;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import org.axonframework.messaging.unitofwork.UnitOfWork;
import org.jspecify.annotations.Nullable;
import org.springframework.dao.NonTransientDataAccessException;
import org.springframework.jdbc.core.ConnectionCallback;
import org.springframework.jdbc.core.JdbcOperations;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * The two copies of each projection's tables. One is looked at and followed by the event processor; the other is empty,
 * or is made anew. Which is which is a row in the database, so that changing them is one small transaction.
 */
@Component
public class Copies {

    /** How long a node may take the wrong copy for the one to look at, after another has changed them. */
    public static final long STALE_MILLIS = 1_000;

    private static final int AT_ONCE = 500;

    private final JdbcOperations operations;
    private final JdbcClient jdbc;
    private final EventLog log;
    private final Map<String, Seen> live = new ConcurrentHashMap<>();
    /** Events of batches that could not be written. */
    private final Set<String> suspects = ConcurrentHashMap.newKeySet();

    Copies(JdbcOperations operations, EventLog log) {
        this.operations = operations;
        this.jdbc = JdbcClient.create(operations);
        this.log = log;
    }

    private record Seen(int copy, long at) {
        boolean isFresh() {
            return System.nanoTime() - at < STALE_MILLIS * 1_000_000;
        }
    }

    /** Which copy of a projection is to be looked at: 1 or 2. */
    public int live(String projection) {
        Seen seen = live.get(projection);
        if (seen == null || !seen.isFresh()) {
            seen = new Seen(stored(projection), System.nanoTime());
            live.put(projection, seen);
        }
        return seen.copy();
    }

    private int stored(String projection) {
        return jdbc.sql("select live from projection where name = ?")
                .param(projection)
                .query(Integer.class)
                .single();
    }

    /** The name of a table in the copy that is to be looked at. */
    public String table(String projection, Table table) {
        return named(table, live(projection));
    }

    static String named(Table table, int copy) {
        return table.name() + "_" + copy;
    }

    /** A number that counts up whenever anything was added to a projection, or its copies were changed. */
    public long changes(String projection) {
        return jdbc.sql("select changes from projection where name = ?")
                .param(projection)
                .query(Long.class)
                .single();
    }

    /** Adds an act to the copy that is looked at, together with the others of its batch, in the transaction of that. */
    public void follow(Projection projection, Act act, String event, UnitOfWork<?> unit) {
        UnitOfWork<?> batch = unit.root();
        // Whatever can't be written fails here, where it is known which event it was.
        Entry entry = new Entry(-1, event, act, EventJson.write(act));
        projection.rows(entry, (table, row) -> {});
        List<Entry> entries = batch.getOrComputeResource(Copies.class.getName() + projection.name(), key -> {
            List<Entry> fresh = new ArrayList<>();
            batch.onPrepareCommit(done -> addTogether(projection, fresh));
            return fresh;
        });
        if (suspects.contains(event)) {
            tryAlone(projection, entry);
        }
        entries.add(entry);
    }

    private void addTogether(Projection projection, List<Entry> entries) {
        try {
            add(projection, entries);
        } catch (NonTransientDataAccessException e) {
            // The batch comes again, and then each is tried by itself, so that the one is found that fails.
            entries.forEach(entry -> suspects.add(entry.id()));
            throw e;
        }
        entries.forEach(entry -> suspects.remove(entry.id()));
    }

    private void tryAlone(Projection projection, Entry entry) {
        operations.execute((ConnectionCallback<Void>) connection -> {
            Savepoint before = connection.setSavepoint();
            try {
                add(projection, List.of(entry));
            } finally {
                connection.rollback(before);
            }
            return null;
        });
    }

    /** Events that are there already are left out: after a change of copies some come a second time. */
    private void add(Projection projection, List<Entry> entries) {
        int copy = hold(projection.name());
        for (int from = 0; from < entries.size(); from += AT_ONCE) {
            List<Entry> some = entries.subList(from, Math.min(from + AT_ONCE, entries.size()));
            // A token says how far the log was read, which is not where an event lies that was late.
            Map<String, Long> positions =
                    log.positions(some.stream().map(Entry::id).toList());
            Set<Long> there = new HashSet<>(jdbc.sql("select position from "
                            + named(projection.tables().get(0), copy) + " where position in (:positions)")
                    .param("positions", positions.values())
                    .query(Long.class)
                    .list());
            List<Entry> missing = new ArrayList<>();
            for (Entry entry : some) {
                Long position = positions.get(entry.id());
                if (position != null && there.add(position)) {
                    missing.add(new Entry(position, entry.id(), entry.act(), entry.written()));
                }
            }
            write(projection, copy, missing);
        }
    }

    /** Holds the copies of a projection as they are until the transaction ends, and says which is looked at. */
    public int hold(String projection) {
        jdbc.sql("update projection set changes = changes + 1 where name = ?")
                .param(projection)
                .update();
        return stored(projection);
    }

    /** Writes what these events give, into a copy where none of them is. */
    public void write(Projection projection, int copy, List<Entry> entries) {
        Map<Table, Inserts> inserts = new LinkedHashMap<>();
        projection
                .tables()
                .forEach(table -> inserts.put(table, new Inserts(operations, named(table, copy), table.columns())));
        for (Entry entry : entries) {
            projection.rows(entry, (table, row) -> into(inserts, table).add(row));
        }
        inserts.values().forEach(Inserts::write);
    }

    private static Inserts into(Map<Table, Inserts> inserts, Table table) {
        Inserts into = inserts.get(table);
        if (into == null) {
            throw new IllegalArgumentException("no table of its own: " + table.name());
        }
        return into;
    }

    /** Empties a copy. */
    public void clear(Projection projection, int copy) {
        projection.tables().forEach(table -> operations.execute("truncate table " + named(table, copy)));
    }

    /** Takes the indexes of a copy away, before many rows are written; or makes them. */
    public void index(Projection projection, int copy, boolean make) {
        projection
                .tables()
                .forEach(table -> table.indexes()
                        .forEach((name, columns) -> operations.execute(
                                make
                                        ? "create index if not exists " + name + "_" + copy + " on "
                                                + named(table, copy) + " (" + columns + ")"
                                        : "drop index if exists " + name + "_" + copy)));
    }

    /** The positions behind that one of which a copy has rows. */
    public Set<Long> positions(Projection projection, int copy, long after) {
        return new HashSet<>(
                jdbc.sql("select position from " + named(projection.tables().get(0), copy) + " where position > ?")
                        .param(after)
                        .query(Long.class)
                        .list());
    }

    /** From the end of the transaction on, another copy is looked at; {@link #hold} must have come before. */
    public void swap(String projection, int copy) {
        jdbc.sql("update projection set live = ? where name = ?")
                .params(copy, projection)
                .update();
        live.remove(projection);
    }

    /** Forgets which copies are looked at, after a change of them. */
    public void lookAgain() {
        live.clear();
    }

    /** Marks a projection as unfinished, or as whole. */
    public void unfinished(String projection, boolean unfinished) {
        jdbc.sql("update projection set unfinished = ? where name = ?")
                .params(unfinished, projection)
                .update();
    }

    /** Whether it was begun to make a projection anew and not ended. */
    public boolean isUnfinished(String projection) {
        @Nullable
        Boolean unfinished = jdbc.sql("select unfinished from projection where name = ?")
                .param(projection)
                .query(Boolean.class)
                .single();
        return Boolean.TRUE.equals(unfinished);
    }
}
