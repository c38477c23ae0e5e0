package duskpeg.projections.harvest;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.planting.RowId;
import duskpeg.core.round.Round;
import duskpeg.core.round.RoundId;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * What stands of a row's season, of what was done by the end of a day.
 *
 * @param row the row
 * @param rounds its rounds, by morning
 * @param fruit the fruit with ties that were put on in it, by tie
 * @param strangers fruit that were unbagged, culled or brought in, whose ties were said to be put on in it, and of whose
 *     tying no report stands
 * @param onRow what was said of its fruit by row, not by tie, in the order heard
 */
record Crop(RowId row, List<Round> rounds, List<Fruit> fruit, List<Fruit> strangers, List<Act.OnFruit> onRow) {

    static RoundId round(Fruit fruit) {
        return fruit.tying().orElseThrow().round();
    }

    static boolean is(Fruit fruit, Fruit.State state) {
        return fruit.state().equals(Optional.of(state));
    }

    /** How many of its fruit have come so far. */
    int count(Fruit.State state) {
        return Math.toIntExact(fruit.stream().filter(one -> is(one, state)).count());
    }

    /** What was said of its fruit by row. */
    Stream<Act.OnFruit> onRow(Deed deed) {
        return onRow.stream().filter(act -> act.deed() == deed);
    }

    /** How many fruit were said by row, not by tie, to be culled or brought in. */
    int countOnRow(Deed deed) {
        return onRow(deed).mapToInt(Act.OnFruit::count).sum();
    }
}
