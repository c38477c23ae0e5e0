package duskpeg.projections.lineage;

import duskpeg.core.act.Act;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.lineage.Pairing;
import duskpeg.core.lineage.Pedigree;
import duskpeg.core.lot.Lots;
import duskpeg.core.planting.Ground;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.planting.Rows;
import duskpeg.core.round.Round;
import duskpeg.projections.board.Boards;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.springframework.stereotype.Component;

/**
 * Which pegged males to give which pegged females, as far as plants were named in the evening: females by
 * {@code 1 12.7 2}, males by {@code … 4 from 3.9}.
 */
@Component
public class Pairings {

    /** Metres from row to row and from plant to plant, where nobody said: ours, no source. */
    private static final double BETWEEN_ROWS = 2;

    private static final double BETWEEN_PLANTS = 1;

    private final Boards boards;
    private final Descents descents;
    private final Index index;

    Pairings(Boards boards, Descents descents, Index index) {
        this.boards = boards;
        this.descents = descents;
        this.index = index;
    }

    /**
     * The advice for a morning.
     *
     * @param cultivars one for each cultivar of which plants were named
     * @param unnamed females whose plant nobody named: of them nothing can be said
     */
    public record PairingView(String farm, LocalDate morning, List<OfCultivar> cultivars, int unnamed) {}

    /**
     * The advice for one cultivar.
     *
     * @param pairs a line for each flower
     * @param without plants whose females get none, since there are not enough males, with how many
     * @param inbreeding what the seed would have on average, by what is known of who descends from whom
     */
    public record OfCultivar(
            String cultivar,
            List<PairView> pairs,
            List<PlantFlowers> without,
            List<PlantFlowers> left,
            double inbreeding) {}

    /** A female and her two males. */
    public record PairView(String female, String one, String other, double inbreeding, double metres, String because) {}

    /** Flowers of a plant. */
    public record PlantFlowers(String plant, int flowers) {}

    /** The advice for a morning. */
    public PairingView advice(FarmId farm, LocalDate morning) {
        Map<String, Map<PlantId, Integer>> females = new LinkedHashMap<>();
        Map<String, Map<PlantId, Integer>> males = new LinkedHashMap<>();
        Rows rows = index.rows(farm);
        int unnamed = 0;
        for (Round round : boards.morning(farm, morning).rounds()) {
            RowId row = round.id().row();
            String cultivar = rows.cultivarOf(row).orElse("");
            for (Act.Pegged pegged : Act.only(Act.Pegged.class, round.acts()).toList()) {
                Integer plant = pegged.plant();
                if (plant == null) {
                    unnamed += pegged.count();
                } else {
                    add(females, cultivar, new PlantId(row, plant), pegged.count());
                }
                spread(pegged, rows, males);
            }
        }
        Lots lots = index.lots(farm);
        List<OfCultivar> advice = new ArrayList<>();
        females.forEach((cultivar, of) ->
                advice.add(advice(farm, morning, cultivar, of, males.getOrDefault(cultivar, Map.of()), lots)));
        return new PairingView(farm.value(), morning, advice, unnamed);
    }

    /** Of males that are on several plants it is not said how many are on which: they are taken to be spread evenly. */
    private static void spread(Act.Pegged pegged, Rows rows, Map<String, Map<PlantId, Integer>> males) {
        List<PlantId> sires = pegged.sires();
        Integer many = pegged.males();
        if (sires == null || many == null) {
            return;
        }
        for (int i = 0; i < sires.size(); i++) {
            int share = many / sires.size() + (i < many % sires.size() ? 1 : 0);
            if (share > 0) {
                add(males, rows.cultivarOf(sires.get(i).row()).orElse(""), sires.get(i), share);
            }
        }
    }

    private static void add(Map<String, Map<PlantId, Integer>> to, String cultivar, PlantId plant, int flowers) {
        to.computeIfAbsent(cultivar, unseen -> new LinkedHashMap<>()).merge(plant, flowers, Integer::sum);
    }

    private OfCultivar advice(
            FarmId farm,
            LocalDate morning,
            String cultivar,
            Map<PlantId, Integer> females,
            Map<PlantId, Integer> males,
            Lots lots) {
        List<PlantId> plants = Stream.concat(females.keySet().stream(), males.keySet().stream())
                .distinct()
                .toList();
        Pedigree pedigree = descents.pedigree(farm, lots, plants, morning);
        Map<PlantId, Map<PlantId, Double>> related = new HashMap<>();
        double[][] all = pedigree.relationships(
                plants.stream().map(plant -> Descents.plantId(plant, morning)).toList());
        for (int i = 0; i < plants.size(); i++) {
            for (int j = 0; j < plants.size(); j++) {
                related.computeIfAbsent(plants.get(i), unseen -> new HashMap<>())
                        .put(plants.get(j), all[i][j]);
            }
        }
        List<RowId> ground = Stream.concat(
                        index.plantings(farm).stream()
                                .flatMap(planting -> planting.rows().stream().map(Planting.Row::id)),
                        plants.stream().map(PlantId::row))
                .distinct()
                .sorted(Comparator.comparing(row -> Integer.valueOf(row.label())))
                .toList();
        Pairing pairing = Pairing.of(
                females.entrySet().stream()
                        .map(one -> new Pairing.Female(one.getKey(), one.getValue()))
                        .toList(),
                males.entrySet().stream()
                        .map(one -> new Pairing.Male(one.getKey(), one.getValue(), 0))
                        .toList(),
                (one, other) -> related.getOrDefault(one, Map.of()).getOrDefault(other, 0.0),
                new Ground(ground, BETWEEN_ROWS, BETWEEN_PLANTS));
        return new OfCultivar(
                cultivar,
                pairing.pairs().stream()
                        .map(pair -> new PairView(
                                pair.female().label(),
                                pair.one().plant().label(),
                                pair.other().plant().label(),
                                pair.inbreeding(),
                                pair.metres(),
                                pair.because()))
                        .toList(),
                pairing.without().stream()
                        .map(one -> new PlantFlowers(one.plant().label(), one.flowers()))
                        .toList(),
                pairing.uses().stream()
                        .filter(use -> use.used() < use.flowers())
                        .map(use -> new PlantFlowers(use.plant().label(), use.flowers() - use.used()))
                        .toList(),
                pairing.pairs().stream()
                        .mapToDouble(Pairing.Pair::inbreeding)
                        .average()
                        .orElse(0));
    }
}
