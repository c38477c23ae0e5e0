package duskpeg.projections.history;

import duskpeg.core.act.Act;
import duskpeg.core.act.LossReason;
import duskpeg.core.act.Subject;
import duskpeg.core.act.TextId;
import duskpeg.core.crew.People;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.Evidence;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.fruit.TieUses;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.report.Question;
import duskpeg.core.round.Round;
import duskpeg.core.round.RoundId;
import duskpeg.core.round.RoundQuestions;
import duskpeg.core.settle.Settled;
import duskpeg.core.store.EventLog;
import duskpeg.core.text.Texts;
import duskpeg.projections.Each;
import duskpeg.projections.Questions;
import duskpeg.projections.Wanted;
import duskpeg.projections.copies.Copies;
import duskpeg.projections.history.FruitView.ActView;
import duskpeg.projections.history.FruitView.PutRight;
import java.io.IOException;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.core.simple.JdbcClient.StatementSpec;
import org.springframework.stereotype.Component;

/** Reads histories. */
@Component
public class Histories {

    private static final int AT_ONCE = 500;

    private static final int PLACES_AT_ONCE = 10_000;

    private final JdbcClient jdbc;
    private final EventLog log;
    private final Copies copies;
    private final Index index;
    private final People people;
    private final Texts texts;
    private final Questions questions;

    Histories(
            JdbcClient jdbc,
            EventLog log,
            Index index,
            People people,
            Texts texts,
            Questions questions,
            Copies copies) {
        this.log = log;
        this.copies = copies;
        this.jdbc = jdbc;
        this.index = index;
        this.people = people;
        this.texts = texts;
        this.questions = questions;
    }

    /**
     * A question that a fruit's history asks.
     *
     * @param fruit the fruit it is about
     */
    public record Asked(FruitId fruit, Question question) {}

    /**
     * An act as it was recorded.
     *
     * @param event the id of its event, as in the log and its ledger
     */
    public record Recorded(String event, Act act) {}

    /** What is asked, settled or not, of the fruit that were last said to be culled or harvested. */
    public List<Asked> asked(FarmId farm, int fruit) {
        List<FruitId> last = last(farm, fruit);
        if (last.isEmpty()) {
            return List.of();
        }
        List<TieNumber> ties = last.stream().map(FruitId::tie).toList();
        List<Act> acts = acts(farm, last);
        TieUses uses = index.uses(farm, ties);
        Map<TieNumber, List<Act>> byTie = byTie(Act.standing(acts));
        return last.stream()
                .flatMap(id -> Fruit.of(id, byTie.getOrDefault(id.tie(), List.of())).questions(uses).stream()
                        .map(question -> new Asked(id, question)))
                .toList();
    }

    /**
     * The fruit that something was last said of, the last first. The log is read backwards until there are enough: to
     * group it by fruit takes as much memory as there are fruit.
     */
    private List<FruitId> last(FarmId farm, int most) {
        Set<String> last = new LinkedHashSet<>();
        long before = log.head() + 1;
        while (before > 0 && last.size() < most) {
            jdbc.sql("select stream from event where position >= ? and position < ? and stream like ? and "
                            + EventLog.IS_ACT + " order by position desc")
                    .params(before - PLACES_AT_ONCE, before, farm + "/tie/%")
                    .query(String.class)
                    .list()
                    .forEach(last::add);
            before -= PLACES_AT_ONCE;
        }
        return last.stream()
                .limit(most)
                .map(subject -> (FruitId) Subject.parse(subject))
                .toList();
    }

    private static Map<TieNumber, List<Act>> byTie(List<Act> acts) {
        Map<TieNumber, List<Act>> byTie = new HashMap<>();
        for (Act act : acts) {
            named(act)
                    .forEach(tie -> byTie.computeIfAbsent(tie, unseen -> new ArrayList<>())
                            .add(act));
        }
        return byTie;
    }

    /** The ties that an act names. */
    public static Set<TieNumber> named(Act act) {
        return act instanceof Act.Tied tied
                ? Set.copyOf(tied.ties())
                : act.subject() instanceof FruitId fruit ? Set.of(fruit.tie()) : Set.of();
    }

