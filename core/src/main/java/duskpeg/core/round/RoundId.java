package duskpeg.core.round;

import duskpeg.core.act.Subject;
import duskpeg.core.farm.FarmId;
import duskpeg.core.planting.RowId;
import java.time.LocalDate;
import java.util.Optional;

/**
 * A row's round: one row on the morning on which its pegged flowers open.
 *
 * @param row the row
 * @param morning the opening morning, a date in the farm's zone
 */
public record RoundId(RowId row, LocalDate morning) implements Subject {

    @Override
    public FarmId farm() {
        return row.farm();
    }

    @Override
    public Optional<RowId> inRow() {
        return Optional.of(row);
    }

    @Override
    public String toString() {
        return row + "/" + morning;
    }
}
