package duskpeg.core.forecast;

import duskpeg.core.act.Deed;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.forecast.Forecast.Finish;
import duskpeg.core.forecast.Forecast.Hand;
import duskpeg.core.forecast.Forecast.Progress;
import duskpeg.core.forecast.Forecast.RowFinish;
import duskpeg.core.forecast.Learnt.Worker;
import duskpeg.core.planting.RowId;
import duskpeg.core.round.Round;
import duskpeg.core.round.Tally;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * Forecasts a morning: what is learnt from the reports is learnt once, and then it can be asked as often as one likes
 * what would come of it if somebody worked elsewhere. Immutable; the same input gives the same answer to the bit.
 */
public final class Forecaster {

    /** How many mornings are played through for one forecast. */
    public static final int DRAWS = 400;

    /** When work is taken to begin before the target, where neither sun nor earlier mornings tell. */
    public static final Duration START_BEFORE_TARGET = Duration.ofMinutes(210);

    /** Later than so long after the limit is not within sight. */
    private static final double SIGHT_HOURS = 8;

    private final Morning morning;
    private final FarmSettings settings;
    private final Instant now;
    private final Learnt learnt;
    private final Assumptions assume;
    private final long seed;
    private final Simulation simulation;
    private final List<Row> rows;

    /** A row with something pegged. */
    private record Row(Round round, Tally tally, double units, double opens) {}

    private Forecaster(
            Morning morning,
            FarmSettings settings,
            Instant now,
            Learnt learnt,
            Assumptions assume,
            long seed,
            List<Row> rows) {
        this.morning = morning;
        this.settings = settings;
        this.now = now;
        this.learnt = learnt;
        this.assume = assume;
        this.seed = seed;
        this.rows = rows;
        this.simulation = new Simulation(
                learnt,
                rows.stream().map(row -> row.round().id().row()).toList(),
                rows.stream().mapToDouble(Row::units).toArray(),
                rows.stream().mapToDouble(Row::opens).toArray(),
                now,
                settings.targetOn(morning.date()),
                assume,
                new Dice(seed));
    }

    /**
     * Learns from what is known.
     *
     * @param morning the morning to forecast
     * @param earlier earlier mornings, as many as there are; a few are enough
     * @param crew who may come to work; whoever has reported is counted anyway
     * @param closed rows that nobody may enter now, and until when, as where it was sprayed
     * @param startBeforeTarget when work is taken to begin where no earlier morning tells
     * @param now the time; reports heard later must not be among the rounds
     * @param seed numbers the dice
     */
    public static Forecaster of(
            Morning morning,
            Collection<Morning> earlier,
            Collection<WorkerId> crew,
            Map<RowId, Instant> closed,
            FarmSettings settings,
            Duration startBeforeTarget,
            Instant now,
            long seed) {
        Assumptions assume = Assumptions.OURS;
        Learnt learnt = new Learnt(morning, earlier, crew, settings, startBeforeTarget, now, assume);
        return new Forecaster(
                morning,
                settings,
                now,
                learnt,
                assume,
                seed,
                morning.rounds().stream()
                        .map(round -> row(round, learnt, assume, opens(round, closed, now)))
                        .filter(row -> row.tally().pegged() > 0)
                        .toList());
    }

    /**
     * The same morning with more flowers pegged, in the rows in which some are pegged and in the same proportion.
     *
     * @param flowers how many more, 0 or more
     */
    public Forecaster withMore(int flowers) {
        double pegged = rows.stream().mapToInt(row -> row.tally().pegged()).sum();
        return new Forecaster(
                morning,
                settings,
                now,
                learnt,
                assume,
                seed,
                rows.stream()
                        .map(row -> new Row(
                                row.round(),
                                row.tally(),
                                row.units() + flowers * row.tally().pegged() / pegged,
                                row.opens()))
                        .toList());
    }

    private static double opens(Round round, Map<RowId, Instant> closed, Instant now) {
        Instant until = closed.get(round.id().row());
        return until == null ? 0 : Math.max(0, Stretch.hours(now, until));
    }

    private static Row row(Round round, Learnt learnt, Assumptions assume, double opens) {
        Tally tally = round.tally();
        Flowers past = new Flowers(tally.opened(), tally.pollinated(), tally.bagged(), tally.tied()).past();
        int toWork = tally.pegged() - tally.lost();
        // What will yet be found lost needs no work.
        double lost = tally.lost() == 0 ? assume.loss() * Math.max(0, toWork - past.opened()) : 0;
        Flowers still = past.still(toWork - lost);
        return new Row(
                round, tally, tally.left() == 0 || round.isFinished() ? 0 : Math.max(learnt.units(still), 0.1), opens);
    }

    /** The forecast as things stand. */
    public Forecast forecast() {
        return forecast(Map.of());
    }