    /** A number that changes whenever anything was added to any history. */
    public long version() {
        return copies.changes(HistoryProjection.NAME);
    }

    private String tieTable() {
        return HistoryProjection.ties(copies);
    }

    /** The history of a fruit; empty where no standing report names its tie. */
    public Optional<FruitView> fruit(FruitId id) {
        return fruit(id, null);
    }

    /**
     * The history of a fruit as it was known at a time. Who held a strip is as known now.
     *
     * @param at what was heard or settled later is left out; null for all that is known
     * @return empty where no report that stood then names its tie
     */
    public Optional<FruitView> fruit(FruitId id, @Nullable Instant at) {
        List<Recorded> all = known(id, at);
        Fruit fruit = Fruit.of(id, acts(all));
        return fruit.state().map(state -> view(fruit, state, all, at));
    }

    /** Whatever of itself, its rounds and their rows was known of a fruit at a time; null for all that is known. */
    private List<Recorded> known(FruitId id, @Nullable Instant at) {
        List<Recorded> all =
                Stream.concat(ofRounds(id).stream(), recorded(id).stream()).toList();
        Set<Act> known = Collections.newSetFromMap(new IdentityHashMap<>());
        known.addAll(Evidence.known(id, acts(all), at == null ? Instant.MAX : at));
        return all.stream().filter(one -> known.contains(one.act())).toList();
    }

    private static List<Act> acts(List<Recorded> recorded) {
        return recorded.stream().map(Recorded::act).toList();
    }

    private List<Recorded> ofRounds(FruitId id) {
        return rounds(id).stream()
                .map(Subject::parse)
                .flatMap(round -> Stream.concat(Stream.of(round), round.inRow().stream()))
                .distinct()
                .flatMap(subject -> recorded(subject).stream())
                .toList();
    }

    private static List<Recorded> known(List<Recorded> acts, @Nullable Instant at) {
        return acts.stream()
                .filter(one -> at == null || !one.act().told().heard().isAfter(at))
                .toList();
    }

    /** When anything was heard or settled that is in the history of a fruit, each time once, the earliest first. */
    List<Instant> heard(FruitId id) {
        List<Subject> subjects = Stream.concat(
                        Stream.of(id), rounds(id).stream().map(Subject::parse))
                .toList();
        List<Recorded> known = known(id, null);
        Set<Act> shown = Collections.newSetFromMap(new IdentityHashMap<>());
        Evidence.of(Fruit.of(id, acts(known)), acts(known)).forEach(one -> shown.add(one.act()));
        // What was taken back changes what is known as well; bags of other seasons in its row don't.
        return moments(
                id.farm(),
                subjects,
                known.stream()
                        .filter(one -> shown.contains(one.act())
                                || subjects.contains(one.act().subject())));
    }

    private List<Instant> moments(FarmId farm, List<? extends Subject> subjects, Stream<Recorded> acts) {
        return Stream.concat(
                        acts.map(one -> one.act().told().heard()),
                        index.settlements(farm, subjects).settled().stream().map(Settled.OfQuestion::at))
                .distinct()
                .sorted()
                .toList();
    }

    /** The fruit of these ties of one farm, by tie, as far as standing reports name them. */
    public Map<TieNumber, Fruit> fruits(FarmId farm, List<FruitId> ids) {
        Map<TieNumber, List<Act>> byTie = byTie(Act.standing(acts(farm, ids)));
        return ids.stream()
                .map(id -> Fruit.of(id, byTie.getOrDefault(id.tie(), List.of())))
                .filter(fruit -> fruit.state().isPresent())
                .collect(Collectors.toMap(fruit -> fruit.id().tie(), fruit -> fruit));
    }

