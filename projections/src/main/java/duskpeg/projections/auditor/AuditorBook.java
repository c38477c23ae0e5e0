package duskpeg.projections.auditor;

import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.growout.GrowOut;
import duskpeg.core.lot.Lot;
import duskpeg.core.lot.LotEvent;
import duskpeg.core.lot.LotId;
import duskpeg.core.lot.Lots;
import duskpeg.core.lot.Release;
import duskpeg.core.purity.Rules;
import duskpeg.core.purity.Verdict;
import duskpeg.projections.QuestionView;
import duskpeg.projections.auditor.AuditorView.Done;
import duskpeg.projections.auditor.AuditorView.Found;
import duskpeg.projections.auditor.AuditorView.Line;
import duskpeg.projections.auditor.AuditorView.OfFruit;
import duskpeg.projections.auditor.AuditorView.OfLot;
import duskpeg.projections.copies.Copies;
import duskpeg.projections.history.FruitView;
import duskpeg.projections.history.FruitView.ActView;
import duskpeg.projections.history.Histories;
import duskpeg.projections.history.HistoryProjection;
import duskpeg.projections.history.Verdicts;
import duskpeg.projections.history.Verdicts.Judged;
import duskpeg.projections.lots.LotBook;
import duskpeg.projections.lots.TraceView;
import java.time.Year;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Reads what a link opens. */
@Component
class AuditorBook {

    private final JdbcClient jdbc;
    private final Copies copies;
    private final Index index;
    private final Histories histories;
    private final Verdicts verdicts;
    private final LotBook lots;

    AuditorBook(JdbcClient jdbc, Index index, Histories histories, Verdicts verdicts, LotBook lots, Copies copies) {
        this.copies = copies;
        this.jdbc = jdbc;
        this.index = index;
        this.histories = histories;
        this.verdicts = verdicts;
        this.lots = lots;
    }

    /** What a link opens as things stand now. */
    Reach reach(Link link) {
        FarmId farm = link.farm();
        return switch (link.scope()) {
            case FRUIT -> Reach.ofFruit(new FruitId(farm, new TieNumber(link.about())));
            case LOT -> Reach.ofLot(new LotId(farm, link.about()), index.lots(farm));
            case SEASON -> Reach.ofSeason(tied(farm, link.about()), index.lots(farm));
        };
    }

    /** The fruit whose tying was ever reported of a morning of that year. */
    Set<FruitId> tied(FarmId farm, String year) {
        return jdbc
                .sql("select distinct tie from " + HistoryProjection.ties(copies)
                        + " where farm = ? and morning between ? and ?")
                .params(
                        farm.value(),
                        Year.parse(year).atDay(1),
                        Year.parse(year).atMonth(12).atEndOfMonth())
                .query(String.class)
                .list()
                .stream()
                .map(tie -> new FruitId(farm, new TieNumber(tie)))
                .collect(Collectors.toSet());
    }

    /** A fruit by its digits, leading zeros or not. */
    Optional<FruitId> fruit(FarmId farm, String digits) {
        int width = index.settings(farm).tieWidth();
        return digits.matches("[0-9]{1," + width + "}")
                ? Optional.of(new FruitId(farm, TieNumber.of(Long.parseLong(digits), width)))
                : Optional.empty();
    }

    /** A lot that anything was entered of. */
    Optional<LotId> lot(FarmId farm, String name) {
        return Optional.of(name)
                .filter(LotId::isName)
                .map(one -> new LotId(farm, one))
                .filter(one -> index.lots(farm).lot(one).isPresent());
    }

    private Optional<Judged> judged(FruitId fruit) {
        return verdicts.judged(fruit, Rules.latest(), null);
    }

    /** Whether any report tells of it. */
    boolean isKnown(FruitId fruit) {
        return judged(fruit).isPresent();
    }

    /** A fruit; empty where no report tells of it any more. */
    Optional<OfFruit> view(FruitId id) {
        return histories.fruit(id).flatMap(fruit -> judged(id).map(judged -> view(fruit, judged.verdict())));
    }

    private static OfFruit view(FruitView fruit, Verdict verdict) {
        return new OfFruit(
                fruit.tie(),
                fruit.row(),
                fruit.morning(),
                fruit.cultivar(),
                fruit.species(),
                fruit.state(),
                verdict.kind().word(),
                verdict.rules(),
                verdict.findings().stream()
                        .map(found -> new Found(
                                found.rule().word(),
                                found.result().word(),
                                found.grade().word(),
                                found.because()))
                        .toList(),
                fruit.acts().stream().map(AuditorBook::done).toList(),
                fruit.takenBack().stream().map(AuditorBook::done).toList(),
                fruit.questions().stream().map(QuestionView::text).toList(),
                fruit.settled().stream()
                        .map(one -> one.text() + ": settled by " + one.by() + ", "
                                + one.at().toLocalDate())
                        .toList());
    }

    private static Done done(ActView act) {
        return new Done(
                act.act(),
                act.row(),
                act.count(),
                act.at(),
                act.heard(),
                act.worker(),
                act.grade(),
                act.putRight() == null ? null : act.putRight().by());
    }

    /** The lots of a link, in one line each. */
    List<Line> lines(Reach reach, FarmId farm) {
        Lots all = index.lots(farm);
        return reach.lots().stream()
                .flatMap(id -> all.lot(id).stream())
                .map(lot -> new Line(
                        lot.id().name(),
                        lot.begun().map(LotEvent.Begun::cultivar).orElse(null),
                        lot.state(),
                        all.flowers(lot.id()).size()))
                .toList();
    }

    /** The fruit that seed of a lot may be of. */
    List<FruitId> flowers(LotId lot) {
        return List.copyOf(index.lots(lot.farm()).flowers(lot).keySet());
    }

    /** A lot; empty where nothing was ever entered of it. */
    Optional<OfLot> view(LotId id) {
        return lots.release(id).flatMap(release -> lots.back(id, id.name()).map(trace -> view(release, trace)));
    }

    private static OfLot view(Release release, TraceView trace) {
        Lot lot = release.lot();
        return new OfLot(
                trace.of(),
                lot.begun().map(LotEvent.Begun::cultivar).orElse(null),
                lot.begun().map(begun -> begun.species().scientificName()).orElse(null),
                lot.state(),
                lot.balance().grams(),
                release.against(),
                tests(lot, release),
                trace.flowers(),
                trace.lots().stream()
                        .filter(source -> !source.equals(trace.of()))
                        .toList(),
                trace.packets());
    }

    private static List<String> tests(Lot lot, Release release) {
        List<String> tests = new ArrayList<>();
        lot.germination()
                .forEach(test -> release.germination(test)
                        .ifPresent(shown -> tests.add(sentences(
                                "Germination",
                                test.last().test(),
                                test.isConfirmed(),
                                Stream.concat(Stream.of(shown.sentence()), shown.cautions().stream())))));
        lot.growOuts().forEach(test -> {
            GrowOut.Shown shown = release.growOut(test);
            tests.add(sentences(
                    "Grow-out",
                    test.last().test(),
                    test.isConfirmed(),
                    Stream.concat(
                            Stream.of(shown.sentence()),
                            shown.cautions().stream().map(GrowOut.Caution::sentence))));
        });
        return tests;
    }

    private static String sentences(String kind, int test, boolean confirmed, Stream<String> shown) {
        return kind + " " + test + ", "
                + (confirmed ? "entered by two people, alike: " : "not confirmed by a second person: ")
                + shown.collect(Collectors.joining(" "));
    }
}
