package duskpeg.projections.ops;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import duskpeg.core.ledger.Hash;
import duskpeg.projections.ops.Kept.Table;
import java.io.BufferedReader;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.math.BigInteger;
import java.security.MessageDigest;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.ResultSetMetaData;
import java.sql.SQLException;
import java.sql.Statement;
import java.sql.Types;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Base64;
import java.util.Comparator;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * Rows as JSON Lines, alike from every engine: an object for each row, its columns in the order of their names; bytes in
 * Base64, instants and days as ISO-8601 in UTC.
 */
final class Rows {

    /** So many rows are fetched or stored at once. */
    private static final int AT_ONCE = 500;

    private static final JsonFactory JSON = new JsonFactory();
    private static final ObjectMapper MAPPER = new ObjectMapper();

    private Rows() {}

    /** What a column holds, whatever its engine calls it. */
    private enum Kind {
        TEXT,
        WHOLE,
        FRACTION,
        YES_OR_NO,
        BYTES,
        DAY,
        INSTANT;

        static Kind of(int type, String name) {
            // PostgreSQL's driver gives a time with its zone the type of one without.
            if (name.equalsIgnoreCase("timestamptz")) {
                return INSTANT;
            }
            return switch (type) {
                case Types.CHAR, Types.VARCHAR, Types.LONGVARCHAR -> TEXT;
                case Types.BIGINT, Types.INTEGER, Types.SMALLINT -> WHOLE;
                case Types.DOUBLE -> FRACTION;
                case Types.BOOLEAN, Types.BIT -> YES_OR_NO;
                case Types.BINARY, Types.VARBINARY, Types.LONGVARBINARY -> BYTES;
                case Types.DATE -> DAY;
                case Types.TIMESTAMP_WITH_TIMEZONE -> INSTANT;
                default -> throw new IllegalStateException("no way to back up a column of type " + name);
            };
        }
    }

    /**
     * A column.
     *
     * @param place where it stands in a row, from 1
     */
    private record Column(String name, Kind kind, int place) {}

    private static List<Column> columns(ResultSetMetaData data) throws SQLException {
        List<Column> columns = new ArrayList<>();
        for (int place = 1; place <= data.getColumnCount(); place++) {
            columns.add(new Column(
                    data.getColumnName(place).toLowerCase(Locale.ROOT),
                    Kind.of(data.getColumnType(place), data.getColumnTypeName(place)),
                    place));
        }
        columns.sort(Comparator.comparing(Column::name));
        return columns;
    }

    /**
     * What was read of a table.
     *
     * @param rows how many rows
     * @param digest the sum of the SHA-256 of every row, as hex, modulo 2^256: the same in whatever order an engine gives
     *     them. It finds what was lost or altered on the way; against somebody who forges rows there is the ledger
     */
    record Read(long rows, String digest) {}

    /** Adds up digests of rows. */
    private static final class Sum {
        private static final BigInteger MODULUS = BigInteger.ONE.shiftLeft(256);
        private static final int BYTES = 32;

        private final MessageDigest sha = Hash.sha256();
        private BigInteger sum = BigInteger.ZERO;
        private long rows;

        void add(byte[] row) {
            sum = sum.add(new BigInteger(1, sha.digest(row))).mod(MODULUS);
            rows++;
        }

        Read read() {
            byte[] bytes = new byte[BYTES];
            byte[] number = sum.toByteArray();
            int length = Math.min(number.length, BYTES);
            System.arraycopy(number, number.length - length, bytes, BYTES - length, length);
            return new Read(rows, HexFormat.of().formatHex(bytes));
        }
    }

