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
import duskpeg.core.planting.RowId;
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
import java.util.TreeMap;
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
        return new Writer(crops.on(farm, day)).view();
    }

    private final class Writer {

        private final Crop crop;
        private final Published published;
        private final Temperatures temperatures;
        private final Map<WorkerId, String> names;
        private final int temperatureDays;

        Writer(Crop crop) {
            this.crop = crop;
            this.published = index.published(crop.farm());
            this.temperatures = index.temperatures(crop.farm());
            this.names = people.names(crop.farm());
            this.temperatureDays =
                    temperatures.known(crop.season().from(), crop.season().to());
        }

        HarvestView view() {
            List<RowLine> rows = crop.tiedRows().stream()
                    .map(this::row)
                    .filter(row -> !row.groups().isEmpty())
                    .toList();
            List<CountLine> untied = crop.onRows().stream()
                    .filter(act -> act.deed() == Deed.HARVESTED)
                    .filter(act -> crop.dateOf(act).equals(crop.day()))
                    .map(act -> new CountLine(
                            act.subject().inRow().map(RowId::label).orElse("?"), act.count(), at(act), who(act)))
                    .toList();
            return new HarvestView(
                    crop.farm().value(),
                    crop.day(),
                    crop.season().label(),
                    count(rows, "ready"),
                    count(rows, "over"),
                    count(rows, "ripening"),
                    count(rows, "too-early"),
                    figures(),
                    rows,
                    broughtIn(),
                    untied,
                    crop.onRows().stream()
                            .filter(act -> act.deed() == Deed.HARVESTED)
                            .mapToInt(Act.OnFruit::count)
                            .sum(),
                    curing(),
                    temperatureDays,
                    crop.fruit().isEmpty()
                            ? crops.lastBefore(crop.season(), crop.farm()).orElse(null)
                            : null);
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
            return crop.fruit().stream()
                    .filter(one -> Crop.is(one, Fruit.State.TIED))
                    .flatMap(one -> crop.species(one).stream())
                    .distinct()
                    .sorted()
                    .flatMap(species -> Stream.of("warn-under", "ready-from", "ready-to")
                            .map(what -> species.scientificName() + ", " + what + ": "
                                    + published
                                            .get(Table.MATURITY, Table.word(species), what)
                                            .cited()))
                    .toList();
        }

        private RowLine row(RowId row) {
            Optional<Planting> planting = crop.planting(row);
            Map<LocalDate, List<Fruit>> byMorning = crop.in(row).stream()
                    .filter(one -> Crop.is(one, Fruit.State.TIED))
                    .collect(
                            Collectors.groupingBy(one -> Crop.round(one).morning(), TreeMap::new, Collectors.toList()));
            return new RowLine(
                    row.label(),
                    planting.map(Planting::name).orElse(null),
                    planting.map(Planting::cultivar).orElse(null),
                    planting.map(one -> one.species().scientificName()).orElse(null),
                    byMorning.entrySet().stream()
                            .filter(one -> !one.getKey().isAfter(crop.day()))
                            .map(one -> group(
                                    one.getKey(),
                                    one.getValue(),
                                    planting.map(Planting::species).orElse(null)))
                            .toList());
        }

        private Group group(LocalDate morning, List<Fruit> fruit, @Nullable Species species) {
            List<String> ties =
                    fruit.stream().map(one -> one.id().tie().digits()).toList();
            int age = days(morning, crop.day());
            if (species == null) {
                return new Group(
                        morning, age, null, null, null, "Its species is not known here.", ties, warmth(morning));
            }
            Ripening ripening = Ripening.of(species, morning, published);
            Ripening.Standing standing = ripening.on(crop.day());
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
                            how -> how, how -> temperatures.accumulated(morning, crop.day(), how, published)));
            return new Warmth(
                    sum(sums, DegreeDays.SIMPLE),
                    sum(sums, DegreeDays.CLIPPED),
                    sum(sums, DegreeDays.SINE),
                    sum(sums, DegreeDays.SINE_CUT_OFF),
                    days(morning, crop.day()) + 1,
                    sums.values().iterator().next().missing().size());
        }

        private static double sum(Map<DegreeDays, Accumulated> sums, DegreeDays how) {
            Accumulated sum = sums.get(how);
            return sum == null ? 0 : sum.degreeDays();
        }

        private List<InLine> broughtIn() {
            return Stream.concat(crop.fruit().stream(), crop.strangers().stream())
                    .flatMap(one -> crop
                            .broughtIn(one)
                            .filter(act -> crop.dateOf(act).equals(crop.day()))
                            .map(act -> in(one, act))
                            .stream())
                    .sorted(Comparator.comparing(InLine::at).thenComparing(InLine::tie))
                    .toList();
        }

        private InLine in(Fruit one, Act.Harvested act) {
            Integer age = one.tying()
                    .map(tied -> days(tied.round().morning(), crop.day()))
                    .orElse(null);
            boolean early = age != null
                    && crop.species(one)
                            .map(species -> published.get(Table.MATURITY, Table.word(species), "warn-under"))
                            .map(Row::number)
                            .filter(least -> age < least.intValueExact())
                            .isPresent();
            return new InLine(
                    one.id().tie().digits(),
                    one.tying().map(tied -> tied.round().row().label()).orElse(null),
                    one.tying()
                            .flatMap(tied -> crop.rows().cultivarOf(tied.round().row()))
                            .orElse(null),
                    age,
                    early,
                    at(act),
                    who(act));
        }

        private OffsetDateTime at(Act act) {
            return act.told().done().atZone(crop.settings().zone()).toOffsetDateTime();
        }

        private String who(Act act) {
            return names.getOrDefault(act.told().by(), act.told().by().pseudonym());
        }

        private record Held(LocalDate since, RowId row, Optional<LotId> lot) {}

        /** What is held together: brought in on one day, of one planting, for one lot. */
        private record Together(LocalDate since, String planting, String lot) {}

        private List<CureLine> curing() {
            Lots lots = index.lots(crop.farm());
            Map<Together, List<Held>> groups = new TreeMap<>(Comparator.comparing(Together::since)
                    .thenComparing(Together::planting)
                    .thenComparing(Together::lot));
            for (Fruit one : crop.fruit()) {
                crop.broughtIn(one).ifPresent(act -> {
                    RowId row = Crop.round(one).row();
                    Optional<LotId> lot = lots.takenInto(one.id()).stream().min(Comparator.comparing(LotId::name));
                    Together together = new Together(
                            crop.dateOf(act),
                            crop.planting(row).map(Planting::name).orElse(""),
                            lot.map(LotId::name).orElse(""));
                    groups.computeIfAbsent(together, unseen -> new ArrayList<>())
                            .add(new Held(together.since(), row, lot));
                });
            }
            return groups.values().stream().map(held -> cure(held, lots)).toList();
        }

        private CureLine cure(List<Held> held, Lots lots) {
            Held first = held.get(0);
            Optional<Planting> planting = crop.planting(first.row());
            List<Worked> work = first.lot().flatMap(lots::lot).map(Lot::work).orElse(List.of()).stream()
                    .filter(worked -> !worked.from().isAfter(crop.day()))
                    .toList();
            Optional<LocalDate> out = work.stream()
                    .filter(worked -> worked.step() == Step.EXTRACTED)
                    .map(Worked::from)
                    .findFirst();
            Optional<Curing> curing = planting.map(one -> Curing.of(one.species(), first.since(), published));
            Optional<Curing.Standing> standing = curing.map(one -> one.on(crop.day()));
            return new CureLine(
                    first.since(),
                    planting.map(Planting::cultivar).orElse(null),
                    held.size(),
                    first.lot().map(LotId::name).orElse(null),
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
