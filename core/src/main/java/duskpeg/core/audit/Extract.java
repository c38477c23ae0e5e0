package duskpeg.core.audit;

import duskpeg.core.act.Act;
import duskpeg.core.act.FieldEvent;
import duskpeg.core.act.Subject;
import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.crew.CustodyEvent.StripHandedOver;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.lot.LotEvent;
import duskpeg.core.lot.LotId;
import duskpeg.core.lot.Lots;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.Rows;
import duskpeg.core.planting.Species;
import duskpeg.core.purity.Case;
import duskpeg.core.purity.Finding;
import duskpeg.core.purity.Rules;
import duskpeg.core.purity.Verdict;
import duskpeg.core.settle.Settled;
import duskpeg.core.settle.Settlements;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.IdentityHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;

/** Events of one farm's log, and the verdicts that are derived from them and from nothing else. */
public final class Extract {

    /** The word for a fruit of which no standing report tells. */
    static final String NO_REPORT = "no-report";

    private final List<Logged> events;
    private final LoggedTies ties;

    /**
     * An extract.
     *
     * @param events in any order: they are taken in that of the tree
     */
    public Extract(List<Logged> events) {
        this.events =
                events.stream().sorted(Comparator.comparingLong(Logged::leaf)).toList();
        this.ties = new LoggedTies(this.events);
    }

    /** The events, in the order of the tree. */
    public List<Logged> events() {
        return events;
    }

    /**
     * The streams that the verdict on a fruit rests on: the farm's, the fruit's own, those of the rounds in which its
     * tie was put on, and those of the workers who had it in their hands. They are found in the events, so an extract
     * that has none of a stream may not know that there is one.
     */
    public Set<String> streams(FruitId id) {
        Set<String> streams = new LinkedHashSet<>();
        streams.add(id.farm().toString());
        streams.add(id.toString());
        rounds(id).forEach(round -> streams.add(round.toString()));
        for (Logged logged : events) {
            if (logged.event() instanceof CustodyEvent custody && custody.ties().spans(id.tie())) {
                streams.add(custody.worker().toString());
                if (custody instanceof StripHandedOver handed) {
                    streams.add(handed.to().toString());
                }
            }
        }
        return streams;
    }

    /** The streams that tell which fruit are in a lot: its own, and those of the lots it was drawn from. */
    public Set<String> streams(LotId lot) {
        return lots().sources(lot).stream().map(LotId::toString).collect(Collectors.toCollection(LinkedHashSet::new));
    }

    /** The fruit that seed of a lot may be of, by their ties. */
    public List<FruitId> fruit(LotId lot) {
        return lots().flowers(lot).keySet().stream()
                .sorted(Comparator.comparing(FruitId::toString))
                .toList();
    }

    private Lots lots() {
        return new Lots(events.stream()
                .map(Logged::event)
                .filter(LotEvent.class::isInstance)
                .map(LotEvent.class::cast)
                .toList());
    }

    /** The rounds in which its tie was put on, also by reports that were taken back. */
    private List<Subject> rounds(FruitId id) {
        return events.stream()
                .filter(logged ->
                        logged.event() instanceof Act.Tied tied && tied.ties().contains(id.tie()))
                .map(logged -> logged.event().subject())
                .distinct()
                .toList();
    }

    /** Whether any act in it names that fruit, be it taken back or not. */
    public boolean names(FruitId id) {
        return !rounds(id).isEmpty() || has(id.toString());
    }

    /**
     * What is wrong with a stream: numbers that are missing or there twice. That its last events are missing can't be
     * seen.
     *
     * @return empty where every event from the first to the last that is here is here once
     */
    public Optional<String> gap(String stream) {
        Set<Long> numbers = new TreeSet<>();
        for (Logged logged : events) {
            if (logged.stream().equals(stream) && !numbers.add(logged.sequence())) {
                return Optional.of("number " + logged.sequence() + " of " + stream + " is there twice");
            }
        }
        long next = 0;
        for (long number : numbers) {
            if (number != next) {
                return Optional.of("number " + next + " of " + stream + " is missing");
            }
            next++;
        }
        return Optional.empty();
    }