    /** Every act on these fruit and on the rounds in which their ties were put on, in the order of the log. */
    private List<Act> acts(FarmId farm, Collection<FruitId> ids) {
        Set<String> subjects = ids.stream().map(FruitId::toString).collect(Collectors.toCollection(HashSet::new));
        rounds(farm, ids.stream().map(FruitId::tie).toList()).values().forEach(subjects::addAll);
        return placed(subjects).stream().map(Placed::act).toList();
    }

    /**
     * An act where it lies in the log.
     *
     * @param position counts up with the log, with gaps
     */
    public record Placed(long position, Recorded recorded) {

        /** The act. */
        public Act act() {
            return recorded.act();
        }
    }

    /** Every act on these subjects in their text form, taken back or not, in the order of the log. */
    public List<Placed> placed(Collection<String> subjects) {
        List<Placed> found = new ArrayList<>();
        Wanted.of(subjects)
                .forEach(some -> found.addAll(placed(jdbc.sql("select " + EventLog.COLUMNS + " from " + some.as("name")
                                + " join event on stream = name and " + EventLog.IS_ACT)
                        .params(some.and()))));
        found.sort(Comparator.comparingLong(Placed::position));
        return found;
    }

    /** What can be read of what is asked for; the rest is parked. */
    private List<Placed> placed(StatementSpec asked) {
        return asked.query(EventLog::stored).list().stream()
                .flatMap(stored ->
                        log
                                .act(stored)
                                .map(act -> new Placed(stored.position(), new Recorded(stored.id(), act)))
                                .stream())
                .toList();
    }

    /** By tie, the rounds in which it was put on, also by reports that were taken back, in their text form. */
    public Map<TieNumber, Set<String>> rounds(FarmId farm, Collection<TieNumber> ties) {
        Map<TieNumber, Set<String>> rounds = new HashMap<>();
        Wanted.of(ties.stream().map(TieNumber::digits).toList())
                .forEach(some -> jdbc.sql("select distinct tie, round from " + some.as("digits") + " join " + tieTable()
                                + " on farm = ? and tie = digits")
                        .params(some.and(farm.value()))
                        .query(row -> {
                            rounds.computeIfAbsent(new TieNumber(row.getString(1)), unseen -> new TreeSet<>())
                                    .add(row.getString(2));
                        }));
        return rounds;
    }

    private FruitView view(Fruit fruit, Fruit.State state, List<Recorded> recorded, @Nullable Instant at) {
        FruitId id = fruit.id();
        FarmSettings settings = index.settings(id.farm());
        List<Act> all = acts(recorded);
        List<Evidence> evidence = Evidence.of(fruit, all);
        List<Act> standing = Act.standing(all);
        IdentityHashMap<Act, String> events = new IdentityHashMap<>();
        recorded.forEach(one -> events.put(one.act(), one.event()));
        List<Evidence> takenBack = all.stream()
                .filter(act -> !standing.contains(act) && !(act instanceof Act.TakenBack))
                .filter(act -> act.subject().equals(id)
                        || (act instanceof Act.Tied tied && tied.ties().contains(id.tie())))
                .map(act -> new Evidence(act, Evidence.Grade.FRUIT))
                .toList();
        Set<TextId> from = Stream.concat(evidence.stream(), takenBack.stream())
                .map(one -> one.act().told().text())
                .collect(Collectors.toCollection(HashSet::new));
        Map<TextId, Settled.OfText> readings = index.readings(id.farm(), from);
        readings.values().forEach(reading -> from.add(reading.text()));
        Writer writer = new Writer(settings, people.names(id.farm()), texts.words(from), readings, events);
        List<Question> asked =
                fruit.questions(index.uses(id.farm(), List.of(id.tie())).asKnown(all));
        Questions.Sorted sorted = until(
                at,
                questions.about(
                        id.farm(),
                        Stream.concat(Stream.of(id), fruit.acts().stream().map(Act::subject))
                                .distinct()
                                .toList()));
        Optional<RoundId> round = fruit.tying().map(Act.Tied::round);
        Optional<Planting> planting =
                round.flatMap(tiedIn -> index.rows(id.farm()).plantingOf(tiedIn.row()));
        return new FruitView(
                id.tie().digits(),
                round.map(tiedIn -> tiedIn.row().label()).orElse(null),
                fruit.plant().map(PlantId::number).orElse(null),
                round.map(RoundId::morning).orElse(null),
                planting.map(Planting::cultivar).orElse(null),
                planting.map(one -> one.species().scientificName()).orElse(null),
                state.word(),
                evidence.stream().map(writer::view).toList(),
                takenBack.stream().map(writer::view).toList(),
                sorted.open(id, asked),
                sorted.settled(id, asked));
    }

