package duskpeg.projections.board;

import duskpeg.core.crew.People;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.day.DayEvent;
import duskpeg.core.day.Duty;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.forecast.Forecast;
import duskpeg.core.forecast.Forecast.Finish;
import duskpeg.core.forecast.Forecast.RowFinish;
import duskpeg.core.moves.Field;
import duskpeg.core.moves.Field.Hand;
import duskpeg.core.moves.Field.Part;
import duskpeg.core.moves.Mover;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/**
 * Who should go where, so that the morning is finished by the limit. The best assignment of the work that is left is
 * found first; what each of its moves is worth, the forecast says, as it does on the board.
 */
@Component
class Moves {

    /** A row's work is shared in parts of at most so many flowers. */
    private static final double PART = 8;

    /** So many moves are proposed at most; each must be asked of a person. */
    private static final int MOST = 3;

    /** So many are tried for each that is proposed. */
    private static final int TRIED = 5;

    /** A move that helps less is not worth the walk: ours, no source. */
    private static final double WORTH_IT = 0.02;

    /** Whoever is less likely to be at work is not sent anywhere. */
    private static final double HERE = 0.5;

    /** Hours from a row to the next, and how unsure a pace is: ours, no source. */
    private static final double WALK = 0.01;

    private static final double PACE_SPREAD = 0.25;

    private final Forecasts forecasts;
    private final Index index;
    private final People people;

    Moves(Forecasts forecasts, Index index, People people) {
        this.forecasts = forecasts;
        this.index = index;
        this.people = people;
    }

    /**
     * What is proposed.
     *
     * @param byLimit the chance that the morning is finished by the limit as things stand, 0 to 1; null where nothing
     *     is left
     * @param moves in the order in which they help most; none where none helps
     */
    record Proposal(@Nullable Double byLimit, List<Move> moves) {}

    /**
     * A move.
     *
     * @param worker who, by pseudonym
     * @param name her name, while it is kept
     * @param from where she is taken to be
     * @param to where she should go
     * @param left flowers that are left there
     * @param before the chance of the morning before the move, with the moves above it
     * @param after the chance with it
     */
    record Move(String worker, @Nullable String name, String from, String to, int left, double before, double after) {}

    /** What would help on that morning. */
    Proposal proposal(FarmId farm, LocalDate morning, Instant now) {
        Forecast forecast = forecasts.forecast(farm, morning, now);
        Finish whole = forecast.whole();
        if (whole == null || forecast.rows().stream().allMatch(row -> row.left() == 0)) {
            return new Proposal(null, List.of());
        }
        List<Hand> hands = hands(farm, forecast, now);
        List<Part> parts = parts(forecast, index.closed(farm, now));
        if (hands.isEmpty() || parts.isEmpty()) {
            return new Proposal(whole.byLimit(), List.of());
        }
        Field field = new Field(
                parts,
                hands,
                Duration.between(now, index.settings(farm).limitOn(morning)).toMillis() / 3_600_000.0,
                WALK);
        Map<WorkerId, RowId> better = new LinkedHashMap<>(Mover.best(field).firstRows());
        forecast.hands().forEach(hand -> better.remove(hand.worker(), hand.row()));
        return new Proposal(whole.byLimit(), helpful(farm, forecast, now, better, whole.byLimit()));
    }

    /** Nobody is sent into what was sprayed. */
    private static List<Part> parts(Forecast forecast, Set<RowId> closed) {
        List<Part> parts = new ArrayList<>();
        for (RowFinish row : forecast.rows()) {
            double work = closed.contains(row.row()) ? 0 : row.units() * row.ease();
            int shares = (int) Math.ceil(work / PART);
            for (int share = 0; share < shares; share++) {
                parts.add(new Part(row.row(), work / shares, place(row.row())));
            }
        }
        return parts;
    }

