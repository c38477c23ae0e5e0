package duskpeg.core.csv;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.List;

/**
 * A row of comma-separated text.
 *
 * @param number the number of its line, from 1
 * @param columns the header
 * @param values its values, one for each column
 * @param decimalComma whether numbers may have a comma in place of the point
 */
public record Line(int number, List<String> columns, List<String> values, boolean decimalComma) {

    public Line {
        columns = List.copyOf(columns);
        values = List.copyOf(values);
    }

    /** The value in that column; may be empty. */
    public String optional(String column) {
        return values.get(columns.indexOf(column));
    }

    /**
     * The value in that column.
     *
     * @throws IllegalArgumentException if it is empty
     */
    public String text(String column) {
        String value = optional(column);
        if (value.isEmpty()) {
            throw new IllegalArgumentException(column + " is missing");
        }
        return value;
    }

    /**
     * The value in that column with a decimal point where it has a decimal comma.
     *
     * @throws IllegalArgumentException if it is empty
     */
    public String figure(String column) {
        String value = text(column);
        return decimalComma ? value.replace(',', '.') : value;
    }

    /**
     * The number in that column.
     *
     * @throws IllegalArgumentException if it is none
     */
    public BigDecimal number(String column) {
        String plain = figure(column);
        // No exponents: 1E9 in a column of temperatures is a slip.
        if (!plain.matches("[+-]?\\d{1,12}(\\.\\d{1,12})?")) {
            throw new IllegalArgumentException(column + " is not a number: " + text(column));
        }
        return new BigDecimal(plain);
    }

    /**
     * The day in that column, as in {@code 2026-01-15}.
     *
     * @throws IllegalArgumentException if it is none
     */
    public LocalDate date(String column) {
        String value = text(column);
        try {
            return LocalDate.parse(value);
        } catch (DateTimeParseException e) {
            throw new IllegalArgumentException(column + " is not a day like 2026-01-15: " + value, e);
        }
    }
}
