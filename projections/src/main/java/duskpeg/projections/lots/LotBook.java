package duskpeg.projections.lots;

import duskpeg.core.act.Act;
import duskpeg.core.crew.People;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.germination.TwoTests;
import duskpeg.core.growout.GrowOut;
import duskpeg.core.lot.Admission;
import duskpeg.core.lot.Balance;
import duskpeg.core.lot.Lot;
import duskpeg.core.lot.LotEvent;
import duskpeg.core.lot.LotEvent.Decided;
import duskpeg.core.lot.LotEvent.Drawn;
import duskpeg.core.lot.LotEvent.Packed;
import duskpeg.core.lot.LotEvent.Taken;
import duskpeg.core.lot.LotEvent.Weighed;
import duskpeg.core.lot.LotId;
import duskpeg.core.lot.Lots;
import duskpeg.core.lot.Release;
import duskpeg.core.lot.Twice;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.Rows;
import duskpeg.core.published.Figures;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import duskpeg.core.purity.Rules;
import duskpeg.core.purity.Verdict;
import duskpeg.core.round.RoundId;
import duskpeg.projections.history.Finder;
import duskpeg.projections.history.Verdicts;
import duskpeg.projections.history.Verdicts.Judged;
import duskpeg.projections.lineage.Descents;
import duskpeg.projections.lots.LotView.DrawnView;
import duskpeg.projections.lots.LotView.EntryView;
import duskpeg.projections.lots.LotView.FruitLine;
import duskpeg.projections.lots.LotView.LineView;
import duskpeg.projections.lots.LotView.PacketsView;
import duskpeg.projections.lots.LotView.TestView;
import duskpeg.projections.lots.LotView.WorkView;
import duskpeg.projections.lots.TraceView.FlowerView;
import duskpeg.projections.lots.TraceView.PacketsOf;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Reads lots. Nothing of what is made of them is kept: the same entries and reports give the same page. */
@Component
public class LotBook {

    private final Index index;
    private final Verdicts verdicts;
    private final Finder finder;
    private final Descents descents;
    private final People people;
    private final Clock clock;

    LotBook(Index index, Verdicts verdicts, Finder finder, Descents descents, People people, Clock clock) {
        this.index = index;
        this.verdicts = verdicts;
        this.finder = finder;
        this.descents = descents;
        this.people = people;
        this.clock = clock;
    }

    /** The farm's day at a time, today where none is given. */
    private LocalDate day(FarmId farm, @Nullable Instant at) {
        return index.settings(farm).dateAt(at == null ? clock.instant() : at);
    }

    /** All lots of a farm, in the order in which they were first heard of. */
    List<LotView.Line> all(FarmId farm) {
        Lots lots = index.lots(farm);
        LocalDate today = day(farm, null);
        return lots.all().stream()
                .map(lot -> new LotView.Line(
                        lot.id().name(),
                        lot.begun().map(LotEvent.Begun::cultivar).orElse(null),
                        lot.state(),
                        lot.isExpired(today),
                        lots.flowers(lot.id()).size(),
                        lot.balance().grams(),
                        lot.packets().stream()
                                .mapToInt(packed -> packed.last() - packed.first() + 1)
                                .sum(),
                        lot.drawnIn().stream()
                                .map(drawn -> drawn.lot().name())
                                .distinct()
                                .toList()))
                .toList();
    }

    /**
     * A lot as it was known at a time; which figures the farm goes by is as now.
     *
     * @param at what was entered or heard later is left out; null for all that is known
     * @return empty where nobody had entered anything of it by then
     */
    Optional<LotView> lot(LotId id, @Nullable Instant at) {
        Lots lots = index.lots(id.farm(), at == null ? Instant.MAX : at);
        return lots.lot(id).map(lot -> new Writer(lots, lot, at).view());
    }

    /** When anything was entered of a lot, each time once, the earliest first. */
    List<Instant> entered(LotId id) {
        return index.lots(id.farm()).lot(id).map(Lot::entries).orElse(List.of()).stream()
                .map(entry -> entry.event().at())
                .distinct()
                .sorted()
                .toList();
    }

    /** Ties of fruit that were brought in, are of that cultivar, and are in no lot yet. */
    List<String> waiting(FarmId farm, String cultivar) {
        Lots lots = index.lots(farm);
        return finder.find(farm, new Finder.Sought("", null, "", cultivar)).fruit().stream()
                .filter(one -> one.state().equals(Fruit.State.HARVESTED.word()))
                .map(Finder.OfFruit::tie)
                .filter(tie ->
                        lots.takenInto(new FruitId(farm, new TieNumber(tie))).isEmpty())
                .sorted()
                .toList();
    }

