package duskpeg.projections.board;

import duskpeg.core.act.Act;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.forecast.Morning;
import duskpeg.core.fruit.TieUses;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.planting.Rows;
import duskpeg.core.report.Question;
import duskpeg.core.round.Round;
import duskpeg.core.round.RoundId;
import duskpeg.core.round.RoundQuestions;
import duskpeg.core.round.Tally;
import duskpeg.projections.Questions;
import duskpeg.projections.board.Board.BoardRow;
import duskpeg.projections.copies.Copies;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Reads boards. */
@Component
public class Boards {

    private final JdbcClient jdbc;
    private final Index index;
    private final Questions questions;
    private final MorningActs stored;
    private final Copies copies;

    Boards(JdbcClient jdbc, MorningActs stored, Index index, Questions questions, Copies copies) {
        this.jdbc = jdbc;
        this.copies = copies;
        this.stored = stored;
        this.index = index;
        this.questions = questions;
    }

    /**
     * A question that a board asks.
     *
     * @param round the round it is about
     */
    public record Asked(RoundId round, Question question) {}

    /** What is asked, settled or not, on the boards of the last mornings of which anything was reported. */
    public List<Asked> asked(FarmId farm, int mornings) {
        FarmSettings settings = index.settings(farm);
        Rows known = index.rows(farm);
        List<Asked> asked = new ArrayList<>();
        jdbc.sql("select distinct morning from " + acts() + " where farm = ? order by morning desc fetch first "
                        + mornings + " rows only")
                .param(farm.value())
                .query(LocalDate.class)
                .list()
                .forEach(morning -> {
                    List<Round> rounds = acts(farm, morning, null).entrySet().stream()
                            .map(row -> Round.of(new RoundId(new RowId(farm, row.getKey()), morning), row.getValue()))
                            .toList();
                    TieUses uses = index.uses(
                            farm,
                            rounds.stream()
                                    .flatMap(round -> round.ties().stream())
                                    .toList());
                    rounds.forEach(round -> RoundQuestions.of(round, settings, uses, known)
                            .forEach(question -> asked.add(new Asked(round.id(), question))));
                });
        return asked;
    }

    /** The board of a morning as it stands. */
    public Board board(FarmId farm, LocalDate morning, Instant now) {
        return board(farm, morning, now, null);
    }

    /** The board of a morning as it was known at a time: by what was heard, and settled, until then. */
    Board boardAsKnownAt(FarmId farm, LocalDate morning, Instant at) {
        return board(farm, morning, at, at);
    }

    private Board board(FarmId farm, LocalDate morning, Instant now, @Nullable Instant heardBy) {
        FarmSettings settings = index.settings(farm);
        Map<String, List<Act>> acts = acts(farm, morning, heardBy);
        record InPlanting(Planting planting, Round round) {}
        List<Planting> plantings = index.plantings(farm);
        Rows known = new Rows(plantings);
        List<InPlanting> rounds = plantings.stream()
                .flatMap(planting -> planting.rows().stream()
                        .map(row -> new InPlanting(
                                planting,
                                Round.of(
                                        new RoundId(row.id(), morning),
                                        acts.getOrDefault(row.id().label(), List.of())))))
                .toList();
        TieUses today = index.uses(
                farm,
                rounds.stream().flatMap(one -> one.round().ties().stream()).toList());
        TieUses uses = heardBy == null
                ? today
                : UsesThen.of(
                        index,
                        today,
                        morning,
                        rounds.stream().map(InPlanting::round).toList());
        Questions.Sorted all = questions.about(
                farm, rounds.stream().map(one -> one.round().id()).toList());
        Questions.Sorted sorted = heardBy == null ? all : all.until(heardBy);
        List<BoardRow> rows = rounds.stream()
                .map(one ->
                        row(one.planting(), one.round(), RoundQuestions.of(one.round(), settings, uses, known), sorted))
                .sorted(Comparator.comparing(row -> Integer.valueOf(row.row())))
                .toList();
        return new Board(
                farm.value(),
                morning,
                now.truncatedTo(ChronoUnit.SECONDS).atZone(settings.zone()).toOffsetDateTime(),
                settings.targetOn(morning).atZone(settings.zone()).toOffsetDateTime(),
                settings.limitOn(morning).atZone(settings.zone()).toOffsetDateTime(),
                rows);
    }

