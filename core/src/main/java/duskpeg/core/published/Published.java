package duskpeg.core.published;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.csv.Csv;
import duskpeg.core.csv.Import;
import duskpeg.core.csv.Import.Problem;
import duskpeg.core.csv.Line;
import duskpeg.core.planting.Species;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/** Every table, with what a farm changed in them. */
public final class Published {

    /** What stands in a file of changes. */
    public static final List<String> CHANGE_COLUMNS = List.of("table", "key", "value", "source", "edition");

    private static final String FOLDER = "/duskpeg/published/";

    private final Map<Table, Map<String, Row>> tables;

    private Published(Map<Table, Map<String, Row>> tables) {
        this.tables = tables;
    }

    /** The tables as they were shipped. */
    public static Published shipped() {
        return Holder.SHIPPED;
    }

    private static final class Holder {
        static final Published SHIPPED = read(table -> {
            String name = FOLDER + fileOf(table);
            try (InputStream in = Published.class.getResourceAsStream(name)) {
                if (in == null) {
                    throw new IllegalStateException("no " + name + " on the class path");
                }
                return new String(in.readAllBytes(), StandardCharsets.UTF_8);
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        });
    }

    /**
     * Reads every table.
     *
     * @param text the text of a table's file
     * @throws IllegalArgumentException if any of them is not as it must be; the message has file, line and what is wrong
     */
    static Published read(Function<Table, String> text) {
        Map<Table, Map<String, Row>> tables = new EnumMap<>(Table.class);
        for (Table table : Table.values()) {
            tables.put(table, read(table, text.apply(table)));
        }
        return new Published(tables);
    }

    private static Map<String, Row> read(Table table, String text) {
        Map<String, Row> rows = new LinkedHashMap<>();
        Map<String, Integer> lines = new LinkedHashMap<>();
        Csv.read(text, columns -> {
                    if (!columns.equals(table.columns())) {
                        throw new IllegalArgumentException("the header is not " + String.join(",", table.columns()));
                    }
                    return line -> {
                        Row row = row(table, line);
                        if (rows.putIfAbsent(row.id(), row) != null) {
                            throw new IllegalArgumentException(row.id() + " stands there twice");
                        }
                        lines.put(row.id(), line.number());
                        return row;
                    };
                })
                .orThrow(fileOf(table));
        if (rows.isEmpty()) {
            throw new IllegalArgumentException(fileOf(table) + " line 2: has no rows");
        }
        groups(table, rows).values().forEach(members -> {
            String problem = problem(table, members);
            if (problem != null) {
                String last = members.get(members.size() - 1).id();
                throw new IllegalArgumentException(fileOf(table) + " line " + lines.get(last) + ": " + problem);
            }
        });
        return rows;
    }

    private static String fileOf(Table table) {
        return table.word() + ".csv";
    }

    private static Row row(Table table, Line line) {
        List<String> key = new ArrayList<>();
        for (String column : table.keyColumns()) {
            String part = line.text(column);
            table.checkKey(column, part);
            key.add(part);
        }
        String value = line.text("value");
        table.checkValue(value);
        String unit = line.text("unit");
        table.checkUnit(unit);
        String note = line.optional("note");
        Row.Shipped shipped = new Row.Shipped(
                value,
                line.text("source"),
                line.text("edition"),
                Mark.of(line.text("mark")),
                note.isEmpty() ? null : note);
        return new Row(table, key, unit, shipped, null);
    }

    /** Rows whose values hang together, by what their keys have in common. */
    private static Map<String, List<Row>> groups(Table table, Map<String, Row> rows) {
        return table.parts().isEmpty()
                ? Map.of()
                : rows.values().stream()
                        .collect(Collectors.groupingBy(Published::group, LinkedHashMap::new, Collectors.toList()));
    }

    private static String group(Row row) {
        return String.join("/", row.key().subList(0, row.key().size() - 1));
    }

    private static @Nullable String problem(Table table, List<Row> members) {
        Map<String, Row> byPart = members.stream()
                .collect(Collectors.toMap(row -> row.key().get(row.key().size() - 1), Function.identity()));
        Row before = null;
        for (String part : table.parts()) {
            Row row = byPart.get(part);
            if (row == null) {
                return part + " is missing";
            }
            if (table.rising() && before != null && row.number().compareTo(before.number()) < 0) {
                return row.id() + " is " + row.value() + ", less than " + before.id() + ", " + before.value();
            }
            before = row;
        }
        return null;
    }

    /** The rows of a table, in the order of its file. */
    public List<Row> rows(Table table) {
        return List.copyOf(of(table).values());
    }

    /** The row with that key, if there is one. */
    public Optional<Row> row(Table table, String... key) {
        return Optional.ofNullable(of(table).get(String.join("/", key)));
    }

    /** The row of that species, if there is one. */
    public Optional<Row> row(Table table, Species species, String... rest) {
        return row(
                table,
                Stream.concat(Stream.of(Table.word(species)), Arrays.stream(rest))
                        .toArray(String[]::new));
    }

    /**
     * The row with that key.
     *
     * @throws IllegalArgumentException if there is none
     */
    public Row get(Table table, String... key) {
        return row(table, key)
                .orElseThrow(
                        () -> new IllegalArgumentException("no row " + String.join("/", key) + " in " + table.word()));
    }

