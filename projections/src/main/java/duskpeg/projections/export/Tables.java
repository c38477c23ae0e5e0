package duskpeg.projections.export;

import duskpeg.core.act.Act;
import duskpeg.core.act.LossReason;
import duskpeg.core.act.Subject;
import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.crew.CustodyEvent.StripHandedOver;
import duskpeg.core.crew.Entered;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fieldbook.StripIndex;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.fruit.TieUses;
import duskpeg.core.germination.Replicate;
import duskpeg.core.lot.Lot;
import duskpeg.core.lot.LotEvent;
import duskpeg.core.lot.Lots;
import duskpeg.core.lot.Twice;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.planting.Rows;
import duskpeg.core.purity.Rules;
import duskpeg.core.report.Question;
import duskpeg.core.round.Round;
import duskpeg.core.round.RoundId;
import duskpeg.core.round.RoundQuestions;
import duskpeg.core.round.Tally;
import duskpeg.core.settle.Settled;
import duskpeg.core.settle.Settlements;
import duskpeg.projections.Each;
import duskpeg.projections.history.Histories;
import duskpeg.projections.history.Histories.Recorded;
import duskpeg.projections.history.Verdicts;
import duskpeg.projections.history.Verdicts.FindingView;
import duskpeg.projections.history.Verdicts.VerdictView;
import duskpeg.projections.strips.StripView;
import duskpeg.projections.strips.Strips;
import java.io.IOException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.util.Collection;
import java.util.Comparator;
import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/**
 * The tables that can be taken away; {@code docs/exports.md} says what each column means. Read in parts and written as
 * they are read. Workers are in them by pseudonym, and no words of anybody are.
 */
@Component
class Tables {

    private final Histories histories;
    private final Verdicts verdicts;
    private final Strips strips;
    private final Index index;
    private final List<Table> all;

    Tables(Histories histories, Verdicts verdicts, Strips strips, Index index) {
        this.histories = histories;
        this.verdicts = verdicts;
        this.strips = strips;
        this.index = index;
        this.all = List.of(
                new Table(
                        "rounds",
                        "A row on a morning, in numbers.",
                        "morning,row,planting,cultivar,species,pegged,males,males_assumed,opened,pollinated,bagged,tied,"
                                + "lost,left,finished,questions_open,questions_settled",
                        this::rounds),
                new Table(
                        "acts",
                        "Every act that was reported, those taken back too.",
                        "event,done,heard,zone,act,standing,row,morning,tie,row_said,ties,count,males,plant,sires,reason,"
                                + "worker,text,line,takes_back_text,takes_back_line",
                        this::acts),
                new Table(
                        "fruit",
                        "Every tied fruit, with its verdict.",
                        "tie,row,plant,morning,cultivar,species,state,tied,tied_by,culled,harvested,zone,verdict,rules,"
                                + "as_known_at",
                        this::fruit),
                new Table(
                        "findings",
                        "What each rule found of each fruit.",
                        "tie,verdict,rules,rule,result,grade,because,events",
                        this::findings),
                new Table(
                        "questions",
                        "What is asked of rows and fruit, open or settled.",
                        "about,row,morning,tie,kind,question,state,settled_by,settled_at,zone",
                        this::questions),
                new Table(
                        "ties",
                        "Every tie that was given out, and what became of it.",
                        "tie,strip_first,strip_last,check_digit,fate,row,morning,fruit",
                        this::ties),
                new Table(
                        "custody",
                        "In whose hands strips of ties were.",
                        "entered,zone,event,first,last,count,worker,to,by,text,taken_back",
                        this::custody),
                new Table(
                        "workers",
                        "Who reported, by pseudonym, and how much.",
                        "worker,role,acts,taken_back,flowers_tied,first_heard,last_heard,zone",
                        this::workers),
                new Table(
                        "plantings",
                        "The rows, and what stands in them.",
                        "planting,cultivar,species,row,plants",
                        this::plantings),
                new Table(
                        "lots",
                        "Every lot, with what is there of it.",
                        "lot,cultivar,species,state,until,fruit,grams,moisture,thousand_seed_grams,packets,drawn_from",
                        this::lots),
                new Table(
                        "lot-fruit",
                        "The fruit that was taken into each lot.",
                        "lot,tie,verdict_then,rules,stock,although",
                        this::lotFruit),
                new Table(
                        "packets",
                        "What was filled into packets, each filling once.",
                        "lot,on,first,last,grams_each",
                        this::packets),
                new Table(
                        "tests",
                        "Germination tests and grow-outs, each as often as it was entered.",
                        "lot,kind,test,on,counted,found,fruit,entered_by,confirmed",
                        this::tests),
                new Table(
                        "lot-entries",
                        "What was entered of lots, entry by entry.",
                        LotEntries.HEADER,
                        (farm, out) -> LotEntries.write(index.lots(farm), zone(farm), out)));
    }

