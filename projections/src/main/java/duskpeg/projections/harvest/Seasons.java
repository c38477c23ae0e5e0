package duskpeg.projections.harvest;

import duskpeg.core.act.Deed;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.harvest.LotYield;
import duskpeg.core.harvest.PerFruit;
import duskpeg.core.harvest.PerFruit.Gave;
import duskpeg.core.harvest.PerFruit.Interval;
import duskpeg.core.harvest.PerFruit.Kept;
import duskpeg.core.harvest.Season;
import duskpeg.core.lot.Lot;
import duskpeg.core.lot.LotEvent.Begun;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.planting.Rows;
import duskpeg.core.published.Figures;
import duskpeg.core.round.Round;
import duskpeg.core.round.Tally;
import duskpeg.projections.chart.Ranges;
import duskpeg.projections.chart.Stack;
import duskpeg.projections.harvest.SeasonView.Between;
import duskpeg.projections.harvest.SeasonView.Day;
import duskpeg.projections.harvest.SeasonView.Learnt;
import duskpeg.projections.harvest.SeasonView.Morning;
import duskpeg.projections.harvest.SeasonView.Yield;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** What a season gave, and what its ties may still give. */
@Component
class Seasons {

    private final Crops crops;
    private final Index index;

    Seasons(Crops crops, Index index) {
        this.crops = crops;
        this.index = index;
    }

    /**
     * A season.
     *
     * @param day what was done later is left out
     */
    SeasonView of(FarmId farm, Season season, LocalDate day) {
        Sums sums = sums(crops.span(farm, season, day));
        List<Planting> plantings = index.plantings(farm);
        List<Yield> byPlanting = plantings.stream()
                .map(planting -> sums.of(
                        planting.name(),
                        planting.cultivar(),
                        row -> planting.rows().stream().anyMatch(one -> one.id().equals(row))))
                .filter(Seasons::isAnything)
                .toList();
        Rows rows = index.rows(farm);
        List<String> cultivars =
                plantings.stream().map(Planting::cultivar).distinct().toList();
        List<Yield> byCultivar = byCultivar(sums, cultivars, rows);
        boolean over = day.isAfter(season.to());
        // Another season is read only where something is still to come.
        Before before = over || byCultivar.stream().allMatch(one -> one.onVine() == 0)
                ? Before.NOTHING
                : before(farm, season, cultivars, rows);
        List<Learnt> learnt = learnt(farm, cultivars, byCultivar, over, before);
        List<Morning> mornings = List.copyOf(sums.mornings.values());
        List<Day> days = sums.days.entrySet().stream()
                .map(one -> new Day(one.getKey(), one.getValue()))
                .toList();
        return new SeasonView(
                farm.value(),
                season.year(),
                season.label(),
                season.from(),
                season.to(),
                crops.years(farm),
                sums.of("All", null, row -> true),
                byCultivar,
                byPlanting,
                mornings,
                days,
                learnt,
                over,
                fates(byCultivar),
                toCome(learnt),
                bars(mornings),
                harvest(days));
    }

    private static List<Yield> byCultivar(Sums sums, List<String> cultivars, Rows rows) {
        return cultivars.stream()
                .map(cultivar ->
                        sums.of(cultivar, cultivar, row -> rows.cultivarOf(row).equals(Optional.of(cultivar))))
                .filter(Seasons::isAnything)
                .toList();
    }

    /**
     * What became of the ties of the season before, of which nothing more is to come.
     *
     * @param label what that season is called
     * @param cultivars by cultivar
     * @param all of them together
     */
    private record Before(
            String label, List<Yield> cultivars, @Nullable Yield all) {

        static final Before NOTHING = new Before("", List.of(), null);

        /** The share of a cultivar, or of all where too few are of that one; empty where those are too few as well. */
        Optional<Fate> of(String cultivar) {
            return Stream.concat(
                            cultivars.stream().filter(one -> cultivar.equals(one.cultivar())), Stream.ofNullable(all))
                    .filter(one -> one.numbered() >= Yield.FEWEST)
                    .findFirst()
                    .map(one -> new Fate(
                            new Kept(one.numbered(), one.broughtIn()),
                            Figures.count(one.numbered(), "tie") + " of "
                                    + (one.cultivar() == null ? "all cultivars" : one.cultivar()) + " in " + label));
        }
    }

    /** What became of earlier ties, and which those were. */
    private record Fate(Kept kept, String of) {}