    /** Fruit as it would be taken into that lot now. */
    public List<Taken> taken(List<FruitId> fruit, Lot lot, Lots lots) {
        FarmId farm = lot.id().farm();
        Map<FruitId, Judged> judged = verdicts.judged(farm, fruit, Rules.latest(), null);
        Rows rows = index.rows(farm);
        return fruit.stream()
                .map(one -> taken(one, Optional.ofNullable(judged.get(one)), rows, lot, lots))
                .toList();
    }

    private static Taken taken(FruitId fruit, Optional<Judged> judged, Rows rows, Lot lot, Lots lots) {
        Optional<Planting> planting = judged.flatMap(one -> one.fruit().fruit().tying())
                .flatMap(tied -> rows.plantingOf(tied.round().row()));
        String stock = planting.map(Planting::stock).orElse(null);
        Verdict verdict = judged.map(Judged::verdict).orElse(null);
        List<String> against = Admission.against(
                new Admission.Candidate(
                        fruit,
                        judged.flatMap(one -> one.fruit().fruit().state()),
                        planting.map(Planting::cultivar).orElse(null),
                        stock,
                        verdict),
                lot,
                lots);
        return new Taken(
                fruit,
                verdict == null ? "none" : verdict.kind().word(),
                verdict == null ? Rules.latest().version() : verdict.rules(),
                stock,
                against);
    }

    /** What is known of a lot for whoever decides on it; empty where nothing was ever entered of it. */
    public Optional<Release> release(LotId id) {
        Lots lots = index.lots(id.farm());
        return lots.lot(id).map(lot -> release(lots, lot, null));
    }

    /** What stands against releasing a lot. */
    public List<String> against(LotId id) {
        return release(id).map(Release::against).orElse(List.of());
    }

    private Release release(Lots lots, Lot lot, @Nullable Instant at) {
        Map<FruitId, Verdict.Kind> kinds = new HashMap<>();
        Set<WorkerId> behind = new HashSet<>();
        FarmId farm = lot.id().farm();
        verdicts.judged(farm, lots.flowers(lot.id()).keySet(), Rules.latest(), at)
                .forEach((fruit, judged) -> {
                    kinds.put(fruit, judged.verdict().kind());
                    judged.fruit()
                            .evidence()
                            .forEach(
                                    evidence -> behind.add(evidence.act().told().by()));
                });
        return new Release(lots, lot, kinds, behind, index.published(farm), index.standards(farm), day(farm, at));
    }

    /** Every packet that may hold seed of a fruit; the fruit itself is named even where it is in no lot. */
    TraceView forward(FruitId fruit) {
        Lots lots = index.lots(fruit.farm());
        Set<LotId> into = lots.takenInto(fruit);
        return new TraceView(
                "tie " + fruit.tie().digits(),
                flowers(
                        fruit.farm(),
                        Map.of(fruit, into.stream().map(LotId::name).sorted().findFirst())),
                lots.descendants(into).stream().map(LotId::name).toList(),
                packets(lots.packets(into)));
    }

    /** Every flower that seed of a lot may be of, and every packet with seed of the same; all lots are read once. */
    public Optional<TraceView> back(LotId id, String of) {
        Lots lots = index.lots(id.farm());
        return lots.lot(id).map(lot -> back(lots, lot, of));
    }

    /** The same of a packet; empty where no packet of that number was filled. */
    Optional<TraceView> back(LotId id, int packet) {
        Lots lots = index.lots(id.farm());
        return lots.lot(id)
                .filter(lot -> lot.hasPacket(packet))
                .map(lot -> back(lots, lot, "packet " + id.name() + "." + packet));
    }

    private TraceView back(Lots lots, Lot lot, String of) {
        return new TraceView(
                of,
                flowers(lot.id().farm(), takenInto(lots.flowers(lot.id()))),
                lots.sources(lot.id()).stream().map(LotId::name).toList(),
                packets(lots.packets(Set.of(lot.id()))));
    }

    private static Map<FruitId, Optional<String>> takenInto(Map<FruitId, LotId> flowers) {
        Map<FruitId, Optional<String>> names = new LinkedHashMap<>();
        flowers.forEach((fruit, lot) -> names.put(fruit, Optional.of(lot.name())));
        return names;
    }

