package duskpeg.projections.harvest;

import duskpeg.core.act.Act;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.harvest.Season;
import duskpeg.core.planting.RowId;
import duskpeg.core.round.Round;
import duskpeg.core.round.RoundId;
import duskpeg.core.store.EventJson;
import duskpeg.projections.copies.Copies;
import duskpeg.projections.history.HistoryProjection;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Reads what histories tell of a season. */
@Component
class Crops {

    private final JdbcClient jdbc;
    private final Copies copies;
    private final Index index;

    Crops(JdbcClient jdbc, Index index, Copies copies) {
        this.copies = copies;
        this.jdbc = jdbc;
        this.index = index;
    }

    /** The season of a day, as it stood at that day's end by what is known now. */
    Crop on(FarmId farm, LocalDate day) {
        return read(farm, Season.of(index.settings(farm), day), day);
    }

    /** A season, as it stood at a day's end by what is known now. */
    Crop read(FarmId farm, Season season, LocalDate day) {
        FarmSettings settings = index.settings(farm);
        Map<RoundId, List<Act>> rounds =
                new TreeMap<>(Comparator.comparing(RoundId::morning).thenComparing(RoundId::row, Crop.BY_ROW));
        Map<TieNumber, List<Act>> ties = new TreeMap<>();
        List<Act.OnFruit> onRows = new ArrayList<>();
        for (Act act : Act.standing(acts(farm, season))) {
            LocalDate done = settings.dateAt(act.told().done());
            if (done.isAfter(day)) {
                continue;
            }
            if (act.subject() instanceof RoundId round) {
                rounds.computeIfAbsent(round, unseen -> new ArrayList<>()).add(act);
                if (act instanceof Act.Tied tied) {
                    tied.ties().stream()
                            .distinct()
                            .forEach(tie -> ties.computeIfAbsent(tie, unseen -> new ArrayList<>())
                                    .add(tied));
                }
            } else if (act.subject() instanceof FruitId fruit) {
                ties.computeIfAbsent(fruit.tie(), unseen -> new ArrayList<>()).add(act);
            } else if (act instanceof Act.OnFruit onRow && act.subject() instanceof RowId && season.has(done)) {
                onRows.add(onRow);
            }
        }
        List<Fruit> fruit = new ArrayList<>();
        List<Fruit> strangers = new ArrayList<>();
        ties.forEach((tie, acts) -> {
            Fruit one = Fruit.of(new FruitId(farm, tie), acts);
            if (one.tying().isPresent()) {
                fruit.add(one);
            } else if (acts.stream()
                    .anyMatch(act -> season.has(settings.dateAt(act.told().done())))) {
                strangers.add(one);
            }
        });
        return new Crop(
                farm,
                settings,
                season,
                day,
                index.rows(farm),
                rounds.entrySet().stream()
                        .map(round -> Round.of(round.getKey(), round.getValue()))
                        .toList(),
                List.copyOf(fruit),
                List.copyOf(strangers),
                List.copyOf(onRows));
    }

    /** Acts on the season's rounds, on ties put on in them or in none, and on rows at any time. */
    private List<Act> acts(FarmId farm, Season season) {
        String id = farm.value();
        String acts = HistoryProjection.acts(copies);
        String ties = HistoryProjection.ties(copies);
        return jdbc
                .sql("select act from " + acts + " where farm = ? and ("
                        // A round's text form ends in its morning.
                        + "(subject like '%/row/%/____-__-__' and right(subject, 10) between ? and ?)"
                        + " or (subject like ? and subject not like '%/row/%/%')"
                        + " or subject in (select cast(? as varchar) || tie from " + ties
                        + " where farm = ? and morning between ? and ?)"
                        + " or (subject like ? and subject not in"
                        + " (select cast(? as varchar) || tie from " + ties + " where farm = ?)))"
                        + " order by position")
                .params(
                        id,
                        season.from().toString(),
                        season.to().toString(),
                        farm + "/row/%",
                        farm + "/tie/",
                        id,
                        season.from(),
                        season.to(),
                        farm + "/tie/%",
                        farm + "/tie/",
                        id)
                .query(String.class)
                .list()
                .stream()
                .map(act -> (Act) EventJson.read(act))
                .toList();
    }

    /** The last day on which anything was brought in or tied that ended before the season of that day. */
    Optional<LocalDate> lastBefore(Season season, FarmId farm) {
        FarmSettings settings = index.settings(farm);
        return mornings(farm).stream()
                .filter(morning -> morning.isBefore(season.from()))
                .max(Comparator.naturalOrder())
                .map(last -> Season.of(settings, last))
                .map(before -> {
                    Crop crop = read(farm, before, before.to());
                    Map<LocalDate, Integer> days = new HashMap<>();
                    crop.fruit()
                            .forEach(one -> crop.broughtIn(one)
                                    .map(crop::dateOf)
                                    .ifPresent(day -> days.merge(day, 1, Integer::sum)));
                    return days.entrySet().stream()
                            .max(Map.Entry.<LocalDate, Integer>comparingByValue()
                                    .thenComparing(Map.Entry.comparingByKey()))
                            .map(Map.Entry::getKey)
                            .orElse(before.to());
                });
    }

    /** Every morning on which a tie was put on. */
    private List<LocalDate> mornings(FarmId farm) {
        return jdbc.sql("select distinct morning from " + HistoryProjection.ties(copies) + " where farm = ?")
                .param(farm.value())
                .query(LocalDate.class)
                .list();
    }

    /** The years of the seasons in which a tie was put on, latest first. */
    List<Integer> years(FarmId farm) {
        FarmSettings settings = index.settings(farm);
        return mornings(farm).stream()
                .map(morning -> Season.of(settings, morning).year())
                .distinct()
                .sorted(Comparator.reverseOrder())
                .toList();
    }
}
