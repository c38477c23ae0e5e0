package duskpeg.projections.copies;

import duskpeg.core.act.Act;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/** Something that is made from the log: which rows an event gives. Events give rows each by itself, in any order. */
public interface Projection {

    /** The name of it and of its event processor. */
    String name();

    /** Its tables; in the first there is one row for each event that gives any, with its {@code position} as the key. */
    List<Table> tables();

    /** The rows that an event gives; none, where it is no matter of this projection. */
    void rows(Entry entry, Rows rows);

    /**
     * A table. There are two of it, whose names end with {@code _1} and {@code _2}, and so do those of its indexes.
     *
     * @param name its name without that
     * @param columns its columns
     * @param indexes its indexes but for the primary key: the name, without number, and the columns
     */
    record Table(String name, List<String> columns, Map<String, String> indexes) {
        public Table {
            columns = List.copyOf(columns);
            indexes = Map.copyOf(indexes);
        }
    }

    /**
     * An act in the log.
     *
     * @param position where it lies
     * @param id its event's id
     * @param written as {@link duskpeg.core.store.EventJson#write} writes it
     */
    record Entry(long position, String id, Act act, String written) {}

    /** Where rows go. */
    interface Rows {

        /** Adds a row, a value for each column. */
        void add(Table table, @Nullable Object... row);
    }
}
