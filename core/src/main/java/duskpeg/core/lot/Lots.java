package duskpeg.core.lot;

import duskpeg.core.fruit.FruitId;
import duskpeg.core.lot.LotEvent.Drawn;
import duskpeg.core.lot.LotEvent.Packed;
import duskpeg.core.lot.LotEvent.Taken;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Deque;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;

/**
 * All lots of a farm and what was drawn from one into another. Tracing takes no heed of time: seed that was drawn
 * before a fruit came in is traced to it as well. So a recall may name too many packets, and never too few.
 */
public final class Lots {

    private final Map<LotId, Lot> lots = new LinkedHashMap<>();
    private final Map<FruitId, Set<LotId>> takenInto = new HashMap<>();

    /**
     * The lots of a farm.
     *
     * @param events what was entered of all its lots, in the order of the log
     */
    public Lots(List<LotEvent> events) {
        Map<LotId, List<LotEvent>> byLot = new LinkedHashMap<>();
        events.forEach(event ->
                byLot.computeIfAbsent(event.lot(), id -> new ArrayList<>()).add(event));
        Map<LotId, List<Drawn>> into = new HashMap<>();
        byLot.forEach((id, own) -> lots.put(id, new Lot(id, Lot.entries(own), List.of())));
        lots.values()
                .forEach(lot -> lot.all(Drawn.class)
                        .forEach(drawn -> into.computeIfAbsent(drawn.to(), id -> new ArrayList<>())
                                .add(drawn)));
        into.keySet().forEach(to -> lots.putIfAbsent(to, new Lot(to, List.of(), List.of())));
        lots.replaceAll((id, lot) -> new Lot(id, lot.entries(), into.getOrDefault(id, List.of())));
        lots.values()
                .forEach(lot -> lot.fruit()
                        .forEach(taken -> takenInto
                                .computeIfAbsent(taken.fruit(), id -> new LinkedHashSet<>())
                                .add(lot.id())));
    }

    /** All of them, in the order in which they were first heard of. */
    public Collection<Lot> all() {
        return List.copyOf(lots.values());
    }

    /** One of them. */
    public Optional<Lot> lot(LotId id) {
        return Optional.ofNullable(lots.get(id));
    }

    /** The lots into which that fruit was taken; more than one is a question. */
    public Set<LotId> takenInto(FruitId fruit) {
        return Set.copyOf(takenInto.getOrDefault(fruit, Set.of()));
    }

    /** Every lot that seed of this one may be of: itself first, then those it was drawn from, the nearest first. */
    public List<LotId> sources(LotId lot) {
        return reached(
                Set.of(lot), one -> one.drawnIn().stream().map(Drawn::lot).toList());
    }

    /** Every lot that seed of these may be in: themselves first, then those into which it was drawn. */
    public List<LotId> descendants(Collection<LotId> of) {
        return reached(of, one -> one.all(Drawn.class).stream().map(Drawn::to).toList());
    }

    private interface Next {
        List<LotId> of(Lot lot);
    }

    private List<LotId> reached(Collection<LotId> from, Next next) {
        Set<LotId> seen = new LinkedHashSet<>(from);
        Deque<LotId> open = new ArrayDeque<>(seen);
        while (!open.isEmpty()) {
            Lot lot = lots.get(open.remove());
            if (lot != null) {
                next.of(lot).stream().filter(seen::add).forEach(open::add);
            }
        }
        return List.copyOf(seen);
    }

    /** Every fruit that seed of a lot may be of, with the lot into which it was taken. */
    public Map<FruitId, LotId> flowers(LotId lot) {
        Map<FruitId, LotId> flowers = new LinkedHashMap<>();
        sources(lot)
                .forEach(source -> lot(source).stream()
                        .flatMap(one -> one.fruit().stream())
                        .map(Taken::fruit)
                        .forEach(fruit -> flowers.putIfAbsent(fruit, source)));
        return flowers;
    }

    /** What the rows of all fruit that seed of a lot may be of were sown with; empty text for what is not known. */
    public Set<String> stocks(LotId lot) {
        return sources(lot).stream()
                .flatMap(source -> lot(source).stream())
                .flatMap(one -> one.fruit().stream())
                .map(taken -> Objects.requireNonNullElse(taken.stock(), ""))
                .collect(Collectors.toCollection(TreeSet::new));
    }

    /** Every packet that may hold seed of that fruit, by lot. */
    public Map<LotId, List<Packed>> packets(FruitId fruit) {
        return packets(takenInto(fruit));
    }

    /** Every packet that may hold seed of these lots, by lot: what to ask back. */
    public Map<LotId, List<Packed>> packets(Collection<LotId> of) {
        Map<LotId, List<Packed>> packets = new LinkedHashMap<>();
        descendants(of)
                .forEach(id -> lot(id).map(Lot::packets)
                        .filter(some -> !some.isEmpty())
                        .ifPresent(some -> packets.put(id, some)));
        return packets;
    }

    /**
     * How much each fruit is taken to have given to a lot, as shares that add up to 1; empty where it has no fruit. The
     * fruit taken straight into a lot are taken to have given the same each, since nobody weighs the seed of one among
     * others; what was drawn from another lot counts by its weight beside the rest. Who wants it better weighs each fruit's
     * seed in a lot of its own.
     */
    public Map<FruitId, Double> shares(LotId lot) {
        return shares(lot, new LinkedHashSet<>());
    }

    private Map<FruitId, Double> shares(LotId id, Set<LotId> above) {
        Lot lot = lots.get(id);
        if (lot == null || !above.add(id)) {
            return Map.of();
        }
        Map<FruitId, Double> shares = new LinkedHashMap<>();
        double drawn = lot.drawnIn().stream().mapToDouble(Drawn::grams).sum();
        List<Taken> fruit = lot.fruit();
        double own = fruit.isEmpty() ? 0 : ownGrams(lot, drawn);
        for (Taken taken : fruit) {
            shares.merge(taken.fruit(), own / (own + drawn) / fruit.size(), Double::sum);
        }
        for (Drawn in : lot.drawnIn()) {
            shares(in.lot(), new LinkedHashSet<>(above))
                    .forEach((one, share) -> shares.merge(one, in.grams() / (own + drawn) * share, Double::sum));
        }
        double sum = shares.values().stream().mapToDouble(Double::doubleValue).sum();
        shares.replaceAll((one, share) -> share / sum);
        return shares;
    }

    /** What its own fruit gave: by its first weighing, less what was drawn into it; as much as was drawn where that tells nothing. */
    private static double ownGrams(Lot lot, double drawn) {
        return lot.balance().lines().stream()
                .map(Balance.Line::weighed)
                .filter(weighed -> weighed != null)
                .findFirst()
                .map(weighed -> weighed - drawn)
                .filter(grams -> grams > 0)
                .orElse(drawn == 0 ? 1 : drawn);
    }
}
