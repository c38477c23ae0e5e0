package duskpeg.projections.strips;

import duskpeg.core.act.TextId;
import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.crew.CustodyEvent.Kind;
import duskpeg.core.crew.CustodyEvent.StripHandedOver;
import duskpeg.core.crew.Entered;
import duskpeg.core.crew.Holding;
import duskpeg.core.crew.Holdings;
import duskpeg.core.crew.People;
import duskpeg.core.crew.Strip;
import duskpeg.core.crew.StripInHand;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fieldbook.StripIndex;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.Numbering;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.text.Texts;
import duskpeg.projections.history.Histories;
import duskpeg.projections.strips.StripView.CustodyView;
import duskpeg.projections.strips.StripView.Fate;
import duskpeg.projections.strips.StripView.HandView;
import duskpeg.projections.strips.StripView.TieView;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/**
 * Reads strips. It keeps no table of its own: the index is written in the transaction of every event, so that whoever
 * enters something on the page sees it there at once.
 */
@Component
public class Strips {

    private final Index index;
    private final People people;
    private final Texts texts;
    private final Histories histories;

    Strips(Index index, People people, Texts texts, Histories histories) {
        this.index = index;
        this.people = people;
        this.texts = texts;
        this.histories = histories;
    }

    /** All strips of the farm. */
    public StripView.All all(FarmId farm) {
        Reading reading = new Reading(farm);
        return new StripView.All(
                farm.value(), reading.strips().stream().map(reading::view).toList(), reading.claims());
    }

    /** The strip that tie is on, tie by tie; empty where it is on none. */
    public Optional<StripView.Whole> strip(FarmId farm, TieNumber tie) {
        Reading reading = new Reading(farm);
        return reading.strips().stream()
                .filter(strip -> strip.has(tie))
                .findFirst()
                .map(strip -> new StripView.Whole(reading.view(strip), reading.ties(strip)));
    }

    /** All strips of the farm tie by tie, each read when it is asked for. */
    public Stream<StripView.Whole> whole(FarmId farm) {
        Reading reading = new Reading(farm);
        return reading.strips().stream().map(strip -> new StripView.Whole(reading.view(strip), reading.ties(strip)));
    }

    /** The serial that a new strip of printed tags can begin with: behind all that were given out. */
    int nextSerial(FarmId farm) {
        int width = index.settings(farm).tieWidth();
        return index.strips().printed(farm).all().stream()
                .mapToInt(holding -> Numbering.CHECKED.serial(holding.ties().last()) + 1)
                .max()
                .orElse(9 * (int) Math.pow(10, width - 2.0));
    }

    /** One reading of a farm's custody. */
    private final class Reading {

        private final FarmId farm;
        private final FarmSettings settings;
        private final Holdings holdings;
        private final List<StripIndex.Line> history;
        private final Map<WorkerId, String> names;
        private final Map<TextId, String> words;

        Reading(FarmId farm) {
            this.farm = farm;
            this.settings = index.settings(farm);
            this.holdings = index.strips().holdings(farm);
            this.history = index.strips().history(farm);
            this.names = people.names(farm);
            this.words = texts.words(history.stream()
                    .flatMap(line -> line.event().text().stream())
                    .collect(Collectors.toSet()));
        }

        /** The strips as they were first given out: a part that was given out again is of the whole. */
        List<Strip> strips() {
            List<Strip> strips = new ArrayList<>();
            history.stream()
                    .filter(line -> line.event().kind() == Kind.ISSUED && !line.takenBack())
                    .map(line -> line.event().ties())
                    .sorted(Comparator.comparing(Strip::first).thenComparing(Strip::last, Comparator.reverseOrder()))
                    .forEach(strip -> {
                        Strip before = strips.isEmpty() ? null : strips.get(strips.size() - 1);
                        if (before == null || !before.overlaps(strip)) {
                            strips.add(strip);
                        } else if (strip.last().compareTo(before.last()) > 0) {
                            strips.set(strips.size() - 1, new Strip(before.first(), strip.last(), strip.numbering()));
                        }
                    });
            return strips;
        }

        StripView view(Strip strip) {
            Map<Fate, Long> fates =
                    fates(strip).values().stream().collect(Collectors.groupingBy(fate -> fate, Collectors.counting()));
            return new StripView(
                    strip.first().digits(),
                    strip.last().digits(),
                    strip.numbering() == Numbering.CHECKED,
                    strip.size(),
                    count(fates, Fate.USED),
                    count(fates, Fate.LEFT),
                    damaged(strip).size(),
                    count(fates, Fate.SKIPPED),
                    count(fates, Fate.SHED),
                    count(fates, Fate.LOST),
                    holdings.all().stream()
                            .filter(Holding::isOpen)
                            .filter(holding -> holding.ties().overlaps(strip))
                            .map(holding -> hand(holding, strip))
                            .toList(),
                    history.stream()
                            .filter(line -> line.event().ties().overlaps(strip))
                            .map(this::custody)
                            .toList());
        }

