package duskpeg.projections.history;

import duskpeg.core.act.Act;
import duskpeg.core.act.FieldEvent;
import duskpeg.core.act.Subject;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.Species;
import duskpeg.core.purity.Case;
import duskpeg.core.purity.Finding;
import duskpeg.core.purity.Rules;
import duskpeg.core.purity.Verdict;
import duskpeg.core.store.EventJson;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Judges fruit by what is in its history. Nothing of a verdict is kept: the same reports give the same verdict. */
@Component
public class Verdicts {

    private final JdbcClient jdbc;
    private final Histories histories;
    private final Index index;
    private final Clock clock;

    Verdicts(JdbcClient jdbc, Histories histories, Index index, Clock clock) {
        this.jdbc = jdbc;
        this.histories = histories;
        this.index = index;
        this.clock = clock;
    }

    /**
     * A verdict, as shown and as published.
     *
     * @param verdict a word of {@link Verdict.Kind}
     * @param rules the version of the rules
     * @param asKnownAt what was heard later is left out, farm time
     * @param evidence what each rule found, in the order of the work
     */
    record VerdictView(String verdict, String rules, OffsetDateTime asKnownAt, List<FindingView> evidence) {}

    /**
     * What a rule found.
     *
     * @param rule a word of {@link duskpeg.core.purity.Rule}
     * @param result a word of {@link Finding.Result}
     * @param grade {@code fruit} or {@code row}
     * @param because one sentence
     * @param events the ids of the events it was read from, as in the log and its ledger
     */
    record FindingView(String rule, String result, String grade, String because, List<String> events) {}

    /**
     * The verdict on a fruit.
     *
     * @param rules the rules to judge by
     * @param at what was heard later is left out; null for all that is known
     * @return empty where nothing that was heard by then names its tie
     */
    Optional<VerdictView> of(FruitId id, Rules rules, @Nullable Instant at) {
        return judged(id, rules, at)
                .map(judged -> view(judged.verdict(), judged.knownAt(), id.farm(), judged.events()));
    }

    /**
     * A fruit that was judged.
     *
     * @param fruit what was judged
     * @param verdict the verdict
     * @param knownAt what was heard later was left out
     * @param events the ids of the events in which its acts are stored
     */
    public record Judged(Case fruit, Verdict verdict, Instant knownAt, Map<FieldEvent, String> events) {}

    /** Judges a fruit; see {@link #of}. */
    public Optional<Judged> judged(FruitId id, Rules rules, @Nullable Instant at) {
        FarmId farm = id.farm();
        Map<FieldEvent, String> events = new HashMap<>();
        List<Act> acts = new ArrayList<>();
        List<Subject> subjects = Stream.concat(
                        Stream.of((Subject) id), histories.rounds(id).stream().map(Subject::parse))
                .toList();
        for (Subject subject : subjects) {
            jdbc.sql("select event_id, act from history_act where farm = ? and subject = ? order by position")
                    .params(farm.value(), subject.toString())
                    .query(row -> {
                        Act act = (Act) EventJson.read(row.getString(2));
                        events.put(act, row.getString(1));
                        acts.add(act);
                    });
        }
        Instant known = at == null ? latest(acts) : at;
        Case fruit = Case.of(
                id,
                acts,
                index.uses(farm, List.of(id.tie())),
                index.settings(farm),
                species(id, acts).orElse(null),
                index.settlements(farm, subjects),
                farmEvents(farm, events),
                known);
        return fruit.fruit().state().map(state -> new Judged(fruit, rules.judge(fruit), known, events));
    }

    /** What the farm entered of its plantings and what is near them, as it lies in the log. */
    private List<FarmEvent> farmEvents(FarmId farm, Map<FieldEvent, String> events) {
        List<FarmEvent> entered = new ArrayList<>();
        jdbc.sql("select event_id, event_type, payload from event where stream = ?"
                        + " and event_type in ('planting-laid-out', 'standards-chosen', 'neighbour-measured')"
                        + " order by sequence")
                .param(farm.toString())
                .query(row -> {
                    FarmEvent event = (FarmEvent) EventJson.read(
                            row.getString(2) + " " + new String(row.getBytes(3), StandardCharsets.UTF_8));
                    events.put(event, row.getString(1));
                    entered.add(event);
                });
        return entered;
    }

    /** Now, or when the last of it was heard: a visitor of a demo may have put the clock back. */
    private Instant latest(List<Act> acts) {
        return Stream.concat(
                        Stream.of(clock.instant()),
                        acts.stream().map(act -> act.told().heard()))
                .max(Comparator.naturalOrder())
                .orElseThrow();
    }

    private VerdictView view(Verdict verdict, Instant at, FarmId farm, Map<FieldEvent, String> events) {
        return new VerdictView(
                verdict.kind().word(),
                verdict.rules(),
                at.atZone(index.settings(farm).zone()).toOffsetDateTime(),
                verdict.findings().stream()
                        .map(finding -> new FindingView(
                                finding.rule().word(),
                                finding.result().word(),
                                finding.grade().word(),
                                finding.because(),
                                finding.read().stream()
                                        .map(events::get)
                                        .filter(Objects::nonNull)
                                        .toList()))
                        .toList());
    }

    private Optional<Species> species(FruitId id, List<Act> acts) {
        return Fruit.of(id, acts)
                .tying()
                .flatMap(tied -> index.rows(id.farm()).plantingOf(tied.round().row()))
                .map(Planting::species);
    }
}