    private List<FlowerView> flowers(FarmId farm, Map<FruitId, Optional<String>> lots) {
        Map<FruitId, Judged> judged = verdicts.judged(farm, lots.keySet(), Rules.latest(), null);
        List<FlowerView> flowers = new ArrayList<>();
        lots.forEach((fruit, lot) -> {
            Optional<Judged> one = Optional.ofNullable(judged.get(fruit));
            Optional<RoundId> round =
                    one.flatMap(known -> known.fruit().fruit().tying()).map(Act.Tied::round);
            flowers.add(new FlowerView(
                    fruit.tie().digits(),
                    lot.orElse(null),
                    one.map(known -> known.verdict().kind().word()).orElse("none"),
                    round.map(known -> known.row().label()).orElse(null),
                    round.map(known -> known.morning().toString()).orElse(null)));
        });
        return flowers;
    }

    private static List<PacketsOf> packets(Map<LotId, List<Packed>> packets) {
        return packets.entrySet().stream()
                .flatMap(of -> of.getValue().stream()
                        .map(one -> new PacketsOf(of.getKey().name(), one.first(), one.last(), one.grams())))
                .toList();
    }

    /** Writes one lot. */
    private final class Writer {

        private final Lots lots;
        private final Lot lot;
        private final Release release;
        private final ZoneId zone;
        private final Map<WorkerId, String> names;

        Writer(Lots lots, Lot lot, @Nullable Instant at) {
            this.lots = lots;
            this.lot = lot;
            FarmId farm = lot.id().farm();
            release = release(lots, lot, at);
            zone = index.settings(farm).zone();
            names = people.names(farm);
        }

        private String name(WorkerId worker) {
            return names.getOrDefault(worker, worker.pseudonym());
        }

        LotView view() {
            Optional<Decided> decided = lot.decided();
            return new LotView(
                    lot.id().farm().value(),
                    lot.id().name(),
                    lot.begun().map(LotEvent.Begun::cultivar).orElse(null),
                    lot.begun().map(begun -> begun.species().scientificName()).orElse(null),
                    lot.state(),
                    decided.map(Decided::by).map(this::name).orElse(null),
                    decided.map(one -> one.at().atZone(zone).toLocalDate()).orElse(null),
                    decided.map(Decided::why).filter(why -> !why.isEmpty()).orElse(null),
                    decided.map(Decided::although).orElse(List.of()),
                    decided.map(Decided::until).orElse(null),
                    lot.isExpired(release.day()),
                    release.retest().map(retest -> retest.on(release.day())).orElse(null),
                    standards(),
                    lot.balance().grams(),
                    lot.moisture().map(Weighed::moisture).orElse(null),
                    lot.thousandSeeds().map(LotEvent.SeedWeighed::grams).orElse(null),
                    release.against(),
                    lots.flowers(lot.id()).size(),
                    lot.fruit().stream().map(this::fruit).toList(),
                    lot.balance().lines().stream().map(Writer::line).toList(),
                    lot.work().stream()
                            .map(one -> new WorkView(one.step().word(), one.from(), one.until(), one.place()))
                            .toList(),
                    lot.germination().stream().map(this::germination).toList(),
                    lot.growOuts().stream().map(this::growOut).toList(),
                    lot.packets().stream()
                            .map(one -> new PacketsView(one.on(), one.first(), one.last(), one.grams()))
                            .toList(),
                    drawn(lot.drawnIn(), Drawn::lot),
                    drawn(lot.all(Drawn.class), Drawn::to),
                    descents.of(lot.id(), lots).orElse(null),
                    lot.entries().stream().map(this::entry).toList(),
                    LotCharts.of(release));
        }

        private List<String> standards() {
            return Stream.of(Table.GERMINATION_MINIMUM, Table.SEED_MOISTURE, Table.OFF_TYPES)
                    .map(table -> table.title() + ": "
                            + release.chosen(table)
                                    .map(Row::cited)
                                    .orElse("none was chosen, so it is held against none"))
                    .toList();
        }

        private FruitLine fruit(Taken taken) {
            Verdict.Kind now = release.verdicts().get(taken.fruit());
            return new FruitLine(
                    taken.fruit().tie().digits(),
                    taken.verdict(),
                    now == null ? "none" : now.word(),
                    taken.stock(),
                    taken.although());
        }

        private static LineView line(Balance.Line line) {
            OptionalDouble unexplained = line.unexplained();
            return new LineView(
                    line.on(),
                    line.what(),
                    line.change(),
                    line.weighed(),
                    line.expected(),
                    unexplained.isPresent() ? unexplained.getAsDouble() : null);
        }

        private static List<DrawnView> drawn(List<Drawn> drawn, Function<Drawn, LotId> other) {
            return drawn.stream()
                    .map(one -> new DrawnView(other.apply(one).name(), one.on(), one.grams()))
                    .toList();
        }