        private static int count(Map<Fate, Long> fates, Fate fate) {
            return fates.getOrDefault(fate, 0L).intValue();
        }

        private HandView hand(Holding holding, Strip strip) {
            StripInHand inHand = inHand(holding, index.strips().used(farm, strip), damaged(strip));
            return new HandView(
                    holding.worker().pseudonym(),
                    names.get(holding.worker()),
                    holding.ties().first().digits(),
                    holding.ties().last().digits(),
                    inHand.next().map(TieNumber::digits).orElse(null),
                    inHand.unused().count());
        }

        private static StripInHand inHand(Holding holding, Set<TieNumber> used, Set<TieNumber> damaged) {
            return StripInHand.of(
                    holding.ties(), used.stream().filter(holding.ties()::has).max(Comparator.naturalOrder()), damaged);
        }

        private Set<TieNumber> damaged(Strip strip) {
            return history.stream()
                    .filter(line -> line.event().kind() == Kind.DAMAGED && !line.takenBack())
                    .map(line -> line.event().ties().first())
                    .filter(strip::has)
                    .collect(Collectors.toSet());
        }

        /** What became of each tie, in order. */
        Map<TieNumber, Fate> fates(Strip strip) {
            Set<TieNumber> used = index.strips().used(farm, strip);
            Set<TieNumber> damaged = damaged(strip);
            Map<TieNumber, Fate> fates = new LinkedHashMap<>();
            Map<Holding, StripInHand> hands = new LinkedHashMap<>();
            strip.ties()
                    .forEach(tie -> fates.put(
                            tie,
                            used.contains(tie)
                                    ? Fate.USED
                                    : damaged.contains(tie)
                                            ? Fate.DAMAGED
                                            : holdings.of(tie, Instant.MAX)
                                                    .map(holding -> unused(
                                                            tie,
                                                            holding,
                                                            hands.computeIfAbsent(
                                                                    holding, one -> inHand(one, used, damaged))))
                                                    .orElse(Fate.SHED)));
            return fates;
        }

        private static Fate unused(TieNumber tie, Holding holding, StripInHand inHand) {
            return switch (holding.stateAt(Instant.MAX)) {
                case RETURNED -> Fate.SHED;
                case LOST -> Fate.LOST;
                case HELD ->
                    inHand.next().filter(next -> next.compareTo(tie) <= 0).isPresent() ? Fate.LEFT : Fate.SKIPPED;
            };
        }

        List<TieView> ties(Strip strip) {
            Map<TieNumber, Fate> fates = fates(strip);
            Map<TieNumber, Fruit> fruit = histories.fruits(
                    farm,
                    fates.keySet().stream().map(tie -> new FruitId(farm, tie)).toList());
            return fates.entrySet().stream()
                    .map(one -> {
                        Optional<Fruit> tied = Optional.ofNullable(fruit.get(one.getKey()));
                        return new TieView(
                                one.getKey().digits(),
                                one.getValue().word(),
                                tied.flatMap(Fruit::tying)
                                        .map(act -> act.round().row().label())
                                        .orElse(null),
                                tied.flatMap(Fruit::tying)
                                        .map(act -> act.round().morning())
                                        .orElse(null),
                                tied.flatMap(Fruit::state)
                                        .map(Fruit.State::word)
                                        .orElse(null));
                    })
                    .toList();
        }

        /** The last claim of each worker, while she was given nothing since and it stands. */
        List<CustodyView> claims() {
            Map<WorkerId, StripIndex.Line> open = new LinkedHashMap<>();
            for (StripIndex.Line line : history) {
                if (line.takenBack()) {
                    continue;
                }
                CustodyEvent event = line.event();
                switch (event.kind()) {
                    case CLAIMED -> open.put(event.worker(), line);
                    case ISSUED -> open.remove(event.worker());
                    case HANDED_OVER -> open.remove(((StripHandedOver) event).to());
                    case RETURNED, LOST, DAMAGED -> {}
                }
            }
            return open.values().stream().map(this::custody).toList();
        }

        private CustodyView custody(StripIndex.Line line) {
            CustodyEvent event = line.event();
            Entered entered = event.entered();
            WorkerId to = event instanceof StripHandedOver over ? over.to() : null;
            Optional<TextId> text = event.text();
            return new CustodyView(
                    event.kind().word(),
                    event.ties().toString(),
                    event.ties().size(),
                    event.worker().pseudonym(),
                    names.get(event.worker()),
                    to == null ? null : to.pseudonym(),
                    name(to),
                    event.at().atZone(settings.zone()).toOffsetDateTime(),
                    entered == null ? null : entered.by().pseudonym(),
                    entered == null ? null : names.get(entered.by()),
                    text.map(TextId::value).orElse(null),
                    text.map(words::get).orElse(null),
                    line.takenBack());
        }

        private @Nullable String name(@Nullable WorkerId worker) {
            return worker == null ? null : names.get(worker);
        }
    }
}