    /** Writes the lines of a table. */
    @FunctionalInterface
    interface Fill {
        void write(FarmId farm, Csv out) throws IOException;
    }

    /**
     * A table.
     *
     * @param name its name, as in the address
     * @param what what a line of it is, for people
     * @param header its columns, with commas between
     */
    record Table(String name, String what, String header, Fill fill) {

        /** Writes it, with its header. */
        void write(FarmId farm, Csv out) throws IOException {
            out.line((Object[]) header.split(",", -1));
            fill.write(farm, out);
        }
    }

    /** All of them, in the order of the work. */
    List<Table> all() {
        return all;
    }

    /** Takes the fruit of which any standing report tells, some at once. */
    private void eachFruit(FarmId farm, Each<Collection<Fruit>> each) throws IOException {
        histories.eachFruit(farm, some -> each.take(new TreeMap<>(histories.fruits(farm, some)).values()));
    }

    private ZoneId zone(FarmId farm) {
        return index.settings(farm).zone();
    }

    private static @Nullable OffsetDateTime time(@Nullable Instant at, ZoneId zone) {
        return at == null ? null : at.atZone(zone).toOffsetDateTime();
    }

    private void rounds(FarmId farm, Csv out) throws IOException {
        FarmSettings settings = index.settings(farm);
        Rows rows = index.rows(farm);
        histories.eachInRows(farm, told -> {
            if (told.subject() instanceof RoundId id) {
                Round round = Round.of(id, told.acts());
                List<Question> asked = RoundQuestions.of(round, settings, index.uses(farm, round.ties()), rows);
                int open = index.settlements(farm, List.of(id)).open(id, asked).size();
                Optional<Planting> planting = rows.plantingOf(id.row());
                Tally tally = round.tally();
                out.line(
                        id.morning(),
                        id.row().label(),
                        planting.map(Planting::name).orElse(null),
                        planting.map(Planting::cultivar).orElse(null),
                        species(planting),
                        tally.pegged(),
                        tally.males(),
                        tally.malesAssumed(),
                        tally.opened(),
                        tally.pollinated(),
                        tally.bagged(),
                        tally.tied(),
                        tally.lost(),
                        tally.left(),
                        round.isFinished(),
                        open,
                        asked.size() - open);
            }
        });
    }

    private void lots(FarmId farm, Csv out) throws IOException {
        Lots lots = index.lots(farm);
        for (Lot lot : lots.all()) {
            out.line(
                    lot.id().name(),
                    lot.begun().map(LotEvent.Begun::cultivar).orElse(null),
                    lot.begun().map(begun -> begun.species().scientificName()).orElse(null),
                    lot.state(),
                    lot.decided().map(LotEvent.Decided::until).orElse(null),
                    lots.flowers(lot.id()).size(),
                    lot.balance().grams(),
                    lot.moisture().map(LotEvent.Weighed::moisture).orElse(null),
                    lot.thousandSeeds().map(LotEvent.SeedWeighed::grams).orElse(null),
                    lot.packets().stream()
                            .mapToInt(one -> one.last() - one.first() + 1)
                            .sum(),
                    lot.drawnIn().stream()
                            .map(drawn -> drawn.lot().name())
                            .distinct()
                            .collect(Collectors.joining(" ")));
        }
    }