    private static Questions.Sorted until(@Nullable Instant at, Questions.Sorted sorted) {
        return at == null ? sorted : sorted.until(at);
    }

    /**
     * A row's night and morning as it was known at a time. Who held a strip is as known now.
     *
     * @param at what was heard or settled later is left out; null for all that is known
     * @return empty where nothing was heard of it by then
     */
    Optional<NightView> night(RoundId id, @Nullable Instant at) {
        List<Recorded> recorded = known(recorded(id), at);
        if (recorded.isEmpty()) {
            return Optional.empty();
        }
        FarmId farm = id.farm();
        List<Act> all = acts(recorded);
        Round round = Round.of(id, all);
        List<Act> standing = Act.standing(all);
        IdentityHashMap<Act, String> events = new IdentityHashMap<>();
        Set<TextId> from = new HashSet<>();
        recorded.forEach(one -> {
            events.put(one.act(), one.event());
            from.add(one.act().told().text());
        });
        Map<TextId, Settled.OfText> readings = index.readings(farm, from);
        readings.values().forEach(reading -> from.add(reading.text()));
        FarmSettings settings = index.settings(farm);
        Writer writer = new Writer(settings, people.names(farm), texts.words(from), readings, events);
        // A tie of this row may have been put on elsewhere as well.
        List<FruitId> fruit =
                round.ties().stream().map(tie -> new FruitId(farm, tie)).toList();
        List<Act> known = acts(farm, fruit).stream()
                .filter(act -> at == null || !act.told().heard().isAfter(at))
                .toList();
        List<Question> asked = RoundQuestions.of(
                round, settings, index.uses(farm, round.ties()).asKnown(known), index.rows(farm));
        Questions.Sorted sorted = until(at, questions.about(farm, List.of(id)));
        Optional<Planting> planting = index.rows(farm).plantingOf(id.row());
        return Optional.of(new NightView(
                id.row().label(),
                id.morning(),
                planting.map(Planting::name).orElse(null),
                planting.map(Planting::cultivar).orElse(null),
                planting.map(one -> one.species().scientificName()).orElse(null),
                round.tally(),
                round.isFinished(),
                views(standing, writer),
                views(all.stream().filter(act -> !standing.contains(act)).toList(), writer),
                round.ties().stream().map(TieNumber::digits).sorted().toList(),
                sorted.open(id, asked),
                sorted.settled(id, asked)));
    }

    /** When anything was heard or settled of a row's night, each time once, the earliest first. */
    List<Instant> heard(RoundId id) {
        return moments(id.farm(), List.of(id), recorded(id).stream());
    }

    private static List<ActView> views(List<Act> acts, Writer writer) {
        return acts.stream()
                .filter(act -> !(act instanceof Act.TakenBack))
                .sorted(Comparator.comparing(act -> act.told().done()))
                .map(act -> writer.view(new Evidence(act, Evidence.Grade.ROW)))
                .toList();
    }