    private Before before(FarmId farm, Season season, List<String> cultivars, Rows rows) {
        return crops.years(farm).stream()
                .filter(year -> year < season.year())
                .findFirst()
                .map(year -> Season.of(index.settings(farm), year))
                .map(earlier -> {
                    Sums sums = sums(crops.span(farm, earlier, earlier.to()));
                    return new Before(
                            earlier.label(), byCultivar(sums, cultivars, rows), sums.of("All", null, row -> true));
                })
                .orElse(Before.NOTHING);
    }

    private static @Nullable Stack fates(List<Yield> cultivars) {
        List<Yield> tied = cultivars.stream().filter(one -> one.tied() > 0).toList();
        return tied.isEmpty()
                ? null
                : Stack.of(
                        "c-fates",
                        tied.stream()
                                        .map(one -> one.name() + ": " + one.tied() + " tied, " + one.broughtIn()
                                                + " brought in, " + one.onVine() + " on the vine, " + one.culled()
                                                + " cut")
                                        .collect(Collectors.joining("; "))
                                + ".",
                        List.of(
                                "brought in",
                                "on the vine by the reports",
                                "cut with the tie on",
                                "tied without a number"),
                        tied.stream()
                                .map(one -> new Stack.Amounts(
                                        one.name() + ": " + one.tied() + " tied",
                                        List.of(
                                                (double) one.broughtIn(),
                                                (double) one.onVine(),
                                                (double) one.culled(),
                                                (double) Math.max(0, one.tied() - one.numbered()))))
                                .toList());
    }

    private static @Nullable Ranges toCome(List<Learnt> learnt) {
        List<Ranges.Between> lines = learnt.stream()
                .flatMap(one -> Stream.ofNullable(one.grams())
                        .map(grams -> new Ranges.Between(
                                one.cultivar() + ": " + Figures.plain(grams.middle(), 0) + " g ("
                                        + Figures.plain(grams.low(), 0) + " to " + Figures.plain(grams.high(), 0) + ")",
                                grams.low(),
                                grams.middle(),
                                grams.high())))
                .toList();
        return lines.isEmpty()
                ? null
                : Ranges.of(
                        "c-to-come",
                        lines.stream().map(Ranges.Between::label).collect(Collectors.joining("; ")) + ".",
                        " g",
                        lines,
                        null,
                        "");
    }

    private static boolean isAnything(Yield one) {
        return one.pegged() + one.tied() + one.lost() + one.withoutTie() + one.cut() > 0;
    }

    /** What is added up of a season, row by row. */
    private static final class Sums {

        private final Map<RowId, Yield> rows = new LinkedHashMap<>();
        private final NavigableMap<LocalDate, Morning> mornings = new TreeMap<>();
        private final NavigableMap<LocalDate, Integer> days = new TreeMap<>();

        void add(Span span, Crop crop) {
            List<Tally> tallies = crop.rounds().stream().map(Round::tally).toList();
            rows.put(
                    crop.row(),
                    new Yield(
                            crop.row().label(),
                            null,
                            tallies.stream().mapToInt(Tally::pegged).sum(),
                            tallies.stream().mapToInt(Tally::tied).sum(),
                            crop.fruit().size(),
                            tallies.stream().mapToInt(Tally::lost).sum(),
                            crop.count(Fruit.State.TIED),
                            crop.count(Fruit.State.CULLED),
                            crop.count(Fruit.State.HARVESTED),
                            crop.countOnRow(Deed.HARVESTED),
                            crop.countOnRow(Deed.CULLED)));
            for (Round round : crop.rounds()) {
                Tally tally = round.tally();
                mornings.merge(
                        round.id().morning(),
                        new Morning(round.id().morning(), tally.pegged(), tally.tied(), tally.lost()),
                        Sums::both);
            }
            crop.fruit()
                    .forEach(one ->
                            span.broughtIn(one).map(span::dateOf).ifPresent(day -> days.merge(day, 1, Integer::sum)));
        }

        private static Morning both(Morning one, Morning other) {
            return new Morning(
                    one.morning(), one.pegged() + other.pegged(), one.tied() + other.tied(), one.lost() + other.lost());
        }

        Yield of(String name, @Nullable String cultivar, Predicate<RowId> wanted) {
            return rows.entrySet().stream()
                    .filter(row -> wanted.test(row.getKey()))
                    .map(Map.Entry::getValue)
                    .reduce(
                            new Yield(name, cultivar, 0, 0, 0, 0, 0, 0, 0, 0, 0),
                            (sum, one) -> new Yield(
                                    name,
                                    cultivar,
                                    sum.pegged() + one.pegged(),
                                    sum.tied() + one.tied(),
                                    sum.numbered() + one.numbered(),
                                    sum.lost() + one.lost(),
                                    sum.onVine() + one.onVine(),
                                    sum.culled() + one.culled(),
                                    sum.broughtIn() + one.broughtIn(),
                                    sum.withoutTie() + one.withoutTie(),
                                    sum.cut() + one.cut()));
        }
    }

