package duskpeg.projections.lots;

import duskpeg.core.growout.GrowOut;
import duskpeg.core.lot.Balance;
import duskpeg.core.lot.Lot;
import duskpeg.core.lot.LotEvent.Weighed;
import duskpeg.core.lot.Release;
import duskpeg.core.published.Figures;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import duskpeg.projections.chart.Ranges;
import duskpeg.projections.chart.Stack;
import duskpeg.projections.chart.Track;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * The drawings of a lot's page; null where there is nothing to draw.
 *
 * @param seed where all its seed is
 * @param moisture readings of moisture beside the most that the farm goes by
 * @param germination its tests beside the least that the farm goes by
 * @param growOut its grow-outs beside the most off-types that the farm goes by
 */
record LotCharts(
        @Nullable Stack seed,
        @Nullable Track moisture,
        @Nullable Ranges germination,
        @Nullable Ranges growOut) {

    static LotCharts of(Release release) {
        Lot lot = release.lot();
        return new LotCharts(
                lot.balance().whereabouts().map(LotCharts::seed).orElse(null),
                moisture(release),
                germination(release),
                growOut(release));
    }

    private static @Nullable Stack seed(Balance.Whereabouts where) {
        double all = where.packed() + where.drawn() + where.lost() + where.there() + Math.max(0, where.water());
        if (!(all > 0)) {
            return null;
        }
        List<String> kinds = List.of(
                part("in packets", where.packed(), all),
                part("in other lots", where.drawn(), all),
                part("lost, with a reason", where.lost(), all),
                part("dried off, or not explained", Math.max(0, where.water()), all),
                part("still there", where.there(), all));
        List<Double> amounts =
                List.of(where.packed(), where.drawn(), where.lost(), Math.max(0, where.water()), where.there());
        return Stack.of(
                "c-seed",
                "Of " + grams(all) + ": "
                        + Stream.iterate(0, kind -> kind + 1)
                                .limit(kinds.size())
                                .filter(kind -> amounts.get(kind) > 0)
                                .map(kinds::get)
                                .collect(Collectors.joining("; "))
                        + ".",
                kinds,
                List.of(new Stack.Amounts("", amounts)));
    }

    private static String part(String what, double grams, double all) {
        return what + " " + grams(grams) + " (" + Figures.plain(100 * grams / all, 0) + "%)";
    }

    private static String grams(double grams) {
        return Figures.plain(grams, 1) + " g";
    }

    private static @Nullable Track moisture(Release release) {
        List<Track.Reading> readings = release.lot().all(Weighed.class).stream()
                .filter(weighed -> weighed.moisture() != null)
                .sorted(Comparator.comparing(Weighed::on))
                .flatMap(weighed -> Stream.ofNullable(weighed.moisture())
                        .map(read -> new Track.Reading(weighed.on(), read, Figures.plain(read, 1) + "%")))
                .toList();
        Optional<Row> most = release.chosen(Table.SEED_MOISTURE);
        if (readings.isEmpty() || (readings.size() == 1 && most.isEmpty())) {
            return null;
        }
        String limit = most.map(row -> "at most " + row.value() + "%").orElse("");
        return Track.of(
                "c-moisture",
                readings.stream().map(one -> one.label() + " on " + one.day()).collect(Collectors.joining(", "))
                        + most.map(row -> "; at most " + row.cited()).orElse("") + ".",
                readings,
                most.map(row -> row.number().doubleValue()).orElse(null),
                limit);
    }

    private static @Nullable Ranges germination(Release release) {
        List<Ranges.Between> lines = new ArrayList<>();
        release.lot()
                .germination()
                .forEach(test -> release.germination(test).ifPresent(germination -> {
                    double low = 100 * germination.bounds().twoSidedLower();
                    double high = 100 * germination.bounds().twoSidedUpper();
                    lines.add(new Ranges.Between(
                            "Test " + test.last().test() + ": " + germination.percent() + "% (" + Figures.plain(low, 1)
                                    + " to " + Figures.plain(high, 1) + ")",
                            low,
                            germination.normalPercent().doubleValue(),
                            high));
                }));
        return lines.isEmpty()
                ? null
                : beside("c-germination", lines, release.chosen(Table.GERMINATION_MINIMUM), "at least ");
    }

    private static @Nullable Ranges growOut(Release release) {
        List<Ranges.Between> lines = new ArrayList<>();
        release.lot().growOuts().forEach(test -> {
            GrowOut.Shown shown = release.growOut(test);
            double low = 100 * shown.bounds().twoSidedLower();
            double high = 100 * shown.bounds().twoSidedUpper();
            lines.add(new Ranges.Between(
                    "Grow-out " + test.last().test() + ": " + test.last().offTypes() + " of "
                            + test.last().plants() + " (" + Figures.plain(low, 2) + " to " + Figures.plain(high, 2)
                            + "%)",
                    low,
                    100.0 * test.last().offTypes() / test.last().plants(),
                    high));
        });
        return lines.isEmpty() ? null : beside("c-grow-out", lines, release.chosen(Table.OFF_TYPES), "at most ");
    }

    private static Ranges beside(String id, List<Ranges.Between> lines, Optional<Row> limit, String word) {
        return Ranges.of(
                id,
                lines.stream().map(Ranges.Between::label).collect(Collectors.joining("; "))
                        + limit.map(row -> "; " + word + row.cited()).orElse("") + ".",
                "%",
                lines,
                limit.map(row -> row.number().doubleValue()).orElse(null),
                limit.map(row -> word + row.value() + "%").orElse(""));
    }
}
