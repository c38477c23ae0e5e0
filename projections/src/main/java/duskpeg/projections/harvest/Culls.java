package duskpeg.projections.harvest;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieUses;
import duskpeg.core.harvest.CullRound;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.published.Published;
import duskpeg.core.published.Table;
import duskpeg.core.report.Question;
import duskpeg.projections.Questions;
import duskpeg.projections.harvest.CullView.AskedView;
import duskpeg.projections.harvest.CullView.Load;
import duskpeg.projections.harvest.CullView.RowLine;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.springframework.stereotype.Component;

/** Which rows wait for a culling round, and what hangs in them. */
@Component
public class Culls {

    private final Crops crops;
    private final Index index;
    private final Questions questions;

    Culls(Crops crops, Index index, Questions questions) {
        this.crops = crops;
        this.index = index;
        this.questions = questions;
    }

    /** How many rows are due for a culling round. */
    public int due(FarmId farm, LocalDate day) {
        return on(farm, day).due();
    }

    CullView on(FarmId farm, LocalDate day) {
        Crop crop = crops.on(farm, day);
        Published published = index.published(farm);
        List<FarmEvent.LookedOver> lookedOver = index.lookedOver(farm).stream()
                .filter(one -> crop.season().has(one.on()) && !one.on().isAfter(day))
                .toList();
        List<RowLine> rows = crop.tiedRows().stream()
                .map(row -> line(crop, row, lookedOver, published))
                .toList();
        return new CullView(
                farm.value(),
                day,
                crop.season().label(),
                published.get(Table.CULLING, "first").cited(),
                published.get(Table.CULLING, "repeat").cited(),
                Math.toIntExact(rows.stream().filter(RowLine::isDue).count()),
                rows,
                asked(crop),
                rows.isEmpty() ? crops.lastBefore(crop.season(), farm).orElse(null) : null);
    }

    private static RowLine line(Crop crop, RowId row, List<FarmEvent.LookedOver> lookedOver, Published published) {
        List<Fruit> tied = crop.in(row);
        List<Fruit> onVine =
                tied.stream().filter(one -> Crop.is(one, Fruit.State.TIED)).toList();
        LocalDate firstTied = tied.stream()
                .map(one -> Crop.round(one).morning())
                .min(Comparator.naturalOrder())
                .orElseThrow();
        Optional<LocalDate> lastRound = latest(Stream.concat(
                done(crop, row, tied, Deed.CULLED),
                lookedOver.stream().filter(one -> one.rows().contains(row)).map(FarmEvent.LookedOver::on)));
        Optional<LocalDate> lastLooked =
                latest(Stream.concat(lastRound.stream(), done(crop, row, tied, Deed.UNBAGGED)));
        Optional<CullRound> next = onVine.isEmpty()
                ? Optional.empty()
                : Optional.of(CullRound.next(firstTied, lastRound.orElse(null), published));
        Map<Integer, Integer> loads = new TreeMap<>();
        onVine.forEach(one -> one.plant().map(PlantId::number).ifPresent(plant -> loads.merge(plant, 1, Integer::sum)));
        return new RowLine(
                row.label(),
                crop.planting(row).map(Planting::name).orElse(null),
                crop.planting(row).map(Planting::cultivar).orElse(null),
                firstTied,
                tied.size(),
                onVine.size(),
                count(tied, Fruit.State.CULLED),
                count(tied, Fruit.State.HARVESTED),
                crop.countOnRow(row, Deed.CULLED),
                lastRound.orElse(null),
                lastLooked.orElse(null),
                next.map(CullRound::due).orElse(null),
                next.map(one -> one.on(crop.day()).due()).orElse(false),
                next.map(one -> one.on(crop.day()).sentence()).orElse("No tied fruit is on the vine."),
                crop.rows().plantsIn(row),
                loads.entrySet().stream()
                        .map(load -> new Load(load.getKey(), load.getValue()))
                        .toList(),
                onVine.size()
                        - loads.values().stream().mapToInt(Integer::intValue).sum(),
                onVine.stream().map(one -> one.id().tie().digits()).toList());
    }

    private static int count(List<Fruit> fruit, Fruit.State state) {
        return Math.toIntExact(fruit.stream().filter(one -> Crop.is(one, state)).count());
    }

    private static Stream<LocalDate> done(Crop crop, RowId row, List<Fruit> tied, Deed deed) {
        return Stream.concat(
                        crop.onRow(row, deed),
                        tied.stream()
                                .flatMap(one -> Act.only(Act.OnFruit.class, one.acts()))
                                .filter(act -> act.deed() == deed))
                .map(crop::dateOf);
    }

    private static Optional<LocalDate> latest(Stream<LocalDate> days) {
        return days.max(Comparator.naturalOrder());
    }

    /** What is asked about the season's ties, and about fruit of whose tying nobody told. */
    private List<AskedView> asked(Crop crop) {
        List<Fruit> all =
                Stream.concat(crop.fruit().stream(), crop.strangers().stream()).toList();
        TieUses uses =
                index.uses(crop.farm(), all.stream().map(one -> one.id().tie()).toList());
        Map<FruitId, List<Question>> asked = all.stream()
                .filter(one -> !one.questions(uses).isEmpty())
                .collect(Collectors.toMap(Fruit::id, one -> one.questions(uses)));
        Questions.Sorted sorted = questions.about(crop.farm(), asked.keySet());
        return all.stream()
                .filter(one -> asked.containsKey(one.id()))
                .flatMap(one -> sorted.open(one.id(), asked.getOrDefault(one.id(), List.of())).stream()
                        .map(question -> new AskedView(
                                one.id().tie().digits(),
                                one.tying()
                                        .map(tied -> tied.round().row().label())
                                        .orElse(null),
                                question.kind(),
                                question.text())))
                .toList();
    }
}