    private Sums sums(Span span) {
        Sums sums = new Sums();
        crops.of(span).forEach(crop -> sums.add(span, crop));
        return sums;
    }

    private static @Nullable Bars bars(List<Morning> mornings) {
        if (mornings.isEmpty()) {
            return null;
        }
        NavigableMap<LocalDate, Integer> pegged = new TreeMap<>();
        NavigableMap<LocalDate, Integer> tied = new TreeMap<>();
        mornings.forEach(one -> {
            pegged.put(one.morning(), Math.max(one.pegged(), one.tied()));
            tied.put(one.morning(), one.tied());
        });
        int all = mornings.stream().mapToInt(Morning::tied).sum();
        return Bars.of(
                pegged,
                tied,
                Figures.count(all, "flower") + " tied on " + Figures.count(mornings.size(), "morning") + " from "
                        + pegged.firstKey() + " to " + pegged.lastKey());
    }

    private static @Nullable Bars harvest(List<Day> days) {
        if (days.isEmpty()) {
            return null;
        }
        NavigableMap<LocalDate, Integer> fruit = new TreeMap<>();
        days.forEach(day -> fruit.put(day.day(), day.fruit()));
        return Bars.of(
                fruit,
                fruit,
                days.stream().mapToInt(Day::fruit).sum() + " tied fruit" + " brought in on "
                        + Figures.count(days.size(), "day") + " from " + fruit.firstKey() + " to " + fruit.lastKey());
    }

    private List<Learnt> learnt(FarmId farm, List<String> cultivars, List<Yield> yields, boolean over, Before before) {
        List<Lot> lots = List.copyOf(index.lots(farm).all());
        return cultivars.stream()
                .map(cultivar -> learnt(
                        cultivar,
                        lots.stream()
                                .filter(lot -> lot.begun().map(Begun::cultivar).equals(Optional.of(cultivar)))
                                .toList(),
                        yields.stream()
                                .filter(one -> cultivar.equals(one.cultivar()))
                                .mapToInt(Yield::onVine)
                                .sum(),
                        over,
                        before.of(cultivar).orElse(null)))
                .filter(one -> one.lots() + one.onVine() > 0)
                .toList();
    }

    private static Learnt learnt(String cultivar, List<Lot> lots, int onVine, boolean over, @Nullable Fate fate) {
        List<Gave> grams = gave(lots, LotYield::grams);
        Optional<PerFruit> byWeight = PerFruit.of(grams);
        Optional<PerFruit> byCount = PerFruit.of(gave(lots, LotYield::seeds));
        List<String> says = new ArrayList<>();
        if (byWeight.isEmpty()) {
            says.add("Too little is known: " + Figures.count(grams.size(), "lot") + " of " + cultivar
                    + " weighed before any seed left it, and " + PerFruit.FEWEST_LOTS + " are needed.");
        } else if (byCount.isEmpty()) {
            says.add("Seeds are not told: fewer than " + PerFruit.FEWEST_LOTS
                    + " of these lots have a weight of a thousand seeds.");
        }
        return new Learnt(
                cultivar,
                grams.size(),
                grams.stream().mapToInt(Gave::fruit).sum(),
                byWeight.map(PerFruit::interval).map(Seasons::between).orElse(null),
                byCount.map(PerFruit::interval).map(Seasons::between).orElse(null),
                onVine,
                fate == null ? null : between(fate.kept().percent()),
                fate == null ? null : fate.of(),
                forecast(byWeight, over ? 0 : onVine, fate),
                forecast(byCount, over ? 0 : onVine, fate),
                String.join(" ", says));
    }

    private static List<Gave> gave(List<Lot> lots, Function<Lot, Optional<Gave>> what) {
        return lots.stream().flatMap(lot -> what.apply(lot).stream()).toList();
    }

    private static @Nullable Between forecast(Optional<PerFruit> learnt, int onVine, @Nullable Fate fate) {
        return onVine == 0
                ? null
                : learnt.map(one -> fate == null ? one.forecast(onVine) : one.forecast(onVine, fate.kept()))
                        .map(Seasons::between)
                        .orElse(null);
    }

    private static Between between(Interval interval) {
        return new Between(interval.middle(), interval.low(), interval.high());
    }
}