    /** Nobody is sent where she is not to work. */
    private List<Hand> hands(FarmId farm, Forecast forecast, Instant now) {
        FarmSettings settings = index.settings(farm);
        LocalTime clock = now.atZone(settings.zone()).toLocalTime();
        Optional<DayEvent.Rostered> roster = index.roster(farm, forecast.morning());
        List<Planting> plantings = index.plantings(farm);
        List<Hand> hands = new ArrayList<>();
        for (Forecast.Hand hand : forecast.hands()) {
            RowId row = hand.row();
            if (row != null && hand.here() >= HERE && hand.flowersAnHour() > 0) {
                Duty duty = roster.flatMap(one -> one.dutyOf(hand.worker())).orElseGet(() -> new Duty(hand.worker()));
                hands.add(new Hand(
                        hand.worker(),
                        hand.flowersAnHour(),
                        PACE_SPREAD,
                        place(row),
                        hoursOfBreak(duty, clock, settings.limit()),
                        plantings.stream()
                                .filter(planting -> duty.notIn().contains(planting.name()))
                                .flatMap(planting -> planting.rows().stream().map(Planting.Row::id))
                                .collect(Collectors.toSet())));
            }
        }
        return hands;
    }

    /** Hours of her break, the one she has or the one to come, that lie before the limit; all of them once it is past. */
    static double hoursOfBreak(Duty duty, LocalTime now, LocalTime limit) {
        LocalTime from = duty.pauseFrom();
        LocalTime until = duty.pauseUntil();
        if (from == null || until == null) {
            return 0;
        }
        LocalTime begins = from.isBefore(now) ? now : from;
        LocalTime ends = now.isBefore(limit) && until.isAfter(limit) ? limit : until;
        return Math.max(0, Duration.between(begins, ends).toMillis() / 3_600_000.0);
    }

    /** Rows are numbered as they lie. */
    private static int place(RowId row) {
        return Integer.parseInt(row.label());
    }

    private List<Move> helpful(
            FarmId farm, Forecast forecast, Instant now, Map<WorkerId, RowId> better, double asThingsStand) {
        Map<WorkerId, String> names = people.names(farm);
        Map<WorkerId, RowId> taken = new LinkedHashMap<>();
        List<Move> moves = new ArrayList<>();
        double chance = asThingsStand;
        while (moves.size() < MOST) {
            WorkerId best = null;
            double most = chance + WORTH_IT;
            List<WorkerId> tried = better.keySet().stream().limit(TRIED).toList();
            Map<WorkerId, Double> chances = tried.parallelStream()
                    .collect(Collectors.toConcurrentMap(worker -> worker, worker -> {
                        Map<WorkerId, RowId> with = new LinkedHashMap<>(taken);
                        with.put(worker, better.get(worker));
                        return byLimit(forecasts.forecast(farm, forecast.morning(), now, with));
                    }));
            for (WorkerId worker : tried) {
                double then = chances.getOrDefault(worker, 0.0);
                if (then >= most) {
                    most = then;
                    best = worker;
                }
            }
            if (best == null) {
                break;
            }
            RowId to = Objects.requireNonNull(better.remove(best));
            taken.put(best, to);
            moves.add(move(forecast, best, names.get(best), to, chance, most));
            chance = most;
        }
        return moves;
    }

    private static double byLimit(Forecast forecast) {
        Finish whole = forecast.whole();
        return whole == null ? 1 : whole.byLimit();
    }

    private static Move move(
            Forecast forecast, WorkerId worker, @Nullable String name, RowId to, double before, double after) {
        String from = forecast.hands().stream()
                .filter(hand -> hand.worker().equals(worker))
                .map(Forecast.Hand::row)
                .map(row -> row == null ? "" : row.label())
                .findFirst()
                .orElse("");
        return new Move(
                worker.pseudonym(),
                name,
                from,
                to.label(),
                forecast.row(to).map(RowFinish::left).orElse(0),
                before,
                after);
    }
}
