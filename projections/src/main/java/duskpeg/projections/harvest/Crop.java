package duskpeg.projections.harvest;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.harvest.Season;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.planting.Rows;
import duskpeg.core.planting.Species;
import duskpeg.core.round.Round;
import duskpeg.core.round.RoundId;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * What stands of a season, of what was done by the end of a day.
 *
 * @param rows what the farm knows of its rows
 * @param rounds its rounds, by row and morning
 * @param fruit the fruit with ties that were put on in it, by tie
 * @param strangers fruit that were unbagged, culled or brought in, and of whose tying no report tells
 * @param onRows what was said of fruit by row, not by tie, in the order heard
 */
record Crop(
        FarmId farm,
        FarmSettings settings,
        Season season,
        LocalDate day,
        Rows rows,
        List<Round> rounds,
        List<Fruit> fruit,
        List<Fruit> strangers,
        List<Act.OnFruit> onRows) {

    /** By the number on the stake. */
    static final Comparator<RowId> BY_ROW = Comparator.comparing(row -> Integer.valueOf(row.label()));

    static RoundId round(Fruit fruit) {
        return fruit.tying().orElseThrow().round();
    }

    static boolean is(Fruit fruit, Fruit.State state) {
        return fruit.state().equals(Optional.of(state));
    }

    /** Its ties' fruit in that row. */
    List<Fruit> in(RowId row) {
        return fruit.stream().filter(one -> round(one).row().equals(row)).toList();
    }

    /** Rows with tied fruit, by number. */
    List<RowId> tiedRows() {
        return fruit.stream()
                .map(one -> round(one).row())
                .distinct()
                .sorted(BY_ROW)
                .toList();
    }

    Optional<Planting> planting(RowId row) {
        return rows.plantingOf(row);
    }

    Optional<Species> species(Fruit one) {
        return planting(round(one).row()).map(Planting::species);
    }

    LocalDate dateOf(Act act) {
        return settings.dateAt(act.told().done());
    }

    /** The day on which a fruit was brought in, by the last report of that. */
    Optional<Act.Harvested> broughtIn(Fruit one) {
        return is(one, Fruit.State.HARVESTED)
                ? Act.only(Act.Harvested.class, one.acts())
                        .max(Comparator.comparing(act -> act.told().done()))
                : Optional.empty();
    }

    /** What was said of a row's fruit by row. */
    Stream<Act.OnFruit> onRow(RowId row, Deed deed) {
        return onRows.stream().filter(act -> act.deed() == deed && act.subject().equals(row));
    }

    /** How many fruit were said by row, not by tie, to be culled or brought in. */
    int countOnRow(RowId row, Deed deed) {
        return onRow(row, deed).mapToInt(Act.OnFruit::count).sum();
    }
}
