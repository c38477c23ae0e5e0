package duskpeg.projections.lineage;

import duskpeg.core.act.Act;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.Evidence;
import duskpeg.core.fruit.Evidence.Grade;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.lineage.Contribution;
import duskpeg.core.lineage.EffectiveSize;
import duskpeg.core.lineage.Pedigree;
import duskpeg.core.lineage.Stock;
import duskpeg.core.lineage.Stock.Candidate;
import duskpeg.core.lot.Lot;
import duskpeg.core.lot.LotEvent.Taken;
import duskpeg.core.lot.LotId;
import duskpeg.core.lot.Lots;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.planting.Rows;
import duskpeg.core.published.Table;
import duskpeg.core.purity.Rules;
import duskpeg.projections.history.Verdicts;
import duskpeg.projections.history.Verdicts.Judged;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/**
 * The pedigree of a farm, as far as plants were named and lots were sown. A plant is one of a year: {@code 2026/12.7}. It
 * is of the seed of the lot that its row was sown with, where that is a lot of the farm; else it counts as a founder.
 */
@Component
public class Descents {

    private final Index index;
    private final Verdicts verdicts;

    Descents(Index index, Verdicts verdicts) {
        this.index = index;
        this.verdicts = verdicts;
    }

    /**
     * The breadth of a lot.
     *
     * @param dams plants that are known to have borne its fruit
     * @param unnamed how many of its fruit are of plants that nobody named; each counts as another dam
     * @param gave what each dam gave, the most first
     * @param sizes effective sizes, each by its formula
     * @param problem why they can't be reckoned; null where they can
     * @param handbooks from how many plants seed is saved for what, with sources; plants, and no effective sizes
     */
    public record Descent(
            int dams,
            int unnamed,
            List<DamView> gave,
            List<SizeView> sizes,
            @Nullable String problem,
            List<String> handbooks) {}

    /**
     * What a dam gave to a lot.
     *
     * @param dam a plant of a year, as 2026/12.7; the tie of her fruit where nobody named her
     * @param share of the seed, 0 to 1; fruit taken straight into one lot are taken to have given the same
     */
    public record DamView(String dam, double share) {}

    /** An effective size, with what it assumes. */
    public record SizeView(double value, String formula, String assumes, String source) {

        static SizeView of(EffectiveSize size) {
            return new SizeView(
                    size.value(),
                    size.formula().written(),
                    size.formula().assumes(),
                    size.formula().source());
        }
    }

    /** The breadth of a lot; empty where it has no fruit. */
    public Optional<Descent> of(LotId id, Lots lots) {
        if (lots.flowers(id).isEmpty()) {
            return Optional.empty();
        }
        Builder all = new Builder(id.farm(), lots);
        all.lot(id);
        int unnamed = (int) all.dams.values().stream().filter(Optional::isEmpty).count();
        int dams = (int)
                all.dams.values().stream().flatMap(Optional::stream).distinct().count();
        List<String> handbooks = index.published(id.farm()).rows(Table.PLANT_NUMBERS).stream()
                .map(row -> row.id().replace('-', ' ') + " " + row.value())
                .toList();
        Map<String, Double> parts = damParts(all, lots.shares(id));
        List<DamView> gave = parts.entrySet().stream()
                .map(part -> new DamView(part.getKey(), part.getValue()))
                .sorted(Comparator.comparingDouble(DamView::share).reversed().thenComparing(DamView::dam))
                .toList();
        try {
            Pedigree pedigree = all.pedigree();
            String name = id.toString();
            List<EffectiveSize> sizes = new ArrayList<>(List.of(EffectiveSize.ofDams(parts.values())));
            List<Contribution> given = pedigree.contributions(name);
            if (unnamed == 0 && given.stream().allMatch(one -> one.plant() != null)) {
                sizes.add(EffectiveSize.ofContributions(given));
                sizes.add(EffectiveSize.ofSexes(
                        (double) given.stream().filter(one -> one.asSire() > 0).count(),
                        (double) given.stream().filter(one -> one.asDam() > 0).count()));
                sizes.add(EffectiveSize.ofCoancestry(pedigree.coancestry(Map.of(name, 1.0))));
            }
            return Optional.of(new Descent(
                    dams, unnamed, gave, sizes.stream().map(SizeView::of).toList(), null, handbooks));
        } catch (IllegalArgumentException e) {
            return Optional.of(new Descent(dams, unnamed, gave, List.of(), e.getMessage(), handbooks));
        }
    }

    /** What each dam gave; a fruit whose dam nobody named counts as of a dam of its own. */
    private static Map<String, Double> damParts(Builder all, Map<FruitId, Double> shares) {
        Map<String, Double> parts = new LinkedHashMap<>();
        shares.forEach((fruit, share) -> parts.merge(
                all.dams
                        .getOrDefault(fruit, Optional.empty())
                        .orElseGet(() -> "tie " + fruit.tie().digits()),
                share,
                Double::sum));
        return parts;
    }

    /** The pedigree of these lots and what they descend from, with every fruit of theirs by the text form of its id. */
    Pedigree pedigree(FarmId farm, Lots lots, Collection<LotId> of) {
        Builder all = new Builder(farm, lots);
        of.forEach(all::lot);
        return all.pedigree();
    }

    /** The plant that bore a fruit; empty where nobody named it. */
    Optional<String> dam(FruitId fruit, Lots lots) {
        Builder all = new Builder(fruit.farm(), lots);
        all.fruit(fruit);
        return all.dams.getOrDefault(fruit, Optional.empty());
    }

