package duskpeg.core.planting;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** What a farm knows of its rows, as far as questions need it. */
public final class Rows {

    /** Where nothing is known, so that nothing can be asked. */
    public static final Rows UNKNOWN = new Rows(List.of());

    private record Known(Planting planting, int plants) {}

    private final Map<RowId, Known> rows = new HashMap<>();

    /** The rows of these plantings. */
    public Rows(List<Planting> plantings) {
        plantings.forEach(planting ->
                planting.rows().forEach(row -> rows.put(row.id(), new Known(planting, row.plants()))));
    }

    /** Whether that plant can be there: its number is not above its row's, as far as rows are known. */
    public boolean canHave(PlantId plant) {
        return rows.isEmpty() || plant.number() <= plantsIn(plant.row());
    }

    /** How many plants stand in the row; 0 where there is no such row. */
    public int plantsIn(RowId row) {
        return Optional.ofNullable(rows.get(row)).map(Known::plants).orElse(0);
    }

    /** The planting the row is of. */
    public Optional<Planting> plantingOf(RowId row) {
        return Optional.ofNullable(rows.get(row)).map(Known::planting);
    }

    /** The cultivar of the row. */
    public Optional<String> cultivarOf(RowId row) {
        return plantingOf(row).map(Planting::cultivar);
    }
}