    private record Writer(
            FarmSettings settings,
            Map<WorkerId, String> names,
            Map<TextId, String> words,
            Map<TextId, Settled.OfText> readings,
            IdentityHashMap<Act, String> events) {

        ActView view(Evidence evidence) {
            Act act = evidence.act();
            return new ActView(
                    Objects.requireNonNull(events.get(act)),
                    act.deed().word(),
                    act.subject().inRow().map(RowId::label).orElse(null),
                    act instanceof Act.OnFlowers flowers ? flowers.plant() : null,
                    act instanceof Act.OnFlowers flowers ? sires(flowers) : null,
                    act instanceof Act.Counted counted ? counted.count() : 1,
                    act instanceof Act.Lost lost ? reason(lost) : null,
                    act instanceof Act.Pegged pegged ? pegged.males() : null,
                    act.told().done().atZone(settings.zone()).toOffsetDateTime(),
                    act.told().heard().atZone(settings.zone()).toOffsetDateTime(),
                    act.told().by().pseudonym(),
                    names.get(act.told().by()),
                    words.get(act.told().text()),
                    act.told().line(),
                    act.told().text().value(),
                    putRight(act.told().text()),
                    evidence.grade().word());
        }

        private @Nullable PutRight putRight(TextId text) {
            Settled.OfText settled = readings.get(text);
            return settled == null
                    ? null
                    : new PutRight(
                            settled.how().word(),
                            settled.by().pseudonym(),
                            names.get(settled.by()),
                            settled.at().atZone(settings.zone()).toOffsetDateTime(),
                            words.get(settled.text()),
                            settled.text().value());
        }
    }

    private static @Nullable List<String> sires(Act.OnFlowers act) {
        List<PlantId> sires = act.sires();
        return sires == null ? null : sires.stream().map(PlantId::label).toList();
    }

    private static @Nullable String reason(Act.Lost lost) {
        LossReason reason = lost.reason();
        return reason == null ? null : reason.word();
    }

    /** The rounds in which a tie was put on, also by reports that were taken back, in their text form. */
    public List<String> rounds(FruitId id) {
        return jdbc.sql("select distinct round from " + tieTable() + " where farm = ? and tie = ?")
                .params(id.farm().value(), id.tie().digits())
                .query(String.class)
                .list();
    }

    /** The ties that were put on in a round, also by reports that were taken back, in order. */
    public List<TieNumber> ties(RoundId round) {
        return jdbc.sql("select distinct tie from " + tieTable()
                        + " where farm = ? and morning = ? and round = ? order by tie")
                .params(round.farm().value(), round.morning(), round.toString())
                .query((row, number) -> new TieNumber(row.getString(1)))
                .list();
    }

    /** Every morning on which a tie was put on, also by reports that were taken back, the latest first. */
    public List<LocalDate> mornings(FarmId farm) {
        return jdbc.sql("select distinct morning from " + tieTable() + " where farm = ? order by morning desc")
                .param(farm.value())
                .query(LocalDate.class)
                .list();
    }

    /** The fruit whose ties were put on that morning, also by reports that were taken back, in order. */
    public List<FruitId> tied(FarmId farm, LocalDate morning) {
        return jdbc.sql("select distinct tie from " + tieTable() + " where farm = ? and morning = ? order by tie")
                .params(farm.value(), morning)
                .query((row, number) -> new FruitId(farm, new TieNumber(row.getString(1))))
                .list();
    }

    /** Every act on a subject, taken back or not, in the order of the log. */
    public List<Recorded> recorded(Subject subject) {
        return placed(jdbc.sql("select " + EventLog.COLUMNS + " from event where stream = ? and " + EventLog.IS_ACT
                                + " order by sequence")
                        .param(subject.toString()))
                .stream()
                .map(Placed::recorded)
                .toList();
    }

    /**
     * Every act on a row's rounds of some mornings, taken back or not, in the order of the log.
     *
     * @param from the first morning
     * @param to the last
     */
    public List<Placed> placed(RowId row, LocalDate from, LocalDate to) {
        // Text forms of the same length, which end in the morning: so they have its order, however the database sorts.
        return placed(jdbc.sql("select " + EventLog.COLUMNS + " from event where stream between ? and ? and "
                                + EventLog.IS_ACT + " order by position")
                        .params(new RoundId(row, from).toString(), new RoundId(row, to).toString()))
                .stream()
                // Others may lie between them.
                .filter(one -> one.act().subject() instanceof RoundId round
                        && round.row().equals(row))
                .toList();
    }

