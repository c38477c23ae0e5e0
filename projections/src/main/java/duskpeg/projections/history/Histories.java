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
import duskpeg.core.store.EventJson;
import duskpeg.core.text.Texts;
import duskpeg.projections.Questions;
import duskpeg.projections.copies.Copies;
import duskpeg.projections.history.FruitView.ActView;
import duskpeg.projections.history.FruitView.PutRight;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Reads histories. */
@Component
public class Histories {

    private final JdbcClient jdbc;
    private final Copies copies;
    private final Index index;
    private final People people;
    private final Texts texts;
    private final Questions questions;

    Histories(JdbcClient jdbc, Index index, People people, Texts texts, Questions questions, Copies copies) {
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
        List<FruitId> last = jdbc
                .sql("select subject from " + actTable() + " where farm = ? and subject like ? group by subject"
                        + " order by max(position) desc fetch first " + fruit + " rows only")
                .params(farm.value(), farm + "/tie/%")
                .query(String.class)
                .list()
                .stream()
                .map(subject -> (FruitId) Subject.parse(subject))
                .toList();
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

    private static Map<TieNumber, List<Act>> byTie(List<Act> acts) {
        Map<TieNumber, List<Act>> byTie = new HashMap<>();
        for (Act act : acts) {
            Set<TieNumber> named = act instanceof Act.Tied tied
                    ? Set.copyOf(tied.ties())
                    : act.subject() instanceof FruitId fruit ? Set.of(fruit.tie()) : Set.of();
            named.forEach(tie ->
                    byTie.computeIfAbsent(tie, unseen -> new ArrayList<>()).add(act));
        }
        return byTie;
    }

    /** A number that changes whenever anything was added to any history. */
    public long version() {
        return copies.changes(HistoryProjection.NAME);
    }

    private String actTable() {
        return HistoryProjection.acts(copies);
    }

    private String tieTable() {
        return HistoryProjection.ties(copies);
    }

    /** The history of a fruit; empty where no standing report names its tie. */
    public Optional<FruitView> fruit(FruitId id) {
        return fruit(id, null);
    }

    /**
     * The history of a fruit as it was known at a time. Questions are those that are asked of these reports; who held a
     * strip, and what somebody settled, is as known now.
     *
     * @param at what was heard later is left out; null for all that is known
     * @return empty where no report that stood then names its tie
     */
    public Optional<FruitView> fruit(FruitId id, @Nullable Instant at) {
        List<Recorded> rounds = known(ofRounds(id), at);
        List<Recorded> all =
                Stream.concat(rounds.stream(), known(recorded(id), at).stream()).toList();
        Fruit fruit = Fruit.of(id, acts(all));
        return fruit.state().map(state -> view(fruit, state, acts(rounds), all));
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

    /** When anything was heard that is in the history of a fruit, each time once, the earliest first. */
    List<Instant> heard(FruitId id) {
        return Stream.concat(ofRounds(id).stream(), recorded(id).stream())
                .map(one -> one.act().told().heard())
                .distinct()
                .sorted()
                .toList();
    }

    /** The fruit of these ties of one farm, by tie, as far as standing reports name them. */
    public Map<TieNumber, Fruit> fruits(FarmId farm, List<FruitId> ids) {
        if (ids.isEmpty()) {
            return Map.of();
        }
        List<Act> acts = acts(farm, ids);
        return ids.stream()
                .map(id -> Fruit.of(id, acts))
                .filter(fruit -> fruit.state().isPresent())
                .collect(Collectors.toMap(fruit -> fruit.id().tie(), fruit -> fruit));
    }

    /** Every act on these fruit and on the rounds in which their ties were put on, in the order of the log. */
    private List<Act> acts(FarmId farm, List<FruitId> ids) {
        List<String> subjects = new ArrayList<>(
                jdbc.sql("select distinct round from " + tieTable() + " where farm = :farm and tie in (:ties)")
                        .param("farm", farm.value())
                        .param("ties", ids.stream().map(id -> id.tie().digits()).toList())
                        .query(String.class)
                        .list());
        ids.forEach(id -> subjects.add(id.toString()));
        return jdbc
                .sql("select act from " + actTable()
                        + " where farm = :farm and subject in (:subjects) order by position")
                .param("farm", farm.value())
                .param("subjects", subjects)
                .query(String.class)
                .list()
                .stream()
                .map(act -> (Act) EventJson.read(act))
                .toList();
    }

    private FruitView view(Fruit fruit, Fruit.State state, List<Act> rounds, List<Recorded> recorded) {
        FruitId id = fruit.id();
        FarmSettings settings = index.settings(id.farm());
        List<Evidence> evidence = Evidence.of(fruit, rounds);
        List<Act> all = acts(recorded);
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
        List<Question> asked = fruit.questions(index.uses(id.farm(), List.of(id.tie())));
        Questions.Sorted sorted = questions.about(
                id.farm(),
                Stream.concat(Stream.of(id), fruit.acts().stream().map(Act::subject))
                        .distinct()
                        .toList());
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

    /**
     * A row's night and morning as it was known at a time; who settled what is as known now.
     *
     * @param at what was heard later is left out; null for all that is known
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
        List<Question> asked = RoundQuestions.of(round, settings, index.uses(farm, round.ties()), index.rows(farm));
        Questions.Sorted sorted = questions.about(farm, List.of(id));
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

    /** When anything was heard of a row's night, each time once, the earliest first. */
    List<Instant> heard(RoundId id) {
        return recorded(id).stream()
                .map(one -> one.act().told().heard())
                .distinct()
                .sorted()
                .toList();
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

    /** Every act on a subject, taken back or not, in the order of the log. */
    public List<Recorded> recorded(Subject subject) {
        return jdbc.sql("select event_id, act from " + actTable() + " where farm = ? and subject = ? order by position")
                .params(subject.farm().value(), subject.toString())
                .query((row, number) -> new Recorded(row.getString(1), (Act) EventJson.read(row.getString(2))))
                .list();
    }

    /**
     * The subjects of all acts: rounds, rows and fruit, in the order of their text forms as the database sorts them.
     *
     * @param after the text form behind which they begin; an empty one for the first
     * @param most how many
     */
    public List<Subject> subjects(FarmId farm, String after, int most) {
        return jdbc.sql("select distinct subject from " + actTable()
                        + " where farm = ? and subject > ? order by subject" + " fetch first " + most + " rows only")
                .params(farm.value(), after)
                .query((row, number) -> Subject.parse(row.getString(1)))
                .list();
    }

    /**
     * The ties that any act names, also one that was taken back, in order.
     *
     * @param after the digits behind which they begin; empty for the first
     * @param most how many
     */
    public List<TieNumber> ties(FarmId farm, String after, int most) {
        String prefix = farm + "/tie/";
        return jdbc.sql("select tie from " + tieTable() + " where farm = ? and tie > ?"
                        + " union select substring(subject, " + (prefix.length() + 1) + ") from " + actTable()
                        + " where farm = ? and subject like ? and subject > ?"
                        + " order by 1 fetch first " + most + " rows only")
                .params(farm.value(), after, farm.value(), prefix + "%", prefix + after)
                .query((row, number) -> new TieNumber(row.getString(1)))
                .list();
    }
}
