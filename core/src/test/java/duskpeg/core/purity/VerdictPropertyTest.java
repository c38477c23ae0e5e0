package duskpeg.core.purity;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.Farm;
import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;

/** What may never happen to a verdict, whatever is reported. */
class VerdictPropertyTest {

    private static final String TIE = "004711";

    /**
     * @param row the row, where it is about one
     * @param plant the plant it is said to hang on; 0 for none
     */
    private record Line(
            Deed deed, int count, int males, String by, String clock, boolean own, int days, String row, int plant) {}

    private static Verdict verdict(List<Act> acts) {
        return Rules.latest().judge(RuleTest.caseOf(acts));
    }

    @Property(tries = 1000)
    void oneMoreReportNeverMakesPureWhatWasNot(@ForAll("reports") List<List<Act>> reports) {
        List<Act> known = new ArrayList<>();
        boolean notPure = false;
        for (List<Act> report : reports) {
            known.addAll(report);
            Verdict.Kind kind = verdict(known).kind();
            if (notPure) {
                assertThat(kind).isNotEqualTo(Verdict.Kind.PURE).isNotEqualTo(Verdict.Kind.UNFINISHED);
            }
            notPure |= kind == Verdict.Kind.NOT_PURE;
        }
    }

    /** Of one row: a tie that is said to be in two is taken to be where it was heard of last. */
    @Property(tries = 1000)
    void theOrderOfHearingDoesNotMatter(@ForAll("ofOneRow") List<List<Act>> reports, @ForAll Random chance) {
        List<List<Act>> shuffled = new ArrayList<>(reports);
        Collections.shuffle(shuffled, chance);
        assertThat(results(shuffled)).isEqualTo(results(reports));
    }

    private static Set<String> results(List<List<Act>> reports) {
        Set<String> results = new HashSet<>();
        verdict(reports.stream().flatMap(List::stream).toList())
                .findings()
                .forEach(finding -> results.add(finding.rule() + " " + finding.result()));
        return results;
    }

    @Property(tries = 1000)
    void nothingIsPureWithoutItsEvidence(@ForAll("reports") List<List<Act>> reports) {
        List<Act> acts = reports.stream().flatMap(List::stream).toList();
        if (verdict(acts).kind() == Verdict.Kind.PURE) {
            for (Deed deed :
                    List.of(Deed.PEGGED, Deed.OPENED, Deed.POLLINATED, Deed.BAGGED, Deed.TIED, Deed.HARVESTED)) {
                assertThat(acts).anyMatch(act -> act.deed() == deed);
                List<Act> without =
                        acts.stream().filter(act -> act.deed() != deed).toList();
                assertThat(verdict(without).kind()).isNotEqualTo(Verdict.Kind.PURE);
            }
        }
    }

    @Provide
    Arbitrary<List<List<Act>>> reports() {
        return reports(Arbitraries.of("12", "12", "12", "13"), 2);
    }

    @Provide
    Arbitrary<List<List<Act>>> ofOneRow() {
        return reports(Arbitraries.just("12"), 0);
    }

    private static Arbitrary<List<List<Act>>> reports(Arbitrary<String> rows, int plants) {
        Arbitrary<Line> line = Combinators.combine(
                        Arbitraries.of(
                                Deed.PEGGED,
                                Deed.PEGGED,
                                Deed.TIED,
                                Deed.TIED,
                                Deed.OPENED,
                                Deed.POLLINATED,
                                Deed.BAGGED,
                                Deed.LOST,
                                Deed.CULLED,
                                Deed.HARVESTED,
                                Deed.HARVESTED),
                        Arbitraries.integers().between(1, 3),
                        Arbitraries.integers().between(2, 9),
                        Arbitraries.of("w1", "w1", "w2", "w3"),
                        Arbitraries.of("06:10", "07:10", "07:20", "10:30"),
                        Arbitraries.of(true, false),
                        Arbitraries.integers().between(40, 70),
                        rows)
                .flatAs((deed, count, males, by, clock, own, days, row) -> Arbitraries.integers()
                        .between(0, plants)
                        .map(plant -> new Line(deed, count, males, by, clock, own, days, row, plant)));
        return line.list().ofMinSize(2).ofMaxSize(9).map(VerdictPropertyTest::reports);
    }

    private static List<List<Act>> reports(List<Line> lines) {
        List<List<Act>> reports = new ArrayList<>();
        for (int i = 0; i < lines.size(); i++) {
            reports.add(acts(lines.get(i), "SM" + i));
        }
        return reports;
    }

    private static List<Act> acts(Line line, String text) {
        Farm.Row row = Farm.row(line.row());
        String[] ties = line.own() ? new String[] {TIE} : new String[0];
        int count = line.own() ? 1 : line.count();
        return switch (line.deed()) {
            case PEGGED ->
                List.of(row.pegged(line.males())
                        .males(2 * line.males())
                        .by(line.by())
                        .in(text)
                        .at("17:10"));
            case TIED ->
                line.plant() == 0
                        ? List.of(
                                row.opened(count).by(line.by()).in(text).at(line.clock()),
                                row.pollinated(count).by(line.by()).in(text).at(line.clock()),
                                row.bagged(count).by(line.by()).in(text).at(line.clock()),
                                row.tied(count, ties).by(line.by()).in(text).at(line.clock()))
                        : List.of(
                                row.opened(count)
                                        .on(line.plant())
                                        .by(line.by())
                                        .in(text)
                                        .at(line.clock()),
                                row.pollinated(count)
                                        .on(line.plant(), "12.1", "13.1")
                                        .by(line.by())
                                        .in(text)
                                        .at(line.clock()),
                                row.bagged(count)
                                        .on(line.plant())
                                        .by(line.by())
                                        .in(text)
                                        .at(line.clock()),
                                row.tied(count, ties)
                                        .on(line.plant())
                                        .by(line.by())
                                        .in(text)
                                        .at(line.clock()));
            case OPENED -> List.of(row.opened(count).by(line.by()).in(text).at(line.clock()));
            case POLLINATED ->
                List.of(row.pollinated(count).by(line.by()).in(text).at(line.clock()));
            case BAGGED -> List.of(row.bagged(count).by(line.by()).in(text).at(line.clock()));
            case LOST -> List.of(row.lost(count).by(line.by()).in(text).at(line.clock()));
            case CULLED ->
                List.of(Farm.fruit(TIE)
                        .culled()
                        .by(line.by())
                        .in(text)
                        .daysLater(line.days())
                        .at("08:00"));
            default ->
                List.of(Farm.fruit(TIE)
                        .harvested()
                        .by(line.by())
                        .in(text)
                        .daysLater(line.days())
                        .at("08:00"));
        };
    }
}
