package duskpeg.projections.harvest;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.crew.People;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.lot.Lot;
import duskpeg.core.lot.LotEvent.Step;
import duskpeg.core.lot.LotEvent.Worked;
import duskpeg.core.lot.LotId;
import duskpeg.core.lot.Lots;
import duskpeg.core.maturity.Curing;
import duskpeg.core.maturity.DegreeDays;
import duskpeg.core.maturity.Ripening;
import duskpeg.core.maturity.Temperatures;
import duskpeg.core.maturity.Temperatures.Accumulated;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.Species;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import duskpeg.projections.harvest.HarvestView.CountLine;
import duskpeg.projections.harvest.HarvestView.CureLine;
import duskpeg.projections.harvest.HarvestView.Group;
import duskpeg.projections.harvest.HarvestView.InLine;
import duskpeg.projections.harvest.HarvestView.RowLine;
import duskpeg.projections.harvest.HarvestView.Warmth;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** What is ready on a day, what came in, and what is held. */
@Component
class Harvests {

    private final Crops crops;
    private final Index index;
    private final People people;

    Harvests(Crops crops, Index index, People people) {
        this.crops = crops;
        this.index = index;
        this.people = people;
    }

    HarvestView on(FarmId farm, LocalDate day) {
        Span span = crops.on(farm, day);
        Writer writer = new Writer(span);
        crops.of(span).forEach(writer::add);
        crops.strangers(span).forEach(writer::broughtIn);
        return writer.view();
    }

    private final class Writer {

        private final Span span;
        private final Published published;
        private final Temperatures temperatures;
        private final Map<WorkerId, String> names;
        private final int temperatureDays;
        private final Lots lots;

        private final List<RowLine> rows = new ArrayList<>();
        private final Set<Species> onVine = new TreeSet<>();
        private final List<InLine> broughtIn = new ArrayList<>();
        private final List<CountLine> untied = new ArrayList<>();
        private final Map<Together, Integer> held = new TreeMap<>(Comparator.comparing(Together::since)
                .thenComparing(Together::planting)
                .thenComparing(Together::lot));
        private int allUntied;
        private boolean anything;

        Writer(Span span) {
            this.span = span;
            this.published = index.published(span.farm());
            this.temperatures = index.temperatures(span.farm());
            this.names = people.names(span.farm());
            this.temperatureDays =
                    temperatures.known(span.season().from(), span.season().to());
            this.lots = index.lots(span.farm());
        }

        /** Adds a row. Nothing of it is kept but what is shown. */
        void add(Crop crop) {
            anything |= !crop.fruit().isEmpty();
            RowLine row = row(crop);
            if (!row.groups().isEmpty()) {
                rows.add(row);
            }
            Stream.concat(crop.fruit().stream(), crop.strangers().stream()).forEach(this::broughtIn);
            crop.fruit().forEach(this::held);
            if (crop.count(Fruit.State.TIED) > 0) {
                span.planting(crop.row()).map(Planting::species).ifPresent(onVine::add);
            }
            allUntied += crop.countOnRow(Deed.HARVESTED);
            crop.onRow(Deed.HARVESTED)
                    .filter(act -> span.dateOf(act).equals(span.day()))
                    .forEach(act -> untied.add(new CountLine(crop.row().label(), act.count(), at(act), who(act))));
        }

        HarvestView view() {
            return new HarvestView(
                    span.farm().value(),
                    span.day(),
                    span.season().label(),
                    count(rows, "ready"),
                    count(rows, "over"),
                    count(rows, "ripening"),
                    count(rows, "too-early"),
                    figures(),
                    rows,
                    broughtIn.stream()
                            .sorted(Comparator.comparing(InLine::at).thenComparing(InLine::tie))
                            .toList(),
                    untied.stream().sorted(Comparator.comparing(CountLine::at)).toList(),
                    allUntied,
                    held.entrySet().stream()
                            .map(one -> cure(one.getKey(), one.getValue()))
                            .toList(),
                    temperatureDays,
                    anything
                            ? null
                            : crops.lastBefore(span.season(), span.farm()).orElse(null));
        }

        private static int count(List<RowLine> rows, String stage) {
            return rows.stream()
                    .flatMap(row -> row.groups().stream())
                    .filter(group -> stage.equals(group.stage()))
                    .mapToInt(group -> group.ties().size())
                    .sum();
        }

        /** Each figure of the species on the vine once. */
        private List<String> figures() {
            return onVine.stream()
                    .flatMap(species -> Stream.of("warn-under", "ready-from", "ready-to")
                            .map(what -> species.scientificName() + ", " + what + ": "
                                    + published
                                            .get(Table.MATURITY, Table.word(species), what)
                                            .cited()))
                    .toList();
        }

        private RowLine row(Crop crop) {
            Optional<Planting> planting = span.planting(crop.row());
            Map<LocalDate, List<Fruit>> byMorning = crop.fruit().stream()
                    .filter(one -> Crop.is(one, Fruit.State.TIED))
                    .collect(
                            Collectors.groupingBy(one -> Crop.round(one).morning(), TreeMap::new, Collectors.toList()));
            return new RowLine(
                    crop.row().label(),
                    planting.map(Planting::name).orElse(null),
                    planting.map(Planting::cultivar).orElse(null),
                    planting.map(one -> one.species().scientificName()).orElse(null),
                    byMorning.entrySet().stream()
                            .filter(one -> !one.getKey().isAfter(span.day()))
                            .map(one -> group(
                                    one.getKey(),
                                    one.getValue(),
                                    planting.map(Planting::species).orElse(null)))
                            .toList());
        }

