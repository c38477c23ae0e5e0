package duskpeg.core.seed;

import duskpeg.core.published.Figures;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;

/**
 * How many times as long seed lives in one store as in another, by Harrington's rule of thumb. It says nothing of how
 * long that is, and nothing outside its range.
 *
 * @param times how many times as long; empty where the rule is not meant for one of the stores
 * @param rows the rows of the rule and of its range
 * @param sentence it, in plain English
 */
public record StorageLife(OptionalDouble times, List<Row> rows, String sentence) {

    public StorageLife {
        rows = List.copyOf(rows);
    }

    /**
     * A store.
     *
     * @param moisturePercent the moisture of the seed in it, percent, wet basis
     * @param celsius its temperature
     */
    public record Store(double moisturePercent, double celsius) {

        @Override
        public String toString() {
            return Figures.plain(moisturePercent, 1) + "% moisture and " + Figures.plain(celsius, 1) + " C";
        }
    }

    /**
     * Compares two stores.
     *
     * @param from where the seed is, or is usually kept
     * @param to where it would be kept
     */
    public static StorageLife of(Store from, Store to, Published published) {
        double driest = edge(published, "moisture", "from");
        double wettest = edge(published, "moisture", "to");
        double coldest = edge(published, "temperature", "from");
        double hottest = edge(published, "temperature", "to");
        boolean meant = DoubleStream.of(from.moisturePercent(), to.moisturePercent())
                        .allMatch(one -> one >= driest && one <= wettest)
                && DoubleStream.of(from.celsius(), to.celsius()).allMatch(one -> one >= coldest && one <= hottest);
        String range = "Harrington's rule of thumb, for " + Figures.plain(driest, 1) + " to "
                + Figures.plain(wettest, 1) + "% moisture and " + Figures.plain(coldest, 1) + " to "
                + Figures.plain(hottest, 1) + " C";
        List<Row> rows = Stream.of(Table.STORAGE_RULE, Table.STORAGE_RANGE)
                .flatMap(table -> published.rows(table).stream())
                .toList();
        String source = ": " + published.get(Table.STORAGE_RULE, "times").cited();
        if (!meant) {
            return new StorageLife(
                    OptionalDouble.empty(),
                    rows,
                    "Not estimated from " + from + " to " + to + ": outside the range (" + range + source + ").");
        }
        double steps = (from.moisturePercent() - to.moisturePercent()) / rule(published, "moisture-step")
                + (from.celsius() - to.celsius()) / rule(published, "temperature-step");
        double times = Math.pow(rule(published, "times"), steps);
        return new StorageLife(
                OptionalDouble.of(times),
                rows,
                "About " + Figures.plain(times, 2) + " times as long at " + to + " as at " + from + " (" + range
                        + source + "). Only a test shows whether seed still germinates.");
    }

    private static double rule(Published published, String what) {
        return published.get(Table.STORAGE_RULE, what).number().doubleValue();
    }

    private static double edge(Published published, String what, String bound) {
        return published.get(Table.STORAGE_RANGE, what, bound).number().doubleValue();
    }
}