    /** The fruit of which something was said and whose tie nobody ever said to have put on, in order. */
    public List<FruitId> untied(FarmId farm) {
        String prefix = farm + "/tie/";
        return jdbc
                .sql("select distinct stream from event where stream like ? and " + EventLog.IS_ACT + " and not exists"
                        + " (select 1 from " + tieTable() + " ties where ties.farm = ?"
                        + " and ties.tie = substring(stream, " + (prefix.length() + 1) + ")) order by stream")
                .params(prefix + "%", farm.value())
                .query(String.class)
                .list()
                .stream()
                .map(subject -> (FruitId) Subject.parse(subject))
                .toList();
    }

    /** The acts on a subject, in the order of the log. */
    public record Told(Subject subject, List<Recorded> recorded) {

        public Told {
            recorded = List.copyOf(recorded);
        }

        /** The acts. */
        public List<Act> acts() {
            return recorded.stream().map(Recorded::act).toList();
        }
    }

    /** Hands on what was told of every round, row and fruit, in the order of their text forms; a few are read at once. */
    public void eachSubject(FarmId farm, Each<Told> each) throws IOException {
        eachSubject(farm + "/", each);
    }

    /** The same of rounds and rows alone. */
    public void eachInRows(FarmId farm, Each<Told> each) throws IOException {
        eachSubject(farm + "/row/", each);
    }

    private void eachSubject(String prefix, Each<Told> each) throws IOException {
        String after = "";
        for (List<String> some = subjects(prefix, after); !some.isEmpty(); some = subjects(prefix, after)) {
            for (Told told : told(some)) {
                each.take(told);
            }
            after = some.get(some.size() - 1);
        }
    }

    /** What was told of these subjects, in their order. */
    public List<Told> told(List<String> subjects) {
        Map<String, List<Recorded>> recorded = new LinkedHashMap<>();
        subjects.forEach(subject -> recorded.put(subject, new ArrayList<>()));
        placed(recorded.keySet())
                .forEach(one -> Objects.requireNonNull(
                                recorded.get(one.act().subject().toString()))
                        .add(one.recorded()));
        return recorded.entrySet().stream()
                .map(one -> new Told(Subject.parse(one.getKey()), one.getValue()))
                .toList();
    }

    /** The next subjects, one for each act: the database would go through all of them to tell them apart. */
    private List<String> subjects(String prefix, String after) {
        return jdbc.sql("select stream from event where stream > ? and stream like ? and " + EventLog.IS_ACT
                        + " order by stream fetch first " + AT_ONCE + " rows only")
                .params(after.isEmpty() ? prefix : after, prefix + "%")
                .query(String.class)
                .list();
    }

    /** Hands on the fruit whose ties any act names, also one that was taken back, in order; some at once. */
    public void eachFruit(FarmId farm, Each<List<FruitId>> each) throws IOException {
        String prefix = farm + "/tie/";
        String after = "";
        for (List<String> some = named(farm, prefix, after); !some.isEmpty(); some = named(farm, prefix, after)) {
            each.take(some.stream()
                    .map(tie -> new FruitId(farm, new TieNumber(tie)))
                    .toList());
            after = some.get(some.size() - 1);
        }
    }

    private List<String> named(FarmId farm, String prefix, String after) {
        List<String> tied = jdbc.sql("select tie from " + tieTable() + " where farm = ? and tie > ?"
                        + " order by farm, tie fetch first " + AT_ONCE + " rows only")
                .params(farm.value(), after)
                .query(String.class)
                .list();
        List<String> told = subjects(prefix, after.isEmpty() ? "" : prefix + after).stream()
                .map(subject -> subject.substring(prefix.length()))
                .toList();
        // Behind the end of a part that is not the last nothing is known of what it lacks.
        return Stream.concat(tied.stream(), told.stream())
                .distinct()
                .sorted()
                .filter(tie -> isWithin(tie, tied) && isWithin(tie, told))
                .toList();
    }

    private static boolean isWithin(String tie, List<String> part) {
        return part.size() < AT_ONCE || tie.compareTo(part.get(part.size() - 1)) <= 0;
    }
}
