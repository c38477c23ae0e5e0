package duskpeg.core.planting;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Rows of one cultivar, sown together.
 *
 * @param name the farm's name for it
 * @param cultivar the cultivar
 * @param species its species, as stated by the farm
 * @param rows its rows
 * @param stock what was sown, as the farm calls it: a lot of its own, or what it bought; null where it did not say
 */
public record Planting(
        String name,
        String cultivar,
        Species species,
        List<Row> rows,
        @Nullable String stock) {

    /** A planting of which nobody said what was sown. */
    public Planting(String name, String cultivar, Species species, List<Row> rows) {
        this(name, cultivar, species, rows, null);
    }

    public Planting {
        rows = List.copyOf(rows);
    }

    /**
     * A row of the planting.
     *
     * @param id the row
     * @param plants how many plants stand in it
     */
    public record Row(RowId id, int plants) {}
}
