package duskpeg.core.planting;

import java.util.List;

/**
 * Rows of one cultivar, sown together.
 *
 * @param name the farm's name for it
 * @param cultivar the cultivar
 * @param species its species, as stated by the farm
 * @param rows its rows
 */
public record Planting(String name, String cultivar, Species species, List<Row> rows) {

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
