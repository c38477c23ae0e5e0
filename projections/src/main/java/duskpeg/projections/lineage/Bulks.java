package duskpeg.projections.lineage;

import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.lineage.Bulk;
import duskpeg.core.lot.Lot;
import duskpeg.core.lot.LotEvent;
import duskpeg.core.lot.LotId;
import duskpeg.core.lot.Lots;
import duskpeg.projections.lineage.Descents.SizeView;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** How much to take of each fruit's seed, so that a bulk is as broad as it can be. */
@Component
class Bulks {

    private final Descents descents;
    private final Index index;

    Bulks(Descents descents, Index index) {
        this.descents = descents;
        this.index = index;
    }

    /**
     * What is proposed.
     *
     * @param cultivar of these lots
     * @param grams that were wanted
     * @param missing grams that are not to be had
     * @param mixed the effective size if all were just mixed
     * @param proposed the effective size of what is proposed
     */
    record BulkView(
            String cultivar, double grams, double missing, SizeView mixed, SizeView proposed, List<Part> parts) {}

    /**
     * A part of it.
     *
     * @param lot the lot of one fruit's seed
     * @param dam the plant that bore it; null where nobody named it
     * @param there grams there are
     * @param grams to take, in tenths
     */
    record Part(String lot, String tie, @Nullable String dam, double there, double grams) {}

    /** The cultivars of which there are lots of one fruit each. */
    List<String> cultivars(FarmId farm) {
        return descents.single(farm, index.lots(farm)).stream()
                .flatMap(lot -> lot.begun().map(LotEvent.Begun::cultivar).stream())
                .distinct()
                .sorted()
                .toList();
    }

    /**
     * The best bulk of a cultivar's lots of one fruit each.
     *
     * @param wanted grams, above 0
     * @throws IllegalArgumentException if there is no such lot, or what they descend from can't be reckoned
     */
    BulkView bulk(FarmId farm, String cultivar, double wanted) {
        Lots lots = index.lots(farm);
        List<Lot> single = descents.single(farm, lots).stream()
                .filter(lot -> lot.begun()
                        .filter(begun -> begun.cultivar().equals(cultivar))
                        .isPresent())
                .toList();
        if (single.isEmpty()) {
            throw new IllegalArgumentException("there is no lot of one fruit of " + cultivar);
        }
        List<Bulk.Available> available = new ArrayList<>();
        List<Optional<String>> dams = new ArrayList<>();
        for (Lot lot : single) {
            FruitId fruit = Descents.only(lot);
            Optional<String> dam = descents.dam(fruit, lots);
            dams.add(dam);
            available.add(new Bulk.Available(
                    fruit.toString(),
                    dam.orElse(null),
                    grams(lot),
                    lot.thousandSeeds().map(LotEvent.SeedWeighed::grams).orElse(null)));
        }
        double tenths = Math.round(wanted * 10) / 10.0;
        boolean allNamed = dams.stream().allMatch(Optional::isPresent);
        Bulk bulk = allNamed
                ? Bulk.ofKin(
                        available,
                        descents.pedigree(
                                farm, lots, single.stream().map(Lot::id).toList()),
                        tenths)
                : Bulk.ofDams(available, tenths);
        List<Part> parts = new ArrayList<>();
        for (int i = 0; i < single.size(); i++) {
            parts.add(new Part(
                    single.get(i).id().name(),
                    Descents.only(single.get(i)).tie().digits(),
                    dams.get(i).orElse(null),
                    grams(single.get(i)),
                    bulk.grams().get(i).grams()));
        }
        return new BulkView(
                cultivar, tenths, bulk.missing(), SizeView.of(bulk.before()), SizeView.of(bulk.after()), parts);
    }

    private static double grams(Lot lot) {
        Double grams = lot.balance().grams();
        return grams == null ? 0 : Math.floor(grams * 10 + 1e-6) / 10;
    }

    /** The lot of that name, where it was begun. */
    Optional<LotId> begun(FarmId farm, String name) {
        return Optional.of(name)
                .filter(LotId::isName)
                .map(one -> new LotId(farm, one))
                .filter(id -> index.lots(farm).lot(id).isPresent());
    }
}
