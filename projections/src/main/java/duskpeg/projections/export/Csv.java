package duskpeg.projections.export;

import java.io.IOException;
import java.io.Writer;
import org.jspecify.annotations.Nullable;

/**
 * Writes lines of comma-separated values, as in RFC 4180: each ends with CR and LF, and what has a comma, a quote or a
 * line break in it is put between quotes.
 *
 * <p>A program for sheets takes a cell that begins with one of {@code = + - @}, or with white space, for a formula, also
 * one that somebody texted from a row. Before such a text an apostrophe is put. Numbers, times and dates stay as they are.
 */
final class Csv {

    private static final String FORMULA = "=+-@\t\r\n";

    private final Writer out;

    Csv(Writer out) {
        this.out = out;
    }

    /** Writes a line; null is an empty cell. */
    void line(@Nullable Object... cells) throws IOException {
        for (int i = 0; i < cells.length; i++) {
            if (i > 0) {
                out.write(',');
            }
            Object cell = cells[i];
            if (cell != null) {
                out.write(quoted(cell instanceof CharSequence text ? harmless(text.toString()) : cell.toString()));
            }
        }
        out.write("\r\n");
    }

    private static String harmless(String text) {
        return !text.isEmpty() && FORMULA.indexOf(text.charAt(0)) >= 0 ? "'" + text : text;
    }

    private static String quoted(String cell) {
        return cell.matches("[^\",\r\n]*") ? cell : '"' + cell.replace("\"", "\"\"") + '"';
    }
}
