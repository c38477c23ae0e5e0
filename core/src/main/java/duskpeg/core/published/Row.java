package duskpeg.core.published;

import duskpeg.core.crew.WorkerId;
import java.math.BigDecimal;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A row of a table: what was shipped, and what the farm put in its place. Both are kept, so that a page can show both.
 *
 * @param table the table
 * @param key what tells it from the table's other rows, a part for each key column
 * @param unit the unit of both values
 * @param shipped what was shipped
 * @param own what the farm goes by instead; null where it goes by what was shipped
 */
public record Row(
        Table table,
        List<String> key,
        String unit,
        Shipped shipped,
        @Nullable Own own) {

    public Row {
        key = List.copyOf(key);
    }

    /**
     * What was shipped.
     *
     * @param value the value, as it was published
     * @param source where it was published
     * @param edition of which edition
     * @param mark how it came here
     * @param note anything else; null where there is nothing
     */
    public record Shipped(
            String value,
            String source,
            String edition,
            Mark mark,
            @Nullable String note) {}

    /**
     * What the farm goes by.
     *
     * @param value the value
     * @param source where the farm has it from
     * @param edition of which edition, or since when
     * @param by who entered it
     */
    public record Own(String value, String source, String edition, WorkerId by) {}

    /** The parts of the key with a slash between them. */
    public String id() {
        return String.join("/", key);
    }

    /** The value that holds on this farm. */
    public String value() {
        return own == null ? shipped.value() : own.value();
    }

    /**
     * The value that holds on this farm, as a number in its {@link #unit}.
     *
     * @throws IllegalStateException if the table's values are no numbers
     */
    public BigDecimal number() {
        if (!table.isNumeric()) {
            throw new IllegalStateException("no number: " + table.word());
        }
        return new BigDecimal(value());
    }

    /** Value, unit and source of what holds, to stand beside a result. */
    public String cited() {
        return own == null
                ? amount(shipped.value()) + " (" + origin() + ")"
                : "the farm's own " + amount(own.value()) + " (" + own.source() + ", " + own.edition() + "; shipped: "
                        + amount(shipped.value()) + ", " + origin() + ")";
    }

    private String origin() {
        Mark mark = shipped.mark();
        return switch (mark) {
            case READ -> shipped.source() + ", " + shipped.edition();
            case MEMORY -> shipped.source() + ", " + shipped.edition() + "; " + mark.caution();
            // These sources say themselves that there is nothing behind them.
            case COMPUTED, PRACTICE -> shipped.source();
        };
    }

    private String amount(String value) {
        return value + " " + unit;
    }
}
