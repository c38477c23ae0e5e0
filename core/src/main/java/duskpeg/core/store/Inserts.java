package duskpeg.core.store;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.ConnectionCallback;
import org.springframework.jdbc.core.JdbcOperations;

/** Rows on their way into a table, which are written many with one statement. For one thread. */
public final class Inserts {

    /** How many rows one statement has; what is left over goes by the smaller ones. Few forms, so that databases know them. */
    private static final List<Integer> AT_ONCE = List.of(100, 10, 1);

    private final JdbcOperations jdbc;
    private final String table;
    private final List<String> columns;
    private final List<@Nullable Object[]> rows = new ArrayList<>();

    public Inserts(JdbcOperations jdbc, String table, List<String> columns) {
        this.jdbc = jdbc;
        this.table = table;
        this.columns = List.copyOf(columns);
    }

    /** Adds a row, a value for each column. */
    public void add(@Nullable Object... row) {
        if (row.length != columns.size()) {
            throw new IllegalArgumentException(table + " has " + columns.size() + " columns, not " + row.length);
        }
        rows.add(row);
    }

    /** Writes them, in the order in which they were added. */
    public void write() {
        if (!rows.isEmpty()) {
            jdbc.execute((ConnectionCallback<Void>) connection -> {
                int from = 0;
                for (int size : AT_ONCE) {
                    from = write(connection, from, size);
                }
                return null;
            });
            rows.clear();
        }
    }

    private int write(Connection connection, int first, int size) throws SQLException {
        int from = first;
        if (rows.size() - from < size) {
            return from;
        }
        String row = "(" + String.join(", ", Collections.nCopies(columns.size(), "?")) + ")";
        try (PreparedStatement insert = connection.prepareStatement("insert into " + table + " ("
                + String.join(", ", columns) + ") values " + String.join(", ", Collections.nCopies(size, row)))) {
            for (; rows.size() - from >= size; from += size) {
                int place = 1;
                for (int i = from; i < from + size; i++) {
                    for (Object value : rows.get(i)) {
                        insert.setObject(place++, value);
                    }
                }
                insert.addBatch();
            }
            insert.executeBatch();
        }
        return from;
    }
}
