package duskpeg.projections.harvest;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.TieUses;
import duskpeg.core.harvest.CullRound;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.published.Published;
import duskpeg.core.published.Table;
import duskpeg.core.report.Question;
import duskpeg.projections.Counting;
import duskpeg.projections.Questions;
import duskpeg.projections.harvest.CullView.AskedView;
import duskpeg.projections.harvest.CullView.Load;
import duskpeg.projections.harvest.CullView.RowLine;
import duskpeg.projections.history.Histories;
import java.time.Duration;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.springframework.stereotype.Component;

/** Which rows wait for a culling round, and what hangs in them. */
@Component
public class Culls {

    /** The board is not held up by it. */
    private static final Duration PATIENCE = Duration.ofSeconds(1);

    private final Crops crops;
    private final Index index;
    private final Histories histories;
    private final Questions questions;
    private final Counting<Asked> counting = new Counting<>(this::version, this::count, PATIENCE);

    Culls(Crops crops, Index index, Histories histories, Questions questions) {
        this.crops = crops;
        this.index = index;
        this.histories = histories;
        this.questions = questions;
    }

    private record Asked(FarmId farm, LocalDate day) {}

    /** How many rows are due for a culling round, as it was last counted; empty while that takes longer than a page waits. */
    public OptionalInt due(FarmId farm, LocalDate day) {
        return counting.of(new Asked(farm, day));
    }

    private long version(Asked asked) {
        return histories.version() + index.lookedOver(asked.farm()).size();
    }

    private int count(Asked asked) {
        return Math.toIntExact(new Reading(crops.on(asked.farm(), asked.day()))
                .rows()
                .filter(RowLine::isDue)
                .count());
    }

    CullView on(FarmId farm, LocalDate day) {
        Span span = crops.on(farm, day);
        Reading reading = new Reading(span);
        TieUses uses = index.uses(farm);
        List<AskedView> asked = new ArrayList<>();
        List<RowLine> rows = crops.of(span)
                .peek(crop -> asked.addAll(asked(
                        span,
                        uses,
                        Stream.concat(crop.fruit().stream(), crop.strangers().stream())
                                .toList())))
                .flatMap(crop -> reading.line(crop).stream())
                .toList();
        asked.addAll(asked(span, uses, crops.strangers(span)));
        return new CullView(
                farm.value(),
                day,
                span.season().label(),
                reading.published.get(Table.CULLING, "first").cited(),
                reading.published.get(Table.CULLING, "repeat").cited(),
                Math.toIntExact(rows.stream().filter(RowLine::isDue).count()),
                rows,
                asked.stream().sorted(Comparator.comparing(AskedView::tie)).toList(),
                rows.isEmpty() ? crops.lastBefore(span.season(), farm).orElse(null) : null);
    }

    /** What is read of the farm once for all its rows. */
    private final class Reading {

        private final Span span;
        private final Published published;
        private final List<FarmEvent.LookedOver> lookedOver;

        Reading(Span span) {
            this.span = span;
            this.published = index.published(span.farm());
            this.lookedOver = index.lookedOver(span.farm()).stream()
                    .filter(one -> span.season().has(one.on()) && !one.on().isAfter(span.day()))
                    .toList();
        }

        Stream<RowLine> rows() {
            return crops.of(span).flatMap(crop -> line(crop).stream());
        }

        /** A row's line; empty where nothing was tied in it. */
        Optional<RowLine> line(Crop crop) {
            return crop.fruit().isEmpty()
                    ? Optional.empty()
                    : Optional.of(Culls.line(span, crop, lookedOver, published));
        }
    }

    private static RowLine line(Span span, Crop crop, List<FarmEvent.LookedOver> lookedOver, Published published) {
        RowId row = crop.row();
        List<Fruit> tied = crop.fruit();
        List<Fruit> onVine =
                tied.stream().filter(one -> Crop.is(one, Fruit.State.TIED)).toList();
        LocalDate firstTied = tied.stream()
                .map(one -> Crop.round(one).morning())
                .min(Comparator.naturalOrder())
                .orElseThrow();
        Optional<LocalDate> lastRound = latest(Stream.concat(
                done(span, crop, Deed.CULLED),
                lookedOver.stream().filter(one -> one.rows().contains(row)).map(FarmEvent.LookedOver::on)));
        Optional<LocalDate> lastLooked = latest(Stream.concat(lastRound.stream(), done(span, crop, Deed.UNBAGGED)));
        Optional<CullRound> next = onVine.isEmpty()
                ? Optional.empty()
                : Optional.of(CullRound.next(firstTied, lastRound.orElse(null), published));
        Map<Integer, Integer> loads = new TreeMap<>();
        onVine.forEach(one -> one.plant().map(PlantId::number).ifPresent(plant -> loads.merge(plant, 1, Integer::sum)));
        return new RowLine(
                row.label(),
                span.planting(row).map(Planting::name).orElse(null),
                span.planting(row).map(Planting::cultivar).orElse(null),
                firstTied,
                tied.size(),
                onVine.size(),
                crop.count(Fruit.State.CULLED),
                crop.count(Fruit.State.HARVESTED),
                crop.countOnRow(Deed.CULLED),
                lastRound.orElse(null),
                lastLooked.orElse(null),
                next.map(CullRound::due).orElse(null),
                next.map(one -> one.on(span.day()).due()).orElse(false),
                next.map(one -> one.on(span.day()).sentence()).orElse("No tied fruit is on the vine."),
                span.rows().plantsIn(row),
                loads.entrySet().stream()
                        .map(load -> new Load(load.getKey(), load.getValue()))
                        .toList(),
                onVine.size()
                        - loads.values().stream().mapToInt(Integer::intValue).sum(),
                onVine.stream().map(one -> one.id().tie().digits()).toList());
    }

    private static Stream<LocalDate> done(Span span, Crop crop, Deed deed) {
        return Stream.concat(
                        crop.onRow(deed),
                        crop.fruit().stream()
                                .flatMap(one -> Act.only(Act.OnFruit.class, one.acts()))
                                .filter(act -> act.deed() == deed))
                .map(span::dateOf);
    }

    private static Optional<LocalDate> latest(Stream<LocalDate> days) {
        return days.max(Comparator.naturalOrder());
    }

    /** What is asked about these fruit. */
    private List<AskedView> asked(Span span, TieUses uses, List<Fruit> fruit) {
        Map<Fruit, List<Question>> asked = new LinkedHashMap<>();
        for (Fruit one : fruit) {
            List<Question> questions = one.questions(uses);
            if (!questions.isEmpty()) {
                asked.put(one, questions);
            }
        }
        if (asked.isEmpty()) {
            return List.of();
        }
        Questions.Sorted sorted = questions.about(
                span.farm(), asked.keySet().stream().map(Fruit::id).toList());
        return asked.entrySet().stream()
                .flatMap(one -> sorted.open(one.getKey().id(), one.getValue()).stream()
                        .map(question -> new AskedView(
                                one.getKey().id().tie().digits(),
                                one.getKey()
                                        .tying()
                                        .map(tied -> tied.round().row().label())
                                        .orElse(null),
                                question.kind(),
                                question.text())))
                .toList();
    }
}