    private void lotFruit(FarmId farm, Csv out) throws IOException {
        for (Lot lot : index.lots(farm).all()) {
            for (LotEvent.Taken taken : lot.fruit()) {
                out.line(
                        lot.id().name(),
                        taken.fruit().tie().digits(),
                        taken.verdict(),
                        taken.rules(),
                        taken.stock(),
                        String.join(" ", taken.although()));
            }
        }
    }

    private void packets(FarmId farm, Csv out) throws IOException {
        for (Lot lot : index.lots(farm).all()) {
            for (LotEvent.Packed packed : lot.packets()) {
                out.line(lot.id().name(), packed.on(), packed.first(), packed.last(), packed.grams());
            }
        }
    }

    private void tests(FarmId farm, Csv out) throws IOException {
        for (Lot lot : index.lots(farm).all()) {
            for (Twice<LotEvent.Germinated> test : lot.germination()) {
                for (LotEvent.Germinated one : test.entered()) {
                    out.line(
                            lot.id().name(),
                            "germination",
                            one.test(),
                            one.finalCount(),
                            one.replicates().stream().mapToInt(Replicate::seeds).sum(),
                            one.replicates().stream()
                                    .mapToInt(Replicate::normal)
                                    .sum(),
                            null,
                            one.by().pseudonym(),
                            test.isConfirmed());
                }
            }
            for (Twice<LotEvent.GrownOut> test : lot.growOuts()) {
                for (LotEvent.GrownOut one : test.entered()) {
                    out.line(
                            lot.id().name(),
                            "grow-out",
                            one.test(),
                            one.on(),
                            one.plants(),
                            one.offTypes(),
                            one.fruit(),
                            one.by().pseudonym(),
                            test.isConfirmed());
                }
            }
        }
    }

    private static @Nullable String species(Optional<Planting> planting) {
        return planting.map(one -> one.species().scientificName()).orElse(null);
    }

    private void acts(FarmId farm, Csv out) throws IOException {
        ZoneId zone = zone(farm);
        histories.eachSubject(farm, told -> {
            List<Act> standing = Act.standing(told.acts());
            for (Recorded one : told.recorded()) {
                act(one, standing.contains(one.act()), zone, out);
            }
        });
    }

    private static void act(Recorded recorded, boolean standing, ZoneId zone, Csv out) throws IOException {
        Act act = recorded.act();
        Subject subject = act.subject();
        Act.OnFlowers flowers = act instanceof Act.OnFlowers of ? of : null;
        Act.TakenBack back = act instanceof Act.TakenBack of ? of : null;
        List<PlantId> sires = flowers == null ? null : flowers.sires();
        RowId said = act instanceof Act.OnFruit fruit ? fruit.rowSaid() : null;
        LossReason reason = act instanceof Act.Lost lost ? lost.reason() : null;
        out.line(
                recorded.event(),
                time(act.told().done(), zone),
                time(act.told().heard(), zone),
                zone.getId(),
                act.deed().word(),
                back == null ? standing : null,
                subject.inRow().map(RowId::label).orElse(null),
                subject instanceof RoundId round ? round.morning() : null,
                subject instanceof FruitId fruit ? fruit.tie().digits() : null,
                said == null ? null : said.label(),
                act instanceof Act.Tied tied
                        ? tied.ties().stream().map(TieNumber::digits).collect(Collectors.joining(" "))
                        : null,
                act instanceof Act.Counted counted ? counted.count() : null,
                act instanceof Act.Pegged pegged ? pegged.males() : null,
                flowers == null ? null : flowers.plant(),
                sires == null ? null : sires.stream().map(PlantId::label).collect(Collectors.joining(" ")),
                reason == null ? null : reason.word(),
                act.told().by().pseudonym(),
                act.told().text().value(),
                act.told().line(),
                back == null ? null : back.text().value(),
                back == null ? null : back.line());
    }

