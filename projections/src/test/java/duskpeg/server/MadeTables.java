package duskpeg.server;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import javax.sql.DataSource;

/** What is in the tables that are made from the log, row by row; not the numbers that a database counts up by itself. */
final class MadeTables {

    private static final Map<String, String> SELECT = new LinkedHashMap<>();

    static {
        SELECT.put("farm", "select * from farm order by farm");
        SELECT.put("farm_row", "select * from farm_row order by farm, row_label");
        SELECT.put("neighbour", "select * from neighbour order by farm, planting, neighbour");
        SELECT.put("enrolled", "select * from enrolled order by farm, worker");
        SELECT.put("said", "select farm, worker, text_id, subject, taken_back from said order by said");
        SELECT.put("tie_use", "select farm, tie, text_id, line, round from tie_use order by used");
        SELECT.put(
                "custody",
                "select farm, span_first, span_last, text_id, taken_back, event from custody order by place");
        SELECT.put(
                "holding",
                "select (select count(*) from custody where custody.place <= holding.place), farm, first_tie, last_tie,"
                        + " numbering, span_first, span_last, worker, since, ended, ended_at from holding"
                        + " order by holding.place, first_tie");
        SELECT.put("settled", "select farm, subject, line, reading, event from settled order by settled");
        SELECT.put("day_entry", "select farm, on_day, kind, ends, event from day_entry order by entered");
        SELECT.put("lot_entry", "select farm, lot, event from lot_entry order by entered");
        SELECT.put("figure_entry", "select farm, event from figure_entry order by entered");
        SELECT.put("harvest_entry", "select farm, event from harvest_entry order by entered");
        SELECT.put("board", "select * from board_act_# order by position");
        SELECT.put("history", "select * from history_tie_# order by position, tie");
    }

    private MadeTables() {}

    /** The rows of each table. */
    static Map<String, List<String>> of(DataSource database) {
        Map<String, List<String>> tables = new LinkedHashMap<>();
        try (Connection connection = database.getConnection();
                Statement statement = connection.createStatement()) {
            Map<String, String> live = new LinkedHashMap<>();
            try (ResultSet row = statement.executeQuery("select name, live from projection")) {
                while (row.next()) {
                    live.put(row.getString(1), row.getString(2));
                }
            }
            for (Map.Entry<String, String> table : SELECT.entrySet()) {
                String copy = live.getOrDefault(table.getKey().split(" ")[0], "");
                tables.put(table.getKey(), rows(statement, table.getValue().replace("#", copy)));
            }
        } catch (SQLException e) {
            throw new IllegalStateException(e);
        }
        return tables;
    }

    private static List<String> rows(Statement statement, String select) throws SQLException {
        List<String> rows = new ArrayList<>();
        try (ResultSet row = statement.executeQuery(select)) {
            while (row.next()) {
                StringBuilder line = new StringBuilder();
                for (int i = 1; i <= row.getMetaData().getColumnCount(); i++) {
                    line.append(row.getString(i)).append(" | ");
                }
                rows.add(line.toString());
            }
        }
        return rows;
    }

    /** Every index there is, and what it is on. */
    static List<String> indexes(DataSource database) {
        TreeSet<String> indexes = new TreeSet<>();
        try (Connection connection = database.getConnection();
                ResultSet tables = connection
                        .getMetaData()
                        .getTables(connection.getCatalog(), connection.getSchema(), "%", new String[] {
                            "TABLE", "BASE TABLE"
                        })) {
            while (tables.next()) {
                try (ResultSet index = connection
                        .getMetaData()
                        .getIndexInfo(
                                connection.getCatalog(),
                                connection.getSchema(),
                                tables.getString("TABLE_NAME"),
                                false,
                                true)) {
                    while (index.next()) {
                        indexes.add(tables.getString("TABLE_NAME") + " " + index.getString("INDEX_NAME") + " "
                                + index.getString("ORDINAL_POSITION") + " " + index.getString("COLUMN_NAME"));
                    }
                }
            }
        } catch (SQLException e) {
            throw new IllegalStateException(e);
        }
        return List.copyOf(indexes);
    }
}