        private TestView germination(Twice<LotEvent.Germinated> test) {
            List<String> sentences = new ArrayList<>();
            release.germination(test).ifPresent(germination -> {
                sentences.add(germination.sentence());
                sentences.addAll(germination.cautions());
                before(test)
                        .flatMap(release::germination)
                        .ifPresent(before -> sentences.add(TwoTests.of(before, germination, release.published())
                                .sentence()));
            });
            return new TestView(
                    test.last().test(), test.last().finalCount(), entered(test), test.isConfirmed(), sentences);
        }

        private Optional<Twice<LotEvent.Germinated>> before(Twice<LotEvent.Germinated> test) {
            return lot.germination().stream()
                    .filter(one -> one.last().test() < test.last().test())
                    .reduce((earlier, later) -> later);
        }

        private TestView growOut(Twice<LotEvent.GrownOut> test) {
            GrowOut.Shown shown = release.growOut(test);
            return new TestView(
                    test.last().test(),
                    test.last().on(),
                    entered(test),
                    test.isConfirmed(),
                    Stream.concat(
                                    Stream.of(shown.sentence()),
                                    shown.cautions().stream().map(GrowOut.Caution::sentence))
                            .toList());
        }

        private List<String> entered(Twice<?> test) {
            return test.entered().stream().map(one -> name(one.by())).toList();
        }

        private EntryView entry(Lot.Entry entry) {
            LotEvent event = entry.event();
            return new EntryView(
                    entry.number(),
                    event.at().truncatedTo(ChronoUnit.MINUTES).atZone(zone).toOffsetDateTime(),
                    name(event.by()),
                    what(event),
                    entry.withdrawn() == null ? null : entry.withdrawn().why());
        }
    }

    /** What was entered, in a few words. */
    private static String what(LotEvent event) {
        if (event instanceof LotEvent.Begun begun) {
            return "begun: " + begun.cultivar() + ", " + begun.species().scientificName();
        }
        if (event instanceof LotEvent.FruitTaken taken) {
            return taken.fruit().size() + " fruit taken in: "
                    + runs(taken.fruit().stream()
                            .map(one -> one.fruit().tie().digits())
                            .toList());
        }
        if (event instanceof LotEvent.Worked worked) {
            return worked.step().word() + " " + worked.from()
                    + (worked.until().equals(worked.from()) ? "" : " to " + worked.until())
                    + (worked.place().isEmpty() ? "" : ", " + worked.place());
        }
        if (event instanceof Weighed weighed) {
            return "weighed " + grams(weighed.grams()) + " on " + weighed.on()
                    + (weighed.moisture() == null ? "" : ", moisture " + Figures.plain(weighed.moisture(), 2) + "%");
        }
        if (event instanceof LotEvent.Lost lost) {
            return grams(lost.grams()) + " lost on " + lost.on() + ": " + lost.why();
        }
        if (event instanceof LotEvent.SeedWeighed weighed) {
            return "a thousand seeds weigh " + grams(weighed.grams()) + ", " + weighed.on();
        }
        if (event instanceof Drawn drawn) {
            return grams(drawn.grams()) + " to lot " + drawn.to().name() + " on " + drawn.on();
        }
        if (event instanceof Packed packed) {
            return "packets " + packed.first() + " to " + packed.last() + " of " + grams(packed.grams()) + " on "
                    + packed.on();
        }
        if (event instanceof LotEvent.Germinated test) {
            return "germination test " + test.test() + ", final count " + test.finalCount();
        }
        if (event instanceof LotEvent.GrownOut test) {
            return "grow-out " + test.test() + " on " + test.on() + ": " + Figures.count(test.offTypes(), "off-type")
                    + " of " + test.plants() + " plants";
        }
        if (event instanceof Decided decided) {
            return decided.decision().word() + (decided.why().isEmpty() ? "" : ": " + decided.why());
        }
        if (event instanceof LotEvent.Withdrawn withdrawn) {
            return "entry " + withdrawn.entry() + " withdrawn: " + withdrawn.why();
        }
        throw new AssertionError(event);
    }

    private static String grams(double grams) {
        return Figures.plain(grams, 1) + " g";
    }

    /** Tie numbers with runs put together: {@code 004711-004716, 004801}. */
    private static String runs(Collection<String> ties) {
        List<String> runs = new ArrayList<>();
        String first = "";
        String last = "";
        for (String tie : ties.stream().sorted().toList()) {
            if (!last.isEmpty() && Long.parseLong(tie) == Long.parseLong(last) + 1) {
                last = tie;
                continue;
            }
            if (!last.isEmpty()) {
                runs.add(first.equals(last) ? first : first + "-" + last);
            }
            first = tie;
            last = tie;
        }
        if (!last.isEmpty()) {
            runs.add(first.equals(last) ? first : first + "-" + last);
        }
        return runs.stream().collect(Collectors.joining(", "));
    }
}
