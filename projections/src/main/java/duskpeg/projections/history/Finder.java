package duskpeg.projections.history;

import duskpeg.core.act.Act;
import duskpeg.core.act.Subject;
import duskpeg.core.crew.People;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.Rows;
import duskpeg.core.round.RoundId;
import duskpeg.core.store.EventLog;
import duskpeg.projections.copies.Copies;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Finds fruit by what is known of it besides its tie. */
@Component
public class Finder {

    /** So many are shown; who looks for one of more says more of it. */
    private static final int MOST = 300;

    private final JdbcClient jdbc;
    private final EventLog log;
    private final Copies copies;
    private final Histories histories;
    private final Index index;
    private final People people;

    Finder(JdbcClient jdbc, EventLog log, Histories histories, Index index, People people, Copies copies) {
        this.log = log;
        this.copies = copies;
        this.jdbc = jdbc;
        this.histories = histories;
        this.index = index;
        this.people = people;
    }

    /**
     * What is known; an empty word or null makes no difference.
     *
     * @param worker who tied it, by pseudonym
     */
    public record Sought(String row, @Nullable LocalDate morning, String worker, String cultivar) {

        boolean isNothing() {
            return row.isEmpty() && morning == null && worker.isEmpty() && cultivar.isEmpty();
        }
    }

    /**
     * What was found.
     *
     * @param fruit the latest mornings first
     * @param more whether there are more than that
     */
    public record Found(List<OfFruit> fruit, boolean more) {}

    /** A fruit, in one line. */
    public record OfFruit(
            String tie,
            String row,
            LocalDate morning,
            @Nullable String cultivar,
            String state,
            String worker,
            @Nullable String name) {}

    private record Candidate(FruitId fruit, RoundId round) {}

    /** Finds it. A morning is read after the other, the latest first, until there is enough. */
    public Found find(FarmId farm, Sought sought) {
        Rows rows = index.rows(farm);
        Map<WorkerId, String> names = people.names(farm);
        List<OfFruit> found = new ArrayList<>();
        for (LocalDate morning : sought.morning() == null ? histories.mornings(farm) : List.of(sought.morning())) {
            List<Candidate> candidates = candidates(farm, morning, sought, rows);
            for (int from = 0; from < candidates.size() && found.size() <= MOST; from += MOST) {
                List<Candidate> some = candidates.subList(from, Math.min(candidates.size(), from + MOST));
                Map<TieNumber, Fruit> fruit = histories.fruits(
                        farm, some.stream().map(Candidate::fruit).distinct().toList());
                some.stream()
                        .flatMap(
                                one -> Optional.ofNullable(fruit.get(one.fruit().tie()))
                                        .flatMap(known -> line(one, known, rows, names))
                                        .stream())
                        .filter(one -> sought.worker().isEmpty() || one.worker().equals(sought.worker()))
                        .forEach(found::add);
            }
            if (found.size() > MOST) {
                break;
            }
        }
        return new Found(found.stream().limit(MOST).toList(), found.size() > MOST);
    }

    /** The ties that were said to be put on that morning, by whom and where as sought. */
    private List<Candidate> candidates(FarmId farm, LocalDate morning, Sought sought, Rows rows) {
        Set<Long> hers = sought.worker().isEmpty() ? Set.of() : tiedBy(farm, morning, sought.worker());
        return jdbc
                .sql("select tie, round, position from " + HistoryProjection.ties(copies)
                        + " where farm = ? and morning = ? and round like ?")
                .params(
                        farm.value(),
                        morning,
                        farm + "/row/" + (sought.row().isEmpty() ? "%" : escaped(sought.row())) + "/" + morning)
                .query((row, number) -> sought.worker().isEmpty() || hers.contains(row.getLong(3))
                        ? new Candidate(new FruitId(farm, new TieNumber(row.getString(1))), (RoundId)
                                Subject.parse(row.getString(2)))
                        : null)
                .list()
                .stream()
                .filter(Objects::nonNull)
                .distinct()
                .filter(one -> sought.cultivar().isEmpty()
                        || rows.cultivarOf(one.round().row()).equals(Optional.of(sought.cultivar())))
                .sorted(Comparator.comparing(one -> one.fruit().tie()))
                .toList();
    }

    /** Where in the log she said that she put on ties of that morning. */
    private Set<Long> tiedBy(FarmId farm, LocalDate morning, String worker) {
        return new HashSet<>(jdbc
                .sql("select " + EventLog.COLUMNS + " from event where position in"
                        + " (select position from " + HistoryProjection.ties(copies)
                        + " where farm = ? and morning = ?)")
                .params(farm.value(), morning)
                .query(EventLog::stored)
                .list()
                .stream()
                .filter(stored -> log.act(stored)
                        .filter(act -> act.told().by().pseudonym().equals(worker))
                        .isPresent())
                .map(EventLog.Stored::position)
                .toList());
    }

    /** A tie that was said to be put on twice is found where its fruit is taken to be. */
    private static Optional<OfFruit> line(Candidate one, Fruit fruit, Rows rows, Map<WorkerId, String> names) {
        return fruit.tying()
                .filter(tied -> tied.round().equals(one.round()))
                .map(Act.Tied::told)
                .flatMap(told -> fruit.state()
                        .map(state -> new OfFruit(
                                one.fruit().tie().digits(),
                                one.round().row().label(),
                                one.round().morning(),
                                rows.cultivarOf(one.round().row()).orElse(null),
                                state.word(),
                                told.by().pseudonym(),
                                names.get(told.by()))));
    }

    private static String escaped(String row) {
        return row.replace("%", "").replace("_", "");
    }
}