    /** The pedigree of these plants of a year's rows. */
    Pedigree pedigree(FarmId farm, Lots lots, Collection<PlantId> plants, LocalDate morning) {
        Builder all = new Builder(farm, lots);
        plants.forEach(plant -> all.plant(plant, morning));
        return all.pedigree();
    }

    static String plantId(PlantId plant, LocalDate morning) {
        return morning.getYear() + "/" + plant.label();
    }

    /** Gathers what something descends from. */
    private final class Builder {

        private final Lots lots;
        private final Rows rows;
        private final Map<String, Stock> stocks = new LinkedHashMap<>();
        private final Set<String> entered = new HashSet<>();
        private final Map<FruitId, Optional<String>> dams = new LinkedHashMap<>();
        private final Map<FruitId, Judged> judged = new HashMap<>();

        Builder(FarmId farm, Lots lots) {
            this.lots = lots;
            this.rows = index.rows(farm);
        }

        Pedigree pedigree() {
            return Pedigree.of(stocks.values());
        }

        void lot(LotId id) {
            if (!entered.add(id.toString())) {
                return;
            }
            Map<FruitId, Double> shares = lots.shares(id);
            // Read together: one by one a lot of hundreds would keep its page waiting.
            judged.putAll(verdicts.judged(
                    id.farm(),
                    shares.keySet().stream()
                            .filter(fruit -> !entered.contains(fruit.toString()))
                            .toList(),
                    Rules.latest(),
                    null));
            shares.keySet().forEach(this::fruit);
            if (!shares.isEmpty()) {
                stocks.put(
                        id.toString(),
                        Stock.Lot.of(
                                id.toString(),
                                shares.entrySet().stream()
                                        .collect(Collectors.toMap(
                                                one -> one.getKey().toString(), Map.Entry::getValue))));
            }
        }

        void fruit(FruitId id) {
            if (!entered.add(id.toString())) {
                return;
            }
            Optional<Judged> one =
                    Optional.ofNullable(judged.get(id)).or(() -> verdicts.judged(id, Rules.latest(), null));
            Optional<Act.Tied> tying =
                    one.flatMap(known -> known.fruit().fruit().tying());
            Optional<String> dam = one.flatMap(known -> known.fruit().fruit().plant())
                    .flatMap(
                            plant -> tying.map(tied -> plant(plant, tied.round().morning())));
            dams.put(id, dam);
            List<PlantId> sires = one.map(Builder::sires).orElse(List.of());
            List<String> named = sires.stream()
                    .flatMap(sire ->
                            tying.stream().map(tied -> plant(sire, tied.round().morning())))
                    .toList();
            stocks.put(id.toString(), new Stock.Fruit(id.toString(), dam.orElse(null), candidates(named)));
        }

        /** The plants whose males were said to be used on it. */
        private static List<PlantId> sires(Judged judged) {
            Optional<Integer> plant = judged.fruit().fruit().plant().map(PlantId::number);
            return judged.fruit().evidence().stream()
                    .filter(one -> one.act() instanceof Act.Pollinated pollinated
                            && (one.grade() == Grade.FRUIT
                                    || (pollinated.plant() != null
                                            && Optional.of(pollinated.plant()).equals(plant))))
                    .map(Evidence::act)
                    .flatMap(act -> ((Act.Pollinated) act).sires() == null
                            ? Stream.<PlantId>of()
                            : ((Act.Pollinated) act).sires().stream())
                    .distinct()
                    .toList();
        }

        /** Two males each, so of one that is named the other half is of somebody unknown. */
        private static List<Candidate> candidates(List<String> named) {
            Set<String> each = new LinkedHashSet<>(named);
            if (each.isEmpty()) {
                return List.of(new Candidate(null, 1));
            }
            if (each.size() == 1) {
                return List.of(new Candidate(named.get(0), 0.5), new Candidate(null, 0.5));
            }
            return each.stream()
                    .map(sire -> new Candidate(sire, 1.0 / each.size()))
                    .toList();
        }

        String plant(PlantId plant, LocalDate morning) {
            String id = plantId(plant, morning);
            if (entered.add(id)) {
                Optional<LotId> sown = sown(plant.row());
                sown.ifPresent(this::lot);
                // A lot that is of its own seed, as names may say by mistake, is left to the pedigree to find.
                stocks.put(
                        id,
                        new Stock.Plant(
                                id,
                                sown.filter(lot -> !lots.shares(lot).isEmpty())
                                        .map(LotId::toString)
                                        .orElse(null)));
            }
            return id;
        }

        private Optional<LotId> sown(RowId row) {
            return rows.plantingOf(row)
                    .map(Planting::stock)
                    .filter(LotId::isName)
                    .map(name -> new LotId(row.farm(), name))
                    .filter(id -> lots.lot(id).isPresent());
        }
    }

    /** Lots of one fruit each, with seed left: what a bulk is made of. */
    List<Lot> single(FarmId farm, Lots lots) {
        return lots.all().stream()
                .filter(lot -> lot.drawnIn().isEmpty() && lot.fruit().size() == 1)
                .filter(lot -> {
                    Double grams = lot.balance().grams();
                    return grams != null && grams >= 0.1;
                })
                .toList();
    }

    /** The fruit of a lot of one. */
    static FruitId only(Lot lot) {
        return lot.fruit().stream().map(Taken::fruit).findFirst().orElseThrow();
    }
}