    /**
     * The row of a table by {@code from} in which that number falls: the last one that begins at it or below.
     *
     * @throws IllegalArgumentException if the table has no such key, or none begins so low
     */
    public Row at(Table table, BigDecimal number) {
        if (!table.keyColumns().equals(List.of("from"))) {
            throw new IllegalArgumentException("rows without a from: " + table.word());
        }
        return of(table).values().stream()
                .filter(row -> from(row).compareTo(number) <= 0)
                .max(Comparator.comparing(Published::from))
                .orElseThrow(() -> new IllegalArgumentException(table.word() + " does not begin so low: " + number));
    }

    private static BigDecimal from(Row row) {
        return new BigDecimal(row.key().get(0));
    }

    /** How likely two species cross, whichever is named first. */
    public Row crossing(Species one, Species other) {
        return row(Table.CROSSING, one, Table.word(other))
                .orElseGet(() -> get(Table.CROSSING, Table.word(other), Table.word(one)));
    }

    /** Every row in which the farm goes by a value of its own. */
    public List<Row> own() {
        return tables.values().stream()
                .flatMap(rows -> rows.values().stream())
                .filter(row -> row.own() != null)
                .toList();
    }

    /**
     * These tables with a value of the farm's own.
     *
     * @throws IllegalArgumentException if there is no such row or no such value may stand in it
     */
    public Published with(Change change) {
        return with(List.of(change));
    }

    /**
     * These tables with values of the farm's own; a later change of a row holds.
     *
     * @throws IllegalArgumentException if any has no such row, or no such value may stand in it, or values that belong
     *     together are not in their order after all of them; then none is made
     */
    public Published with(List<Change> changes) {
        changes.forEach(this::check);
        Published after = apply(changes);
        for (Change change : changes) {
            String problem = after.problemOf(change);
            if (problem != null) {
                throw new IllegalArgumentException(problem);
            }
        }
        return after;
    }

    /**
     * These tables with what was shipped in that row again.
     *
     * @param key the row, as {@link Row#id}
     * @throws IllegalArgumentException if there is no such row, or the shipped value is not in its order beside other
     *     values of the farm's own
     */
    public Published without(Table table, String key) {
        Row row = get(table, key);
        Published after = put(List.of(new Row(table, row.key(), row.unit(), row.shipped(), null)));
        String problem = after.problemIn(table, group(row));
        if (problem != null) {
            throw new IllegalArgumentException(problem);
        }
        return after;
    }

    /**
     * Reads a file of changes with the columns {@link #CHANGE_COLUMNS}. What is taken can be given to {@link #with}
     * as it is.
     *
     * @param csv the text
     * @param by who brings it
     * @return every change, or every problem with its line
     */
    public Import<Change> readChanges(String csv, WorkerId by) {
        List<Integer> lines = new ArrayList<>();
        Map<String, Integer> seen = new LinkedHashMap<>();
        Import<Change> read = Csv.read(csv, columns -> {
            Csv.wants(columns, CHANGE_COLUMNS);
            return line -> {
                Change change = new Change(
                        table(line.text("table")),
                        line.text("key"),
                        line.figure("value"),
                        line.text("source"),
                        line.text("edition"),
                        by);
                check(change);
                Integer earlier = seen.putIfAbsent(change.table() + " " + change.key(), line.number());
                if (earlier != null) {
                    throw new IllegalArgumentException("changes what line " + earlier + " changes");
                }
                lines.add(line.number());
                return change;
            };
        });
        if (!(read instanceof Import.Taken<Change> taken)) {
            return read;
        }
        Published after = apply(taken.rows());
        List<Problem> problems = new ArrayList<>();
        for (int i = 0; i < lines.size(); i++) {
            String problem = after.problemOf(taken.rows().get(i));
            if (problem != null) {
                problems.add(new Problem(lines.get(i), problem));
            }
        }
        return problems.isEmpty() ? read : new Import.Refused<>(problems);
    }

    private static Table table(String word) {
        return Arrays.stream(Table.values())
                .filter(table -> table.word().equals(word))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("no such table: " + word));
    }

    private void check(Change change) {
        get(change.table(), change.key());
        change.table().checkValue(change.value());
    }

    private Published apply(List<Change> changes) {
        List<Row> rows = new ArrayList<>();
        for (Change change : changes) {
            Row row = get(change.table(), change.key());
            Row.Own own = new Row.Own(change.value(), change.source(), change.edition(), change.by());
            rows.add(new Row(row.table(), row.key(), row.unit(), row.shipped(), own));
        }
        return put(rows);
    }

    private Published put(List<Row> rows) {
        Map<Table, Map<String, Row>> after = new EnumMap<>(tables);
        for (Row row : rows) {
            Map<String, Row> table = new LinkedHashMap<>(of(after, row.table()));
            table.put(row.id(), row);
            after.put(row.table(), table);
        }
        return new Published(after);
    }

    private @Nullable String problemOf(Change change) {
        return problemIn(change.table(), group(get(change.table(), change.key())));
    }

    private @Nullable String problemIn(Table table, String group) {
        List<Row> members = groups(table, of(table)).get(group);
        return members == null ? null : problem(table, members);
    }

    private Map<String, Row> of(Table table) {
        return of(tables, table);
    }

    private static Map<String, Row> of(Map<Table, Map<String, Row>> tables, Table table) {
        return tables.getOrDefault(table, Map.of());
    }
}
