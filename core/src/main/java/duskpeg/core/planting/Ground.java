package duskpeg.core.planting;

import java.util.HashSet;
import java.util.List;

/**
 * How rows and plants lie, as far as walking goes: a grid, with all rows side by side and plant 1 of each at the same
 * end.
 *
 * @param rows in the order in which they lie
 * @param betweenRows metres from a row to the next, above 0
 * @param betweenPlants metres from a plant to the next in its row, above 0
 */
public record Ground(List<RowId> rows, double betweenRows, double betweenPlants) {

    /**
     * @throws IllegalArgumentException if a distance is not above 0, or a row comes twice
     */
    public Ground {
        rows = List.copyOf(rows);
        if (!(betweenRows > 0 && betweenPlants > 0)) {
            throw new IllegalArgumentException("not metres: " + betweenRows + " and " + betweenPlants);
        }
        if (new HashSet<>(rows).size() < rows.size()) {
            throw new IllegalArgumentException("a row comes twice");
        }
    }

    /**
     * Metres from a plant to another: along the row and across rows. An estimate: whoever can't step across walks
     * further.
     *
     * @throws IllegalArgumentException if a row is not among these
     */
    public double metres(PlantId from, PlantId to) {
        return Math.abs(place(from) - place(to)) * betweenRows + Math.abs(from.number() - to.number()) * betweenPlants;
    }

    private int place(PlantId plant) {
        int place = rows.indexOf(plant.row());
        if (place < 0) {
            throw new IllegalArgumentException("not on this ground: " + plant);
        }
        return place;
    }
}