    /**
     * What would come of it if these workers were in these rows from now on. It differs from {@link #forecast()} in
     * nothing else, not even in chance.
     *
     * @param moved workers and their rows; a row without anything pegged leaves the worker where she is, and
     *     somebody who is neither of the crew nor has reported is not counted
     */
    public Forecast forecast(Map<WorkerId, RowId> moved) {
        Simulation.Result result = simulation.run(moved);
        List<RowFinish> finishes = new ArrayList<>();
        double[] whole = new double[DRAWS];
        Arrays.fill(whole, Double.NEGATIVE_INFINITY);
        Map<RowId, List<WorkerId>> on = new HashMap<>();
        result.placed()
                .forEach((worker, row) ->
                        on.computeIfAbsent(row, key -> new ArrayList<>()).add(worker));
        Map<WorkerId, Double> pace = new HashMap<>();
        learnt.workers().forEach(worker -> pace.put(worker.id(), simulation.meanPace(worker)));
        for (int index = 0; index < rows.size(); index++) {
            Row row = rows.get(index);
            RowId id = row.round().id().row();
            double[] times = result.finished(index);
            if (row.units() == 0) {
                Arrays.fill(times, Stretch.hours(now, lastDone(row.round())));
            }
            for (int draw = 0; draw < DRAWS; draw++) {
                whole[draw] = Math.max(whole[draw], times[draw]);
            }
            List<WorkerId> workers = on.getOrDefault(id, List.of()).stream()
                    .sorted(Comparator.comparing(WorkerId::toString))
                    .toList();
            finishes.add(new RowFinish(
                    id,
                    row.tally().left(),
                    row.units(),
                    finish(times),
                    workers,
                    workers.stream()
                                    .mapToDouble(worker -> pace.getOrDefault(worker, 0.0))
                                    .sum()
                            / learnt.easeOf(id),
                    learnt.easeOf(id),
                    learnt.reportsFrom(id)));
        }
        return new Forecast(
                morning.date(), now, rows.isEmpty() ? null : finish(whole), finishes, hands(result.placed(), pace));
    }

    /**
     * How many flowers are expected to be tied by these times, as things stand, of the same draws as
     * {@link #forecast()}: what the middle reaches at its {@code p50} is all there is. A row's flowers are taken to be
     * tied evenly over its work, though a crew that first opens a whole row ties later.
     *
     * @param times rising; one before {@code now} is taken to be now
     * @param moved workers and the rows they are in from now on; see {@link #forecast(Map)}
     */
    public List<Progress> progress(List<Instant> times, Map<WorkerId, RowId> moved) {
        int tied = morning.rounds().stream()
                .mapToInt(round -> round.tally().tied())
                .sum();
        double[][] more = simulation.tied(
                moved,
                times.stream()
                        .mapToDouble(time -> Math.max(0, Stretch.hours(now, time)))
                        .toArray(),
                rows.stream()
                        .mapToDouble(row -> row.units() == 0 ? 0 : row.tally().left())
                        .toArray());
        List<Progress> progress = new ArrayList<>();
        for (int index = 0; index < more.length; index++) {
            double[] sorted = more[index];
            Arrays.sort(sorted);
            progress.add(new Progress(
                    times.get(index), tied + at(sorted, 0.1), tied + at(sorted, 0.5), tied + at(sorted, 0.9)));
        }
        return progress;
    }

    private static double at(double[] sorted, double probability) {
        return sorted[(int) Math.round(probability * (sorted.length - 1))];
    }

    private List<Hand> hands(Map<WorkerId, RowId> placed, Map<WorkerId, Double> pace) {
        return learnt.workers().stream()
                .map(worker -> new Hand(
                        worker.id(),
                        placed.getOrDefault(worker.id(), lastRow(worker)),
                        pace.getOrDefault(worker.id(), 0.0),
                        simulation.paceSpread(worker),
                        simulation.here(worker),
                        worker.reports(),
                        worker.earlierReports()))
                .toList();
    }

    private static @Nullable RowId lastRow(Worker worker) {
        Work last = worker.last();
        return last == null ? null : last.row();
    }

    private Instant lastDone(Round round) {
        return Stream.concat(
                        round.acts().stream().filter(act -> act.deed().ofTheVisit() || act.deed() == Deed.LOST),
                        round.finished().stream())
                .map(act -> act.told().done())
                .max(Comparator.naturalOrder())
                .orElse(now);
    }

    private Finish finish(double[] hours) {
        double[] sorted = hours.clone();
        Arrays.sort(sorted);
        return new Finish(
                quantile(sorted, 0.1),
                quantile(sorted, 0.5),
                quantile(sorted, 0.9),
                chance(sorted, now),
                chance(sorted, settings.targetOn(morning.date())),
                chance(sorted, settings.limitOn(morning.date())));
    }

    private @Nullable Instant quantile(double[] sorted, double probability) {
        double hours = at(sorted, probability);
        double sight = Stretch.hours(now, settings.limitOn(morning.date())) + SIGHT_HOURS;
        return hours > sight ? null : now.plusSeconds(Math.round(hours * 3600));
    }

    private double chance(double[] sorted, Instant by) {
        double hours = Stretch.hours(now, by);
        int within = 0;
        while (within < sorted.length && sorted[within] <= hours) {
            within++;
        }
        return (double) within / sorted.length;
    }
}
