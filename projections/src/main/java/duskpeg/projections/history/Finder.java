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
import duskpeg.projections.copies.Copies;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Finds fruit by what is known of it besides its tie. */
@Component
public class Finder {

    /** So many are shown; who looks for one of more says more of it. */
    private static final int MOST = 300;

    private final JdbcClient jdbc;
    private final Copies copies;
    private final Histories histories;
    private final Index index;
    private final People people;

    Finder(JdbcClient jdbc, Histories histories, Index index, People people, Copies copies) {
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

    /** Finds it. */
    public Found find(FarmId farm, Sought sought) {
        Rows rows = index.rows(farm);
        List<Candidate> candidates = jdbc
                .sql("select distinct tie, round from " + HistoryProjection.ties(copies)
                        + " where farm = ? and round like ?")
                .params(
                        farm.value(),
                        farm + "/row/" + (sought.row().isEmpty() ? "%" : escaped(sought.row())) + "/"
                                + (sought.morning() == null ? "%" : sought.morning()))
                .query((row, number) -> new Candidate(
                        new FruitId(farm, new TieNumber(row.getString(1))), (RoundId) Subject.parse(row.getString(2))))
                .list()
                .stream()
                .filter(one -> sought.cultivar().isEmpty()
                        || rows.cultivarOf(one.round().row()).equals(Optional.of(sought.cultivar())))
                .sorted(Comparator.comparing((Candidate one) -> one.round().morning())
                        .reversed()
                        .thenComparing(one -> one.fruit().tie()))
                .toList();
        Map<WorkerId, String> names = people.names(farm);
        List<OfFruit> found = new ArrayList<>();
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
        return new Found(found.stream().limit(MOST).toList(), found.size() > MOST);
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
