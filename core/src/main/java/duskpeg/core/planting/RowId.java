package duskpeg.core.planting;

import duskpeg.core.act.Subject;
import duskpeg.core.farm.FarmId;
import java.util.Optional;

/**
 * A row of a farm's field.
 *
 * @param farm the farm
 * @param label the number on the row's stake: one to three digits without leading zeros, so that it can be keyed
 *     on a phone and is never taken for a tie number
 */
public record RowId(FarmId farm, String label) implements Subject {

    /**
     * @throws IllegalArgumentException if the label has another form
     */
    public RowId {
        if (!label.matches("[1-9][0-9]{0,2}")) {
            throw new IllegalArgumentException("not a row: " + label);
        }
    }

    @Override
    public Optional<RowId> inRow() {
        return Optional.of(this);
    }

    @Override
    public String toString() {
        return farm + "/row/" + label;
    }
}