    private void fruit(FarmId farm, Csv out) throws IOException {
        ZoneId zone = zone(farm);
        Rows rows = index.rows(farm);
        eachFruit(farm, some -> {
            Map<FruitId, VerdictView> verdicts = verdicts(farm, some);
            for (Fruit fruit : some) {
                Optional<Act.Tied> tied = fruit.tying();
                Optional<Planting> planting =
                        tied.flatMap(act -> rows.plantingOf(act.round().row()));
                VerdictView verdict = Objects.requireNonNull(verdicts.get(fruit.id()));
                out.line(
                        fruit.id().tie().digits(),
                        tied.map(act -> act.round().row().label()).orElse(null),
                        fruit.plant().map(PlantId::number).orElse(null),
                        tied.map(act -> act.round().morning()).orElse(null),
                        planting.map(Planting::cultivar).orElse(null),
                        species(planting),
                        fruit.state().map(Fruit.State::word).orElse(null),
                        time(tied.map(act -> act.told().done()).orElse(null), zone),
                        tied.map(act -> act.told().by().pseudonym()).orElse(null),
                        time(last(Act.Culled.class, fruit), zone),
                        time(last(Act.Harvested.class, fruit), zone),
                        zone.getId(),
                        verdict.verdict(),
                        verdict.rules(),
                        verdict.asKnownAt());
            }
        });
    }

    private Map<FruitId, VerdictView> verdicts(FarmId farm, Collection<Fruit> fruit) {
        return verdicts.of(farm, fruit.stream().map(Fruit::id).toList(), Rules.latest());
    }

    private static @Nullable Instant last(Class<? extends Act> kind, Fruit fruit) {
        return Act.only(kind, fruit.acts())
                .map(act -> act.told().done())
                .reduce((earlier, later) -> later)
                .orElse(null);
    }

    private void findings(FarmId farm, Csv out) throws IOException {
        eachFruit(farm, some -> {
            for (Map.Entry<FruitId, VerdictView> judged : verdicts(farm, some).entrySet()) {
                VerdictView verdict = judged.getValue();
                for (FindingView found : verdict.evidence()) {
                    out.line(
                            judged.getKey().tie().digits(),
                            verdict.verdict(),
                            verdict.rules(),
                            found.rule(),
                            found.result(),
                            found.grade(),
                            found.because(),
                            String.join(" ", found.events()));
                }
            }
        });
    }

    private void questions(FarmId farm, Csv out) throws IOException {
        FarmSettings settings = index.settings(farm);
        Rows rows = index.rows(farm);
        histories.eachInRows(farm, told -> {
            if (told.subject() instanceof RoundId id) {
                Round round = Round.of(id, told.acts());
                List<Question> asked = RoundQuestions.of(round, settings, index.uses(farm, round.ties()), rows);
                questions(id, asked, List.of(id), out);
            }
        });
        eachFruit(farm, some -> {
            TieUses uses = index.uses(
                    farm, some.stream().map(fruit -> fruit.id().tie()).toList());
            for (Fruit fruit : some) {
                List<Subject> subjects = Stream.concat(
                                Stream.of(fruit.id()), fruit.acts().stream().map(Act::subject))
                        .distinct()
                        .toList();
                questions(fruit.id(), fruit.questions(uses), subjects, out);
            }
        });
    }

