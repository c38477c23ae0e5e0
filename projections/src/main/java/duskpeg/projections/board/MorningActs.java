package duskpeg.projections.board;

import duskpeg.core.act.Act;
import duskpeg.core.farm.FarmId;
import duskpeg.core.store.EventJson;
import duskpeg.projections.copies.Copies;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * The acts of mornings as they are stored. A morning that is looked at often is not parsed anew each time: only what was
 * added is read. Rows are only ever added, and what is behind a place in the log never changes, so that a count tells
 * whether anything is missing.
 */
@Component
class MorningActs {

    /** So many acts are kept: some weeks of a small farm, three mornings of one with 800 rows. About 20 MB. */
    private static final int KEPT = 20_000;

    private final JdbcClient jdbc;
    private final Copies copies;
    private final Latest<Key, Read> kept =
            new Latest<>(KEPT, read -> read.stored().size());

    MorningActs(JdbcClient jdbc, Copies copies) {
        this.jdbc = jdbc;
        this.copies = copies;
    }

    /**
     * @param table where they are read from: another copy may have been made otherwise
     */
    private record Key(FarmId farm, LocalDate morning, String table) {}

    private record Stored(long position, String row, Act act) {}

    private record Read(List<Stored> stored) {

        private static final Read NOTHING = new Read(List.of());

        long newest() {
            return stored.isEmpty() ? -1 : stored.get(stored.size() - 1).position();
        }

        Read and(List<Stored> more) {
            List<Stored> all = new ArrayList<>(stored);
            all.addAll(more);
            return new Read(all);
        }
    }

    /** The acts of a morning by row, in the order in which they were heard. */
    Map<String, List<Act>> of(FarmId farm, LocalDate morning) {
        Key key = new Key(farm, morning, copies.table(BoardProjection.NAME, BoardProjection.ACTS));
        Read known;
        synchronized (kept) {
            known = kept.get(key);
        }
        Read before = known == null ? Read.NOTHING : known;
        Read now = before.and(after(key, before.newest()));
        if (now.stored().size() != count(key)) {
            now = new Read(after(key, -1));
        }
        synchronized (kept) {
            kept.put(key, now);
        }
        return now.stored().stream()
                .collect(Collectors.groupingBy(Stored::row, Collectors.mapping(Stored::act, Collectors.toList())));
    }

    private List<Stored> after(Key key, long position) {
        return jdbc.sql("select position, row_label, act from " + key.table()
                        + " where farm = ? and morning = ? and position > ? order by position")
                .params(key.farm().value(), key.morning(), position)
                .query((row, number) ->
                        new Stored(row.getLong(1), row.getString(2), (Act) EventJson.read(row.getString(3))))
                .list();
    }

    private int count(Key key) {
        return jdbc.sql("select count(*) from " + key.table() + " where farm = ? and morning = ?")
                .params(key.farm().value(), key.morning())
                .query(Integer.class)
                .single();
    }
}
