package duskpeg.core.day;

import duskpeg.core.act.Subject;
import duskpeg.core.farm.FarmId;
import java.time.LocalDate;

/**
 * A day of a farm.
 *
 * @param farm the farm
 * @param date the date on the farm
 */
public record DayId(FarmId farm, LocalDate date) implements Subject {

    @Override
    public String toString() {
        return farm + "/day/" + date;
    }
}
