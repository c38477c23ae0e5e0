package duskpeg.core.csv;

import duskpeg.core.csv.Import.Problem;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;

/**
 * Reads comma-separated text: a header, then a row a line. Quotes are as in RFC 4180, spaces around a value and empty
 * lines count for nothing. Where the header is parted by semicolons, as spreadsheets do in countries that write a comma
 * in decimals, the rows are too, and numbers may have that comma.
 */
public final class Csv {

    private Csv() {}

    /** Makes the reader of the rows from the header. */
    @FunctionalInterface
    public interface Header<T> {

        /**
         * @param columns the names of the columns, in lower case
         * @throws IllegalArgumentException if it is not the header that is wanted; the message says why
         */
        Row<T> read(List<String> columns);
    }

    /** Reads one row. */
    @FunctionalInterface
    public interface Row<T> {

        /**
         * @throws IllegalArgumentException if it can't be read; the message says why
         */
        T read(Line line);
    }

    /**
     * Reads a text.
     *
     * @return every row, or every problem
     */
    public static <T> Import<T> read(String text, Header<T> header) {
        // Spreadsheets put a mark before the first letter.
        String clean = text.startsWith("\uFEFF") ? text.substring(1) : text;
        boolean semicolons = semicolons(clean);
        CSVFormat format = CSVFormat.RFC4180
                .builder()
                .setDelimiter(semicolons ? ';' : ',')
                // They are left out below, where they are counted.
                .setIgnoreEmptyLines(false)
                .setIgnoreSurroundingSpaces(true)
                .setTrim(true)
                .get();
        List<Problem> problems = new ArrayList<>();
        List<T> rows = new ArrayList<>();
        int before = 0;
        try (CSVParser parser = CSVParser.parse(clean, format)) {
            List<String> columns = null;
            Row<T> reader = null;
            for (CSVRecord one : parser) {
                int line = before + 1;
                before = (int) parser.getCurrentLineNumber();
                if (one.size() == 1 && one.get(0).isEmpty()) {
                    continue;
                }
                try {
                    if (columns == null || reader == null) {
                        columns = one.stream()
                                .map(name -> name.toLowerCase(Locale.ROOT))
                                .toList();
                        reader = header.read(columns);
                    } else if (one.size() != columns.size()) {
                        problems.add(new Problem(
                                line, "has " + one.size() + " values where the header has " + columns.size()));
                    } else {
                        rows.add(reader.read(new Line(line, columns, one.toList(), semicolons)));
                    }
                } catch (IllegalArgumentException e) {
                    problems.add(new Problem(line, String.valueOf(e.getMessage())));
                    if (reader == null) {
                        return new Import.Refused<>(problems);
                    }
                }
            }
            if (columns == null) {
                problems.add(new Problem(1, "is empty, not even a header"));
            }
        } catch (IOException | UncheckedIOException e) {
            // What comes after an open quote can't be told apart any more.
            problems.add(new Problem(before + 1, "can't be read from here on: a quote is wrong"));
        }
        return problems.isEmpty() ? new Import.Taken<>(rows) : new Import.Refused<>(problems);
    }

    /**
     * Sees that a header has these columns and no others, in any order.
     *
     * @throws IllegalArgumentException if it hasn't
     */
    public static void wants(List<String> columns, List<String> wanted) {
        List<String> sorted = columns.stream().sorted().toList();
        if (!sorted.equals(wanted.stream().sorted().toList())) {
            throw new IllegalArgumentException(
                    "the header is " + String.join(",", columns) + ", wanted: " + String.join(",", wanted));
        }
    }

    private static boolean semicolons(String text) {
        String first = text.lines().filter(line -> !line.isBlank()).findFirst().orElse("");
        return first.indexOf(';') >= 0 && first.indexOf(',') < 0;
    }
}
