package duskpeg.core.lot;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.Standards;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.germination.AgainstMinimum;
import duskpeg.core.germination.Germination;
import duskpeg.core.germination.GerminationTest;
import duskpeg.core.growout.AgainstLimit;
import duskpeg.core.growout.GrowOut;
import duskpeg.core.lot.LotEvent.Germinated;
import duskpeg.core.lot.LotEvent.GrownOut;
import duskpeg.core.lot.LotEvent.Weighed;
import duskpeg.core.planting.Species;
import duskpeg.core.published.Figures;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import duskpeg.core.purity.Verdict;
import duskpeg.core.seed.Retest;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * What is known of a lot by the day on which somebody decides what may become of it.
 *
 * @param lots all lots of the farm
 * @param lot the lot
 * @param verdicts the verdicts on all fruit that seed of it may be of; one that no report tells of is not among them
 * @param people who stands behind those
 * @param published the figures, and the farm's own
 * @param standards which of them the farm goes by
 * @param day the day on which it is asked
 */
public record Release(
        Lots lots,
        Lot lot,
        Map<FruitId, Verdict.Kind> verdicts,
        Set<WorkerId> people,
        Published published,
        Standards standards,
        LocalDate day) {

    /** With how much confidence a grow-out is read. */
    public static final double CONFIDENCE = 0.95;

    public Release {
        verdicts = Map.copyOf(verdicts);
        people = Set.copyOf(people);
    }

    /** What stands against releasing it, each in a sentence; none where nothing does. */
    public List<String> against() {
        List<String> against = new ArrayList<>();
        fruit(against);
        drawn(against);
        lot.balance()
                .unexplained()
                .forEach(line -> against.add(missing(line, line.unexplained().orElseThrow())));
        weighed(against);
        if (!lot.packetsTwice().isEmpty()) {
            against.add("Packet numbers were used twice, " + lot.packetsTwice().get(0) + " among them.");
        }
        moisture(against);
        germination(against);
        growOut(against);
        return List.copyOf(against);
    }

    private static String missing(Balance.Line line, double grams) {
        return grams > 0
                ? Figures.plain(grams, 1) + " g are missing on " + line.on() + ", and nothing says where they went."
                : Figures.plain(-grams, 1) + " g are too much on " + line.on()
                        + ", and nothing says where they came from.";
    }

    private void weighed(List<String> against) {
        Balance balance = lot.balance();
        Double grams = balance.grams();
        if (grams == null && balance.lines().stream().anyMatch(line -> line.change() != null)) {
            against.add("Seed went out of it that was never weighed.");
        }
        balance.overdrawn().stream()
                .findFirst()
                .ifPresent(
                        line -> against.add("More went out on " + line.on() + " than was there: " + line.what() + "."));
    }

    /** Lots that seed of it was drawn from and that don't go with it. */
    private void drawn(List<String> against) {
        lots.sources(lot.id()).stream()
                .filter(source -> !source.equals(lot.id()))
                .flatMap(source -> lots.lot(source).stream())
                .flatMap(source -> Admission.against(source, lot, lots).stream())
                .forEach(against::add);
        Set<String> stocks = lots.stocks(lot.id());
        if (stocks.size() > 1) {
            against.add("Rows behind it were sown with different stock: " + Admission.said(stocks) + ".");
        }
    }

    private void fruit(List<String> against) {
        Set<FruitId> flowers = lots.flowers(lot.id()).keySet();
        if (flowers.isEmpty()) {
            against.add("No fruit is known of which its seed is.");
            return;
        }
        List<FruitId> doubtful = flowers.stream()
                .filter(fruit -> verdicts.get(fruit) != Verdict.Kind.PURE)
                .toList();
        if (!doubtful.isEmpty()) {
            against.add(Figures.count(doubtful.size(), "fruit").replace("fruits", "fruit") + " of " + flowers.size()
                    + (doubtful.size() == 1 ? " is" : " are") + " not shown to be pure: "
                    + doubtful.stream()
                            .limit(5)
                            .map(fruit -> fruit.tie().digits())
                            .collect(Collectors.joining(", "))
                    + (doubtful.size() > 5 ? " and others." : "."));
        }
        if (people.size() < 2) {
            against.add("Fewer than two people stand behind it.");
        }
    }

    private void moisture(List<String> against) {
        chosen(Table.SEED_MOISTURE).ifPresent(most -> {
            Optional<Weighed> read = lot.moisture();
            Double moisture = read.map(Weighed::moisture).orElse(null);
            if (moisture == null) {
                against.add("Its moisture was not read.");
            } else if (moisture > most.number().doubleValue()) {
                against.add(
                        "Its moisture, " + Figures.plain(moisture, 2) + "%, is over the most: " + most.cited() + ".");
            }
        });
    }

    /** Its last germination test, judged; empty where there is none that can be. */
    public Optional<Germination> germinated() {
        List<Twice<Germinated>> tests = lot.germination();
        return tests.isEmpty() ? Optional.empty() : germination(tests.get(tests.size() - 1));
    }

    /** A germination test, judged; empty where nobody said the species. */
    public Optional<Germination> germination(Twice<Germinated> test) {
        Germinated last = test.last();
        return species()
                .map(species -> Germination.of(
                        new GerminationTest(
                                species, last.sown(), last.firstCount(), last.finalCount(), last.replicates()),
                        published));
    }

    private Optional<Species> species() {
        return lot.begun().map(LotEvent.Begun::species);
    }

    private void germination(List<String> against) {
        List<Twice<Germinated>> tests = lot.germination();
        if (tests.isEmpty()) {
            against.add("No germination test was counted.");
            return;
        }
        Twice<Germinated> last = tests.get(tests.size() - 1);
        confirmed("Germination test", last.last().test(), last, against);
        retest().filter(retest -> retest.isOver(day)).ifPresent(retest -> against.add(retest.on(day)));
        germinated().ifPresent(germination -> {
            if (!germination.stands()) {
                against.add(germination.range().sentence());
            }
            chosen(Table.GERMINATION_MINIMUM)
                    .map(row -> AgainstMinimum.of(germination, row))
                    .filter(compared -> !compared.met())
                    .ifPresent(compared -> against.add(compared.sentence()));
        });
    }

    /** How long its last germination test holds in the container it is meant for; empty where there is none. */
    public Optional<Retest> retest() {
        List<Twice<Germinated>> tests = lot.germination();
        return tests.isEmpty()
                ? Optional.empty()
                : Optional.of(Retest.of(tests.get(tests.size() - 1).last().finalCount(), container(), published));
    }

    /** By the most moisture that the farm goes by: open where it says nothing else. */
    private String container() {
        return chosen(Table.SEED_MOISTURE)
                .map(row -> row.key().get(row.key().size() - 1))
                .orElse("open");
    }

    private static void confirmed(String what, int number, Twice<?> test, List<String> against) {
        if (!test.agrees()) {
            against.add(what + " " + number + " was entered twice, and not alike.");
        } else if (!test.isConfirmed()) {
            against.add(what + " " + number + " was entered by one person only.");
        }
    }

    /** What a grow-out shows. */
    public GrowOut.Shown growOut(Twice<GrownOut> test) {
        GrownOut last = test.last();
        return new GrowOut(last.plants(), last.offTypes(), last.fruit()).shows(CONFIDENCE);
    }

    private void growOut(List<String> against) {
        List<Twice<GrownOut>> tests = lot.growOuts();
        if (tests.isEmpty()) {
            against.add("No grow-out was counted: nothing but records speaks for its purity.");
            return;
        }
        Twice<GrownOut> last = tests.get(tests.size() - 1);
        confirmed("Grow-out", last.last().test(), last, against);
        chosen(Table.OFF_TYPES)
                .map(row -> AgainstLimit.of(growOut(last), row))
                .filter(compared -> compared.standing() == AgainstLimit.Standing.OVER)
                .ifPresent(compared -> against.add(compared.sentence()));
    }

    /** The row of a table that the farm goes by; empty where it goes by none. */
    public Optional<Row> chosen(Table table) {
        return switch (table) {
            case GERMINATION_MINIMUM -> row(table, standards.germination());
            case SEED_MOISTURE -> row(table, standards.moisture());
            case OFF_TYPES -> row(table, standards.offTypes());
            default -> throw new IllegalArgumentException("no lot is held against " + table.word());
        };
    }

    private Optional<Row> row(Table table, @Nullable String id) {
        return id == null
                ? Optional.empty()
                : published.rows(table).stream()
                        .filter(row -> row.id().equals(id))
                        .findFirst();
    }
}