    /** Whether any event here is of that stream. */
    boolean has(String stream) {
        return events.stream().anyMatch(logged -> logged.stream().equals(stream));
    }

    /**
     * The case of a fruit, by all that is in the extract.
     *
     * @return empty where no report of it stands
     * @throws IllegalArgumentException if nothing here says the farm's hours
     */
    Optional<Case> caseOf(FruitId id) {
        Set<Subject> subjects = new HashSet<>(rounds(id));
        subjects.add(id);
        List<Act> acts = new ArrayList<>();
        List<Settled.OfQuestion> settled = new ArrayList<>();
        for (Logged logged : events) {
            if (subjects.contains(logged.event().subject())) {
                if (logged.event() instanceof Act act) {
                    acts.add(act);
                } else if (logged.event() instanceof Settled.OfQuestion question) {
                    settled.add(question);
                }
            }
        }
        Species species = Fruit.of(id, acts)
                .tying()
                .flatMap(tied -> new Rows(plantings()).plantingOf(tied.round().row()))
                .map(Planting::species)
                .orElse(null);
        Case fruit = Case.of(id, acts, ties, settings(), species, new Settlements(settled), farmEvents(), Instant.MAX);
        return Optional.of(fruit).filter(one -> one.fruit().state().isPresent());
    }

    private List<FarmEvent> farmEvents() {
        return events.stream()
                .map(Logged::event)
                .filter(FarmEvent.class::isInstance)
                .map(FarmEvent.class::cast)
                .toList();
    }

    private FarmSettings settings() {
        return events.stream()
                .filter(logged -> logged.event() instanceof FarmEvent.Opened)
                .map(logged -> ((FarmEvent.Opened) logged.event()).settings())
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("no event says the farm's hours"));
    }

    private List<Planting> plantings() {
        return events.stream()
                .filter(logged -> logged.event() instanceof FarmEvent.LaidOut)
                .map(logged -> ((FarmEvent.LaidOut) logged.event()).planting())
                .toList();
    }

    /**
     * The verdicts on these fruit, as they are claimed: a line for the rules, a line for each fruit, and behind it one
     * for each rule with what it found, how near that comes to the fruit, the events it was read from, and why.
     *
     * @throws IllegalArgumentException if nothing here says the farm's hours
     */
    public String claim(List<FruitId> fruit, Rules rules) {
        return claim("", fruit, rules);
    }

    /** The same of all fruit that seed of a lot may be of: behind the line for the rules is one for the lot. */
    public String claim(LotId lot, Rules rules) {
        return claim("lot " + lot + "\n", fruit(lot), rules);
    }

    private String claim(String of, List<FruitId> fruit, Rules rules) {
        IdentityHashMap<FieldEvent, String> ids = new IdentityHashMap<>();
        events.forEach(logged -> ids.put(logged.event(), logged.id()));
        StringBuilder claim = new StringBuilder("rules " + rules.version() + "\n" + of);
        for (FruitId id : fruit) {
            Optional<Verdict> verdict = caseOf(id).map(rules::judge);
            claim.append("fruit ")
                    .append(id)
                    .append(' ')
                    .append(verdict.map(one -> one.kind().word()).orElse(NO_REPORT))
                    .append('\n');
            verdict.ifPresent(one -> one.findings().forEach(finding -> claim.append(line(finding, ids))));
        }
        return claim.toString();
    }

    private static String line(Finding finding, IdentityHashMap<FieldEvent, String> ids) {
        String read = finding.read().stream().map(ids::get).collect(Collectors.joining(","));
        return String.join(
                        " ",
                        finding.rule().word(),
                        finding.result().word(),
                        finding.grade().word(),
                        read.isEmpty() ? "-" : read,
                        finding.because())
                + "\n";
    }
}