    /** Writes every row of a table, a line for each. */
    static Read write(Connection database, Table table, OutputStream out) throws SQLException, IOException {
        Sum sum = new Sum();
        ByteArrayOutputStream line = new ByteArrayOutputStream();
        try (Statement statement = database.createStatement()) {
            // PostgreSQL's driver reads a whole table into memory without it, and with it only inside a transaction.
            statement.setFetchSize(AT_ONCE);
            try (ResultSet rows = statement.executeQuery(table.select())) {
                List<Column> columns = columns(rows.getMetaData());
                while (rows.next()) {
                    line.reset();
                    try (JsonGenerator json = JSON.createGenerator(line)) {
                        json.writeStartObject();
                        for (Column column : columns) {
                            json.writeFieldName(column.name());
                            write(rows, column, json);
                        }
                        json.writeEndObject();
                    }
                    byte[] row = line.toByteArray();
                    sum.add(row);
                    out.write(row);
                    out.write('\n');
                }
            }
        }
        return sum.read();
    }

    private static void write(ResultSet row, Column column, JsonGenerator json) throws SQLException, IOException {
        int place = column.place();
        if (row.getObject(place) == null) {
            json.writeNull();
            return;
        }
        switch (column.kind()) {
            case TEXT -> json.writeString(row.getString(place));
            case WHOLE -> json.writeNumber(row.getLong(place));
            case FRACTION -> json.writeNumber(row.getDouble(place));
            case YES_OR_NO -> json.writeBoolean(row.getBoolean(place));
            case BYTES -> json.writeString(Base64.getEncoder().encodeToString(row.getBytes(place)));
            case DAY -> json.writeString(row.getObject(place, LocalDate.class).toString());
            case INSTANT ->
                json.writeString(
                        row.getObject(place, OffsetDateTime.class).toInstant().toString());
        }
    }

    /**
     * Stores rows that were written. Call it inside a transaction.
     *
     * @throws BadBackup if a line is no row of the table
     */
    static void load(Connection database, Table table, BufferedReader lines) throws SQLException, IOException {
        List<Column> columns;
        try (Statement statement = database.createStatement();
                ResultSet none = statement.executeQuery(table.shape())) {
            columns = columns(none.getMetaData());
        }
        String names = String.join(", ", columns.stream().map(Column::name).toList());
        String marks = String.join(", ", columns.stream().map(column -> "?").toList());
        try (PreparedStatement insert =
                database.prepareStatement("insert into " + table.name() + " (" + names + ") values (" + marks + ")")) {
            int waiting = 0;
            for (String line = lines.readLine(); line != null; line = lines.readLine()) {
                set(insert, columns, row(table, columns, line));
                insert.addBatch();
                if (++waiting == AT_ONCE) {
                    insert.executeBatch();
                    waiting = 0;
                }
            }
            insert.executeBatch();
        }
    }

    private static JsonNode row(Table table, List<Column> columns, String line) throws IOException {
        JsonNode row = MAPPER.readTree(line);
        if (!row.isObject()
                || row.size() != columns.size()
                || !columns.stream().allMatch(column -> row.has(column.name()))) {
            throw new BadBackup("a line of " + table.name() + " is no row of it");
        }
        return row;
    }

    private static void set(PreparedStatement insert, List<Column> columns, JsonNode row) throws SQLException {
        try {
            for (int i = 0; i < columns.size(); i++) {
                Column column = columns.get(i);
                insert.setObject(i + 1, value(column.kind(), row.get(column.name())));
            }
        } catch (IllegalArgumentException | DateTimeException e) {
            throw new BadBackup("a value of a row can't be read");
        }
    }

    private static @Nullable Object value(Kind kind, JsonNode value) {
        if (value.isNull()) {
            return null;
        }
        return switch (kind) {
            case TEXT -> value.textValue();
            case WHOLE -> value.longValue();
            case FRACTION -> value.doubleValue();
            case YES_OR_NO -> value.booleanValue();
            case BYTES -> Base64.getDecoder().decode(value.asText());
            case DAY -> LocalDate.parse(value.asText());
            case INSTANT -> Instant.parse(value.asText()).atOffset(ZoneOffset.UTC);
        };
    }

    /** Reads a table as {@link #write} does, for its digest only. */
    static Read digest(Connection database, Table table) throws SQLException, IOException {
        return write(database, table, OutputStream.nullOutputStream());
    }
}