    /**
     * A number that changes whenever anything was added to a morning, or a question about it was settled. Asking for it is cheap and works on every node,
     * whichever of them wrote the row, so a live board can never miss a change for longer than one look.
     */
    long version(FarmId farm, LocalDate morning) {
        return jdbc.sql("select coalesce(max(position), -1) + count(*) from " + acts()
                                + " where farm = ? and morning = ?")
                        .params(farm.value(), morning)
                        .query(Long.class)
                        .single()
                + index.settledOn(farm, morning);
    }

    /** The position in the log of the newest event on a morning's board; -1 for none. */
    long position(FarmId farm, LocalDate morning) {
        return jdbc.sql("select coalesce(max(position), -1) from " + acts() + " where farm = ? and morning = ?")
                .params(farm.value(), morning)
                .query(Long.class)
                .single();
    }

    /** A number that changes whenever anything was added to any board. */
    public long version() {
        return copies.changes(BoardProjection.NAME);
    }

    private String acts() {
        return copies.table(BoardProjection.NAME, BoardProjection.ACTS);
    }

    /** The rounds of a morning, a round for each row, in the order in which the rows lie. */
    public Morning morning(FarmId farm, LocalDate morning) {
        return morning(farm, morning, null);
    }

    /** As {@link #morning(FarmId, LocalDate)}, by what was heard until a time; by all, where that is null. */
    Morning morning(FarmId farm, LocalDate morning, @Nullable Instant heardBy) {
        Map<String, List<Act>> acts = acts(farm, morning, heardBy);
        return new Morning(
                morning,
                index.plantings(farm).stream()
                        .flatMap(planting -> planting.rows().stream())
                        .sorted(Comparator.comparing(
                                row -> Integer.valueOf(row.id().label())))
                        .map(row -> Round.of(
                                new RoundId(row.id(), morning),
                                acts.getOrDefault(row.id().label(), List.of())))
                        .toList());
    }

    /** The latest mornings before that one of which anything was reported, latest first. */
    List<LocalDate> morningsBefore(FarmId farm, LocalDate morning, int most) {
        return jdbc.sql("select distinct morning from " + acts() + " where farm = ? and morning < ?"
                        + " order by morning desc fetch first " + most + " rows only")
                .params(farm.value(), morning)
                .query(LocalDate.class)
                .list();
    }

    /** The first morning after that one of which anything was reported. */
    Optional<LocalDate> morningAfter(FarmId farm, LocalDate morning) {
        return jdbc.sql("select min(morning) from " + acts() + " where farm = ? and morning > ?")
                .params(farm.value(), morning)
                .query((row, number) -> Optional.ofNullable(row.getObject(1, LocalDate.class)))
                .single();
    }

    private Map<String, List<Act>> acts(FarmId farm, LocalDate morning, @Nullable Instant heardBy) {
        Map<String, List<Act>> acts = stored.of(farm, morning);
        if (heardBy != null) {
            acts.replaceAll((row, all) -> all.stream()
                    .filter(act -> !act.told().heard().isAfter(heardBy))
                    .toList());
        }
        return acts;
    }

    private static BoardRow row(Planting planting, Round round, List<Question> asked, Questions.Sorted sorted) {
        Tally tally = round.tally();
        return new BoardRow(
                round.id().row().label(),
                planting.name(),
                planting.cultivar(),
                tally.pegged(),
                tally.males(),
                tally.malesAssumed(),
                tally.opened(),
                tally.pollinated(),
                tally.bagged(),
                tally.tied(),
                tally.lost(),
                tally.left(),
                round.isFinished(),
                sorted.open(round.id(), asked),
                sorted.settled(round.id(), asked));
    }
}
