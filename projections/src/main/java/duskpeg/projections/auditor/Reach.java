package duskpeg.projections.auditor;

import duskpeg.core.fruit.FruitId;
import duskpeg.core.lot.Lot;
import duskpeg.core.lot.LotId;
import duskpeg.core.lot.Lots;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/**
 * What a link opens: these fruit and these lots, and nothing else of the farm.
 *
 * @param fruit the fruit
 * @param lots the lots, in the order in which they were first heard of
 */
record Reach(Set<FruitId> fruit, List<LotId> lots) {

    Reach {
        fruit = Set.copyOf(fruit);
        lots = List.copyOf(lots);
    }

    /** One fruit. */
    static Reach ofFruit(FruitId fruit) {
        return new Reach(Set.of(fruit), List.of());
    }

    /** A lot, with every lot it was drawn from and every fruit that seed of it may be of. */
    static Reach ofLot(LotId lot, Lots lots) {
        return new Reach(lots.flowers(lot).keySet(), lots.sources(lot));
    }

    /**
     * A season: the fruit that were tied in it, and every lot with seed of any of them, each as in {@link #ofLot}. A lot
     * that was brought together of several seasons shows its fruit of the others too.
     *
     * @param tied the fruit that were tied in it
     */
    static Reach ofSeason(Set<FruitId> tied, Lots lots) {
        Set<FruitId> fruit = new LinkedHashSet<>(tied);
        Set<LotId> own = new LinkedHashSet<>();
        for (Lot lot : lots.all()) {
            Set<FruitId> flowers = lots.flowers(lot.id()).keySet();
            if (flowers.stream().anyMatch(tied::contains)) {
                fruit.addAll(flowers);
                own.addAll(lots.sources(lot.id()));
            }
        }
        return new Reach(
                fruit, lots.all().stream().map(Lot::id).filter(own::contains).toList());
    }
}
