package duskpeg.projections.auditor;

import duskpeg.core.act.Act;
import duskpeg.core.act.Worded;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.growout.GrowOut;
import duskpeg.core.lot.Lot;
import duskpeg.core.lot.LotEvent;
import duskpeg.core.lot.LotEvent.Decided;
import duskpeg.core.lot.LotId;
import duskpeg.core.lot.Lots;
import duskpeg.core.lot.Release;
import duskpeg.core.purity.Rules;
import duskpeg.core.purity.Verdict;
import duskpeg.core.round.RoundId;
import duskpeg.projections.QuestionView;
import duskpeg.projections.auditor.AuditorView.Done;
import duskpeg.projections.auditor.AuditorView.Flower;
import duskpeg.projections.auditor.AuditorView.Found;
import duskpeg.projections.auditor.AuditorView.Line;
import duskpeg.projections.auditor.AuditorView.OfFruit;
import duskpeg.projections.auditor.AuditorView.OfLot;
import duskpeg.projections.auditor.AuditorView.Packets;
import duskpeg.projections.copies.Copies;
import duskpeg.projections.history.FruitView;
import duskpeg.projections.history.FruitView.ActView;
import duskpeg.projections.history.Histories;
import duskpeg.projections.history.HistoryProjection;
import duskpeg.projections.history.Verdicts;
import duskpeg.projections.history.Verdicts.Judged;
import java.time.Year;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
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

    AuditorBook(JdbcClient jdbc, Index index, Histories histories, Verdicts verdicts, Copies copies) {
        this.copies = copies;
        this.jdbc = jdbc;
        this.index = index;
        this.histories = histories;
        this.verdicts = verdicts;
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
        Lots lots = index.lots(farm);
        return reach.lots().stream()
                .flatMap(id -> lots.lot(id).stream())
                .map(lot -> new Line(
                        lot.id().name(),
                        lot.begun().map(LotEvent.Begun::cultivar).orElse(null),
                        state(lot),
                        lots.flowers(lot.id()).size()))
                .toList();
    }

    private static String state(Lot lot) {
        return lot.decided().map(Decided::decision).map(Worded::word).orElse("open");
    }

    /** The fruit that seed of a lot may be of. */
    List<FruitId> flowers(LotId lot) {
        return List.copyOf(index.lots(lot.farm()).flowers(lot).keySet());
    }

    /** A lot; empty where nothing was ever entered of it. */
    Optional<OfLot> view(LotId id) {
        Lots lots = index.lots(id.farm());
        return lots.lot(id).map(lot -> view(lots, lot));
    }

    private OfLot view(Lots lots, Lot lot) {
        FarmId farm = lot.id().farm();
        Map<FruitId, LotId> flowers = lots.flowers(lot.id());
        Map<FruitId, Judged> judged = new LinkedHashMap<>();
        flowers.keySet().forEach(fruit -> judged(fruit).ifPresent(one -> judged.put(fruit, one)));
        Map<FruitId, Verdict.Kind> kinds = new HashMap<>();
        Set<WorkerId> behind = new HashSet<>();
        judged.forEach((fruit, one) -> {
            kinds.put(fruit, one.verdict().kind());
            one.fruit()
                    .evidence()
                    .forEach(evidence -> behind.add(evidence.act().told().by()));
        });
        Release release = new Release(lots, lot, kinds, behind, index.published(farm), index.standards(farm));
        return new OfLot(
                lot.id().name(),
                lot.begun().map(LotEvent.Begun::cultivar).orElse(null),
                lot.begun().map(begun -> begun.species().scientificName()).orElse(null),
                state(lot),
                lot.balance().grams(),
                release.against(),
                tests(lot, release),
                flowers.entrySet().stream()
                        .map(one -> flower(one.getKey(), one.getValue(), Optional.ofNullable(judged.get(one.getKey()))))
                        .toList(),
                lots.sources(lot.id()).stream()
                        .filter(source -> !source.equals(lot.id()))
                        .map(LotId::name)
                        .toList(),
                lots.packets(Set.of(lot.id())).entrySet().stream()
                        .flatMap(of -> of.getValue().stream()
                                .map(one -> new Packets(of.getKey().name(), one.first(), one.last(), one.grams())))
                        .toList());
    }

    private static Flower flower(FruitId fruit, LotId lot, Optional<Judged> judged) {
        Optional<RoundId> round =
                judged.flatMap(one -> one.fruit().fruit().tying()).map(Act.Tied::round);
        return new Flower(
                fruit.tie().digits(),
                lot.name(),
                judged.map(one -> one.verdict().kind().word()).orElse("none"),
                round.map(one -> one.row().label()).orElse(null),
                round.map(RoundId::morning).orElse(null));
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
