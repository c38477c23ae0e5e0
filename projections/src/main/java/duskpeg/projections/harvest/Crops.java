package duskpeg.projections.harvest;

import duskpeg.core.act.Act;
import duskpeg.core.act.Subject;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.harvest.Season;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.round.Round;
import duskpeg.core.round.RoundId;
import duskpeg.projections.history.Histories;
import duskpeg.projections.history.Histories.Placed;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.springframework.stereotype.Component;

/** Reads what histories tell of a season: one row after the other, so that a season need not fit into memory. */
@Component
class Crops {

    /** By the number on the stake. */
    private static final Comparator<RowId> BY_ROW = Comparator.comparing(row -> Integer.valueOf(row.label()));

    private final Histories histories;
    private final Index index;

    Crops(Index index, Histories histories) {
        this.histories = histories;
        this.index = index;
    }

    /** The season of a day, up to that day. */
    Span on(FarmId farm, LocalDate day) {
        return span(farm, Season.of(index.settings(farm), day), day);
    }

    /** A season up to a day. */
    Span span(FarmId farm, Season season, LocalDate day) {
        return new Span(farm, index.settings(farm), season, day, index.rows(farm));
    }

    /** Every row of the farm, by number, as it stood at the day's end by what is known now; each is read in its turn. */
    Stream<Crop> of(Span span) {
        return index.plantings(span.farm()).stream()
                .flatMap(planting -> planting.rows().stream())
                .map(Planting.Row::id)
                .distinct()
                .sorted(BY_ROW)
                .map(row -> of(span, row));
    }

    private Crop of(Span span, RowId row) {
        Season season = span.season();
        List<Placed> acts = histories.placed(row, season.from(), season.to());
        Map<RoundId, List<Act>> rounds = new TreeMap<>(Comparator.comparing(RoundId::morning));
        done(span, acts)
                .forEach(one -> rounds.computeIfAbsent((RoundId) one.act().subject(), unseen -> new ArrayList<>())
                        .add(one.act()));
        List<Fruit> fruit = fruit(span, row, acts);
        return new Crop(
                row,
                rounds.entrySet().stream()
                        .map(round -> Round.of(round.getKey(), round.getValue()))
                        .toList(),
                fruit.stream().filter(one -> one.tying().isPresent()).toList(),
                fruit.stream().filter(one -> one.tying().isEmpty()).toList(),
                Act.only(
                                Act.OnFruit.class,
                                done(span, histories.placed(List.of(row.toString()))).stream()
                                        .map(Placed::act)
                                        .toList())
                        .filter(act -> season.has(span.dateOf(act)))
                        .toList());
    }

    /** Those that stand and were done by the end of the day, in their order. */
    private static List<Placed> done(Span span, List<Placed> acts) {
        Set<Act> standing = Collections.newSetFromMap(new IdentityHashMap<>());
        standing.addAll(Act.standing(acts.stream().map(Placed::act).toList()));
        return acts.stream()
                .filter(one -> standing.contains(one.act()) && span.isDone(one.act()))
                .toList();
    }

    /** The row's fruit, by tie: of a tie that was put on in several rows, the one that it is on by the last report. */
    private List<Fruit> fruit(Span span, RowId row, List<Placed> rounds) {
        Map<TieNumber, List<Placed>> ties = new TreeMap<>();
        rounds.stream()
                .flatMap(one -> Histories.named(one.act()).stream())
                .forEach(tie -> ties.put(tie, new ArrayList<>()));
        Map<TieNumber, List<RoundId>> tiedIn = new HashMap<>();
        histories
                .rounds(span.farm(), ties.keySet())
                .forEach((tie, in) -> tiedIn.put(
                        tie,
                        in.stream()
                                .map(round -> (RoundId) Subject.parse(round))
                                .filter(round -> span.season().has(round.morning()))
                                .toList()));
        Set<String> elsewhere = tiedIn.values().stream()
                .flatMap(List::stream)
                .filter(round -> !round.row().equals(row))
                .map(RoundId::toString)
                .collect(Collectors.toSet());
        Stream.of(
                        rounds,
                        histories.placed(elsewhere),
                        histories.placed(ties.keySet().stream()
                                .map(tie -> new FruitId(span.farm(), tie).toString())
                                .toList()))
                .flatMap(acts -> done(span, acts).stream())
                .forEach(one -> Histories.named(one.act()).stream()
                        .flatMap(tie -> Optional.ofNullable(ties.get(tie)).stream())
                        .forEach(acts -> acts.add(one)));
        List<Fruit> fruit = new ArrayList<>();
        ties.forEach((tie, acts) -> {
            acts.sort(Comparator.comparingLong(Placed::position));
            Fruit one = Fruit.of(
                    new FruitId(span.farm(), tie),
                    acts.stream().map(Placed::act).toList());
            Optional<RowId> of = one.tying()
                    .map(Act.Tied::round)
                    // Of what is on no flower any more, so that it comes once: the first row.
                    .or(() -> tiedIn.getOrDefault(tie, List.of()).stream()
                            .findFirst()
                            .filter(unseen -> span.isSaid(one)))
                    .map(RoundId::row);
            if (of.equals(Optional.of(row))) {
                fruit.add(one);
            }
        });
        return fruit;
    }

    /** The fruit that were unbagged, culled or brought in in the season, and whose ties nobody ever said to have put on. */
    List<Fruit> strangers(Span span) {
        List<FruitId> untied = histories.untied(span.farm());
        Map<FruitId, List<Act>> acts = new HashMap<>();
        done(span, histories.placed(untied.stream().map(FruitId::toString).toList()))
                .forEach(one -> acts.computeIfAbsent((FruitId) one.act().subject(), unseen -> new ArrayList<>())
                        .add(one.act()));
        return untied.stream()
                .map(id -> Fruit.of(id, acts.getOrDefault(id, List.of())))
                .filter(span::isSaid)
                .toList();
    }

    /** The last day on which anything was brought in or tied that ended before the season of that day. */
    Optional<LocalDate> lastBefore(Season season, FarmId farm) {
        FarmSettings settings = index.settings(farm);
        return histories.mornings(farm).stream()
                .filter(morning -> morning.isBefore(season.from()))
                .max(Comparator.naturalOrder())
                .map(last -> Season.of(settings, last))
                .map(before -> {
                    Span span = span(farm, before, before.to());
                    Map<LocalDate, Integer> days = new HashMap<>();
                    of(span).flatMap(crop -> crop.fruit().stream())
                            .flatMap(one -> span.broughtIn(one).stream())
                            .forEach(act -> days.merge(span.dateOf(act), 1, Integer::sum));
                    return days.entrySet().stream()
                            .max(Map.Entry.<LocalDate, Integer>comparingByValue()
                                    .thenComparing(Map.Entry.comparingByKey()))
                            .map(Map.Entry::getKey)
                            .orElse(before.to());
                });
    }

    /** The years of the seasons in which a tie was put on, latest first. */
    List<Integer> years(FarmId farm) {
        FarmSettings settings = index.settings(farm);
        return histories.mornings(farm).stream()
                .map(morning -> Season.of(settings, morning).year())
                .distinct()
                .sorted(Comparator.reverseOrder())
                .toList();
    }
}
