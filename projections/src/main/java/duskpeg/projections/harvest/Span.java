package duskpeg.projections.harvest;

import duskpeg.core.act.Act;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.harvest.Season;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.planting.Rows;
import duskpeg.core.planting.Species;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.Optional;

/**
 * A season of a farm up to a day.
 *
 * @param day what was done later is left out
 * @param rows what the farm knows of its rows
 */
record Span(FarmId farm, FarmSettings settings, Season season, LocalDate day, Rows rows) {

    Optional<Planting> planting(RowId row) {
        return rows.plantingOf(row);
    }

    Optional<Species> species(Fruit one) {
        return planting(Crop.round(one).row()).map(Planting::species);
    }

    LocalDate dateOf(Act act) {
        return settings.dateAt(act.told().done());
    }

    /** Whether it was done by the end of the day. */
    boolean isDone(Act act) {
        return !dateOf(act).isAfter(day);
    }

    /** Whether anything was said of a fruit in the season. */
    boolean isSaid(Fruit one) {
        return one.acts().stream().anyMatch(act -> season.has(dateOf(act)));
    }

    /** The report that a fruit was brought in, the last of them. */
    Optional<Act.Harvested> broughtIn(Fruit one) {
        return Crop.is(one, Fruit.State.HARVESTED)
                ? Act.only(Act.Harvested.class, one.acts())
                        .max(Comparator.comparing(act -> act.told().done()))
                : Optional.empty();
    }
}