    private void questions(Subject about, List<Question> asked, List<? extends Subject> subjects, Csv out)
            throws IOException {
        if (asked.isEmpty()) {
            return;
        }
        ZoneId zone = zone(about.farm());
        Settlements settlements = index.settlements(about.farm(), subjects);
        for (Question question : asked) {
            Settled.OfQuestion settled = settlements.of(about, question).orElse(null);
            out.line(
                    about.toString(),
                    about.inRow().map(RowId::label).orElse(null),
                    about instanceof RoundId round ? round.morning() : null,
                    about instanceof FruitId fruit ? fruit.tie().digits() : null,
                    question.kind().word(),
                    question.sentence(),
                    settled == null ? "open" : "settled",
                    settled == null ? null : settled.by().pseudonym(),
                    settled == null ? null : time(settled.at(), zone),
                    zone.getId());
        }
    }

    private void ties(FarmId farm, Csv out) throws IOException {
        Iterator<StripView.Whole> whole = strips.whole(farm).iterator();
        while (whole.hasNext()) {
            StripView.Whole strip = whole.next();
            for (StripView.TieView tie : strip.fates()) {
                out.line(
                        tie.tie(),
                        strip.strip().first(),
                        strip.strip().last(),
                        strip.strip().printed(),
                        tie.fate(),
                        tie.row(),
                        tie.morning(),
                        tie.fruit());
            }
        }
    }

    private void custody(FarmId farm, Csv out) throws IOException {
        ZoneId zone = zone(farm);
        for (StripIndex.Line line : index.strips().history(farm)) {
            CustodyEvent event = line.event();
            Entered entered = event.entered();
            out.line(
                    time(event.at(), zone),
                    zone.getId(),
                    event.kind().word(),
                    event.ties().first().digits(),
                    event.ties().last().digits(),
                    event.ties().size(),
                    event.worker().pseudonym(),
                    event instanceof StripHandedOver handed ? handed.to().pseudonym() : null,
                    entered == null ? null : entered.by().pseudonym(),
                    event.text().map(text -> text.value()).orElse(null),
                    line.takenBack());
        }
    }

    /** What a worker reported. */
    private static final class Reported {
        private int acts;
        private int takenBack;
        private int tied;
        private @Nullable Instant first;
        private @Nullable Instant last;
    }

    private void workers(FarmId farm, Csv out) throws IOException {
        Map<WorkerId, Reported> reported = new TreeMap<>(Comparator.comparing(WorkerId::pseudonym));
        Map<WorkerId, Role> workers = index.workers(farm);
        workers.keySet().forEach(worker -> reported.put(worker, new Reported()));
        histories.eachSubject(farm, told -> {
            List<Act> acts = told.acts();
            List<Act> standing = Act.standing(acts);
            for (Act act : acts) {
                if (act instanceof Act.TakenBack) {
                    continue;
                }
                Reported of = reported.computeIfAbsent(act.told().by(), unknown -> new Reported());
                Instant heard = act.told().heard();
                of.first = of.first == null || heard.isBefore(of.first) ? heard : of.first;
                of.last = of.last == null || heard.isAfter(of.last) ? heard : of.last;
                if (standing.contains(act)) {
                    of.acts++;
                    of.tied += act instanceof Act.Tied tied ? tied.count() : 0;
                } else {
                    of.takenBack++;
                }
            }
        });
        ZoneId zone = zone(farm);
        for (Map.Entry<WorkerId, Reported> one : reported.entrySet()) {
            Reported of = one.getValue();
            Role role = workers.get(one.getKey());
            out.line(
                    one.getKey().pseudonym(),
                    role == null ? null : role.name().toLowerCase(Locale.ROOT),
                    of.acts,
                    of.takenBack,
                    of.tied,
                    time(of.first, zone),
                    time(of.last, zone),
                    zone.getId());
        }
    }

    private void plantings(FarmId farm, Csv out) throws IOException {
        for (Planting planting : index.plantings(farm)) {
            for (Planting.Row row : planting.rows()) {
                out.line(
                        planting.name(),
                        planting.cultivar(),
                        planting.species().scientificName(),
                        row.id().label(),
                        row.plants());
            }
        }
    }
}