        private Group group(LocalDate morning, List<Fruit> fruit, @Nullable Species species) {
            List<String> ties =
                    fruit.stream().map(one -> one.id().tie().digits()).toList();
            int age = days(morning, span.day());
            if (species == null) {
                return new Group(
                        morning, age, null, null, null, "Its species is not known here.", ties, warmth(morning));
            }
            Ripening ripening = Ripening.of(species, morning, published);
            Ripening.Standing standing = ripening.on(span.day());
            return new Group(
                    morning,
                    age,
                    word(standing.stage()),
                    ripening.ready(),
                    ripening.surely(),
                    standing.sentence(),
                    ties,
                    warmth(morning));
        }

        private static String word(Ripening.Stage stage) {
            return switch (stage) {
                case TOO_EARLY -> "too-early";
                case RIPENING -> "ripening";
                case READY_FROM_NOW -> "ready";
                case READY -> "over";
            };
        }

        private @Nullable Warmth warmth(LocalDate morning) {
            if (temperatureDays == 0) {
                return null;
            }
            Map<DegreeDays, Accumulated> sums = Stream.of(DegreeDays.values())
                    .collect(Collectors.toMap(
                            how -> how, how -> temperatures.accumulated(morning, span.day(), how, published)));
            return new Warmth(
                    sum(sums, DegreeDays.SIMPLE),
                    sum(sums, DegreeDays.CLIPPED),
                    sum(sums, DegreeDays.SINE),
                    sum(sums, DegreeDays.SINE_CUT_OFF),
                    days(morning, span.day()) + 1,
                    sums.values().iterator().next().missing().size());
        }

        private static double sum(Map<DegreeDays, Accumulated> sums, DegreeDays how) {
            Accumulated sum = sums.get(how);
            return sum == null ? 0 : sum.degreeDays();
        }

        /** Notes a fruit that was brought in on the day. */
        void broughtIn(Fruit one) {
            span.broughtIn(one)
                    .filter(act -> span.dateOf(act).equals(span.day()))
                    .ifPresent(act -> broughtIn.add(in(one, act)));
        }

        private InLine in(Fruit one, Act.Harvested act) {
            Integer age = one.tying()
                    .map(tied -> days(tied.round().morning(), span.day()))
                    .orElse(null);
            boolean early = age != null
                    && span.species(one)
                            .map(species -> published.get(Table.MATURITY, Table.word(species), "warn-under"))
                            .map(Row::number)
                            .filter(least -> age < least.intValueExact())
                            .isPresent();
            return new InLine(
                    one.id().tie().digits(),
                    one.tying().map(tied -> tied.round().row().label()).orElse(null),
                    one.tying()
                            .flatMap(tied -> span.rows().cultivarOf(tied.round().row()))
                            .orElse(null),
                    age,
                    early,
                    at(act),
                    who(act));
        }

        private OffsetDateTime at(Act act) {
            return act.told().done().atZone(span.settings().zone()).toOffsetDateTime();
        }

        private String who(Act act) {
            return names.getOrDefault(act.told().by(), act.told().by().pseudonym());
        }

        /** What is held together: brought in on one day, of one planting, for one lot. Of none where that is not known. */
        private record Together(
                LocalDate since, String planting, String lot, Optional<Planting> of, Optional<LotId> into) {}

        private void held(Fruit one) {
            span.broughtIn(one).ifPresent(act -> {
                Optional<Planting> planting = span.planting(Crop.round(one).row());
                Optional<LotId> lot = lots.takenInto(one.id()).stream().min(Comparator.comparing(LotId::name));
                held.merge(
                        new Together(
                                span.dateOf(act),
                                planting.map(Planting::name).orElse(""),
                                lot.map(LotId::name).orElse(""),
                                planting,
                                lot),
                        1,
                        Integer::sum);
            });
        }

        private CureLine cure(Together held, int fruit) {
            Optional<Planting> planting = held.of();
            List<Worked> work = held.into().flatMap(lots::lot).map(Lot::work).orElse(List.of()).stream()
                    .filter(worked -> !worked.from().isAfter(span.day()))
                    .toList();
            Optional<LocalDate> out = work.stream()
                    .filter(worked -> worked.step() == Step.EXTRACTED)
                    .map(Worked::from)
                    .findFirst();
            Optional<Curing> curing = planting.map(one -> Curing.of(one.species(), held.since(), published));
            Optional<Curing.Standing> standing = curing.map(one -> one.on(span.day()));
            return new CureLine(
                    held.since(),
                    planting.map(Planting::cultivar).orElse(null),
                    fruit,
                    held.into().map(LotId::name).orElse(null),
                    work.stream()
                            .filter(worked -> worked.step() == Step.CURED
                                    && !worked.place().isEmpty())
                            .map(Worked::place)
                            .reduce((earlier, later) -> later)
                            .orElse(null),
                    curing.map(Curing::ready).orElse(null),
                    curing.map(Curing::last).orElse(null),
                    out.isPresent() ? "seed-out" : standing.map(Writer::word).orElse("curing"),
                    out.map(on -> "Seed taken out on " + on + ".")
                            .orElseGet(() ->
                                    standing.map(Curing.Standing::sentence).orElse("Its species is not known here.")));
        }

        private static String word(Curing.Standing standing) {
            return standing.late() ? "late" : standing.ready() ? "ready" : "curing";
        }

        private static int days(LocalDate from, LocalDate to) {
            return Math.toIntExact(ChronoUnit.DAYS.between(from, to));
        }
    }
}
