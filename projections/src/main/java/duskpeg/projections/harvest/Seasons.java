package duskpeg.projections.harvest;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.harvest.LotYield;
import duskpeg.core.harvest.PerFruit;
import duskpeg.core.harvest.PerFruit.Gave;
import duskpeg.core.harvest.PerFruit.Interval;
import duskpeg.core.harvest.Season;
import duskpeg.core.lot.Lot;
import duskpeg.core.lot.LotEvent.Begun;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.published.Figures;
import duskpeg.core.round.Round;
import duskpeg.core.round.Tally;
import duskpeg.projections.harvest.SeasonView.Between;
import duskpeg.projections.harvest.SeasonView.Day;
import duskpeg.projections.harvest.SeasonView.Learnt;
import duskpeg.projections.harvest.SeasonView.Morning;
import duskpeg.projections.harvest.SeasonView.Yield;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.function.Predicate;
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
        Crop crop = crops.read(farm, season, day);
        List<Planting> plantings = index.plantings(farm);
        List<Yield> byPlanting = plantings.stream()
                .map(planting -> counts(
                        crop,
                        planting.name(),
                        planting.cultivar(),
                        row -> planting.rows().stream().anyMatch(one -> one.id().equals(row))))
                .filter(Seasons::isAnything)
                .toList();
        List<String> cultivars =
                plantings.stream().map(Planting::cultivar).distinct().toList();
        List<Yield> byCultivar = cultivars.stream()
                .map(cultivar -> counts(
                        crop,
                        cultivar,
                        cultivar,
                        row -> crop.rows().cultivarOf(row).equals(Optional.of(cultivar))))
                .filter(Seasons::isAnything)
                .toList();
        List<Morning> mornings = mornings(crop);
        List<Day> days = days(crop);
        return new SeasonView(
                farm.value(),
                season.year(),
                season.label(),
                season.from(),
                season.to(),
                crops.years(farm),
                counts(crop, "All", null, row -> true),
                byCultivar,
                byPlanting,
                mornings,
                days,
                learnt(farm, cultivars, byCultivar),
                bars(mornings),
                harvest(days));
    }

    private static boolean isAnything(Yield one) {
        return one.pegged() + one.tied() + one.lost() + one.withoutTie() + one.cut() > 0;
    }

    private static Yield counts(Crop crop, String name, @Nullable String cultivar, Predicate<RowId> rows) {
        List<Tally> tallies = crop.rounds().stream()
                .filter(round -> rows.test(round.id().row()))
                .map(Round::tally)
                .toList();
        List<Fruit> fruit = crop.fruit().stream()
                .filter(one -> rows.test(Crop.round(one).row()))
                .toList();
        return new Yield(
                name,
                cultivar,
                tallies.stream().mapToInt(Tally::pegged).sum(),
                tallies.stream().mapToInt(Tally::tied).sum(),
                fruit.size(),
                tallies.stream().mapToInt(Tally::lost).sum(),
                count(fruit, Fruit.State.TIED),
                count(fruit, Fruit.State.CULLED),
                count(fruit, Fruit.State.HARVESTED),
                onRows(crop, rows, Deed.HARVESTED),
                onRows(crop, rows, Deed.CULLED));
    }

    private static int count(List<Fruit> fruit, Fruit.State state) {
        return Math.toIntExact(fruit.stream().filter(one -> Crop.is(one, state)).count());
    }

    private static int onRows(Crop crop, Predicate<RowId> rows, Deed deed) {
        return crop.onRows().stream()
                .filter(act -> act.deed() == deed && act.subject() instanceof RowId row && rows.test(row))
                .mapToInt(Act.OnFruit::count)
                .sum();
    }

    private static List<Morning> mornings(Crop crop) {
        NavigableMap<LocalDate, Morning> mornings = new TreeMap<>();
        for (Round round : crop.rounds()) {
            Tally tally = round.tally();
            mornings.merge(
                    round.id().morning(),
                    new Morning(round.id().morning(), tally.pegged(), tally.tied(), tally.lost()),
                    (one, other) -> new Morning(
                            one.morning(),
                            one.pegged() + other.pegged(),
                            one.tied() + other.tied(),
                            one.lost() + other.lost()));
        }
        return List.copyOf(mornings.values());
    }

    private static List<Day> days(Crop crop) {
        NavigableMap<LocalDate, Integer> days = new TreeMap<>();
        crop.fruit()
                .forEach(one ->
                        crop.broughtIn(one).map(crop::dateOf).ifPresent(day -> days.merge(day, 1, Integer::sum)));
        return days.entrySet().stream()
                .map(day -> new Day(day.getKey(), day.getValue()))
                .toList();
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

    private List<Learnt> learnt(FarmId farm, List<String> cultivars, List<Yield> yields) {
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
                                .sum()))
                .filter(one -> one.lots() + one.onVine() > 0)
                .toList();
    }

    private static Learnt learnt(String cultivar, List<Lot> lots, int onVine) {
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
                forecast(byWeight, onVine),
                forecast(byCount, onVine),
                String.join(" ", says));
    }

    private static List<Gave> gave(List<Lot> lots, Function<Lot, Optional<Gave>> what) {
        return lots.stream().flatMap(lot -> what.apply(lot).stream()).toList();
    }

    private static @Nullable Between forecast(Optional<PerFruit> learnt, int onVine) {
        return onVine == 0
                ? null
                : learnt.map(one -> one.forecast(onVine)).map(Seasons::between).orElse(null);
    }

    private static Between between(Interval interval) {
        return new Between(interval.middle(), interval.low(), interval.high());
    }
}
