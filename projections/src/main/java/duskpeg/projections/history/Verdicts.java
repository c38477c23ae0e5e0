package duskpeg.projections.history;

import duskpeg.core.act.Act;
import duskpeg.core.act.FieldEvent;
import duskpeg.core.act.Subject;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.fruit.TieUses;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.Rows;
import duskpeg.core.planting.Species;
import duskpeg.core.purity.Case;
import duskpeg.core.purity.Finding;
import duskpeg.core.purity.Rules;
import duskpeg.core.purity.Verdict;
import duskpeg.core.settle.Settlements;
import duskpeg.core.store.EventJson;
import duskpeg.projections.history.Histories.Recorded;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
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

/** Judges fruit by what is in its history. Nothing of a verdict is kept: the same reports give the same verdict. */
@Component
public class Verdicts {

    /** So many fruit are read together. */
    private static final int AT_ONCE = 500;

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
    public record VerdictView(String verdict, String rules, OffsetDateTime asKnownAt, List<FindingView> evidence) {}

    /**
     * What a rule found.
     *
     * @param rule a word of {@link duskpeg.core.purity.Rule}
     * @param result a word of {@link Finding.Result}
     * @param grade {@code fruit} or {@code row}
     * @param because one sentence
     * @param events the ids of the events it was read from, as in the log and its ledger
     */
    public record FindingView(String rule, String result, String grade, String because, List<String> events) {}

    /**
     * The verdict on a fruit.
     *
     * @param rules the rules to judge by
     * @param at what was heard later is left out; null for all that is known
     * @return empty where nothing that was heard by then names its tie
     */
    public Optional<VerdictView> of(FruitId id, Rules rules, @Nullable Instant at) {
        return judged(id, rules, at).map(this::view);
    }

    /**
     * A fruit that was judged.
     *
     * @param fruit what was judged
     * @param verdict the verdict
     * @param knownAt what was heard later was left out
     * @param events the ids of the events that were read
     */
    public record Judged(Case fruit, Verdict verdict, Instant knownAt, Map<FieldEvent, String> events) {}

    /** Judges a fruit; see {@link #of(FruitId, Rules, Instant)}. */
    public Optional<Judged> judged(FruitId id, Rules rules, @Nullable Instant at) {
        return new Reading(id.farm(), List.of(id)).judge(id, rules, at);
    }

    /** Judges some fruit of one farm together; see {@link #of(FarmId, List, Rules)} and, of the time, the other. */
    public Map<FruitId, Judged> judged(FarmId farm, Collection<FruitId> ids, Rules rules, @Nullable Instant at) {
        Map<FruitId, Judged> judged = new LinkedHashMap<>();
        List<FruitId> all = List.copyOf(ids);
        for (int from = 0; from < all.size(); from += AT_ONCE) {
            List<FruitId> some = all.subList(from, Math.min(from + AT_ONCE, all.size()));
            Reading reading = new Reading(farm, some);
            some.forEach(id -> reading.judge(id, rules, at).ifPresent(one -> judged.put(id, one)));
        }
        return judged;
    }

    /**
     * The verdicts on some fruit of one farm, from all that is known. They are read together, which is faster.
     *
     * @return by fruit, in the order asked for; without those whose tie nothing names
     */
    public Map<FruitId, VerdictView> of(FarmId farm, List<FruitId> ids, Rules rules) {
        Map<FruitId, VerdictView> verdicts = new LinkedHashMap<>();
        judged(farm, ids, rules, null).forEach((id, judged) -> verdicts.put(id, view(judged)));
        return verdicts;
    }

    /** One reading of a farm for some fruit. */
    private final class Reading {

        private final FarmId farm;
        private final FarmSettings settings;
        private final Rows rows;
        private final TieUses uses;
        private final Map<TieNumber, Set<String>> rounds;
        private final Map<String, List<Recorded>> recorded = new HashMap<>();
        private final Settlements settlements;
        private final Map<FarmEvent, String> entered = new LinkedHashMap<>();

        Reading(FarmId farm, Collection<FruitId> ids) {
            this.farm = farm;
            this.settings = index.settings(farm);
            this.rows = index.rows(farm);
            List<TieNumber> ties = ids.stream().map(FruitId::tie).toList();
            this.uses = index.uses(farm, ties);
            this.rounds = histories.rounds(farm, ties);
            Set<String> subjects = ids.stream().map(FruitId::toString).collect(Collectors.toCollection(HashSet::new));
            rounds.values().forEach(subjects::addAll);
            histories
                    .placed(subjects)
                    .forEach(
                            one -> recorded.computeIfAbsent(one.act().subject().toString(), unseen -> new ArrayList<>())
                                    .add(one.recorded()));
            this.settlements = index.settlements(
                    farm, subjects.stream().map(Subject::parse).toList());
            readEntered();
        }

        /** What the farm entered of its plantings and what is near them, as it lies in the log. */
        private void readEntered() {
            jdbc.sql("select event_id, event_type, payload from event where stream = ?"
                            + " and event_type in ('planting-laid-out', 'standards-chosen', 'neighbour-measured')"
                            + " order by sequence")
                    .param(farm.toString())
                    .query(row -> {
                        String written = row.getString(2) + " " + new String(row.getBytes(3), StandardCharsets.UTF_8);
                        entered.put((FarmEvent) EventJson.read(written), row.getString(1));
                    });
        }

        Optional<Judged> judge(FruitId id, Rules rules, @Nullable Instant at) {
            Map<FieldEvent, String> events = new HashMap<>(entered);
            List<Act> acts = new ArrayList<>();
            Set<String> subjects = new LinkedHashSet<>(List.of(id.toString()));
            subjects.addAll(rounds.getOrDefault(id.tie(), Set.of()));
            subjects.stream()
                    .flatMap(subject -> recorded.getOrDefault(subject, List.of()).stream())
                    .forEach(one -> {
                        events.put(one.act(), one.event());
                        acts.add(one.act());
                    });
            Instant known = at == null ? latest(acts) : at;
            Case fruit = Case.of(
                    id,
                    acts,
                    uses,
                    settings,
                    species(id, acts).orElse(null),
                    new Settlements(settlements.settled().stream()
                            .filter(one -> subjects.contains(one.subject().toString()))
                            .toList()),
                    List.copyOf(entered.keySet()),
                    known);
            return fruit.fruit().state().map(state -> new Judged(fruit, rules.judge(fruit), known, events));
        }

        private Optional<Species> species(FruitId id, List<Act> acts) {
            return Fruit.of(id, acts)
                    .tying()
                    .flatMap(tied -> rows.plantingOf(tied.round().row()))
                    .map(Planting::species);
        }
    }

    /** Now, or when the last of it was heard: a visitor of a demo may have put the clock back. */
    private Instant latest(List<Act> acts) {
        return Stream.concat(
                        Stream.of(clock.instant()),
                        acts.stream().map(act -> act.told().heard()))
                .max(Comparator.naturalOrder())
                .orElseThrow();
    }

    private VerdictView view(Judged judged) {
        Verdict verdict = judged.verdict();
        ZoneId zone = judged.fruit().settings().zone();
        return new VerdictView(
                verdict.kind().word(),
                verdict.rules(),
                judged.knownAt().atZone(zone).toOffsetDateTime(),
                verdict.findings().stream()
                        .map(finding -> new FindingView(
                                finding.rule().word(),
                                finding.result().word(),
                                finding.grade().word(),
                                finding.because(),
                                finding.read().stream()
                                        .map(judged.events()::get)
                                        .filter(Objects::nonNull)
                                        .toList()))
                        .toList());
    }
}
