package duskpeg.core.forecast;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.planting.RowId;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.ToDoubleFunction;
import org.jspecify.annotations.Nullable;

/**
 * What the reports say about the pace of the work. Flowers come at a worker's hands as a Poisson process whose rate is
 * gamma distributed: around her own pace of earlier mornings, times how this morning goes for all, see {@link Going}.
 * Gamma and Poisson are conjugate, so learning is adding up flowers and hours.
 */
final class Learnt {

    /** Longer than that between two reports is not a stretch of work, as from one day's evening to the next morning. */
    private static final double LONGEST_STRETCH_HOURS = 2.5;

    /** Nobody is missed sooner than a few of these. */
    private static final double SHORTEST_GAP_HOURS = 5 / 60.0;

    private static final int ROUNDS = 2;

    private final Assumptions assume;
    private final Instant now;
    private final List<Day> earlier = new ArrayList<>();
    private final Day today;
    private final Shares shares;
    private final Map<RowId, Double> ease = new HashMap<>();
    private final Map<WorkerId, Tally> earlierOf = new LinkedHashMap<>();
    private final Map<WorkerId, Tally> todayOf = new LinkedHashMap<>();
    private final List<Worker> workers;
    private final Going going;
    private final Duration startBeforeTarget;

    /** One morning's stretches. */
    private static final class Day {

        private final LocalDate date;
        private final List<Work> work;
        private final List<Stretch> stretches;

        /** How much a stretch still says at the end of what is known. */
        private final ToDoubleFunction<Stretch> weight;

        /** For each stretch, what share of its hours it would have taken without a slow start. */
        private final double[] effective;

        Day(Morning morning, ToDoubleFunction<Stretch> weight) {
            date = morning.date();
            work = Work.of(morning.rounds());
            stretches = Stretch.of(work, Stops.of(work)).stream()
                    .filter(stretch -> stretch.hours() > 0 && stretch.hours() < LONGEST_STRETCH_HOURS)
                    .toList();
            this.weight = weight;
            effective = new double[stretches.size()];
            Arrays.fill(effective, 1);
        }
    }

    /** Flowers and hours, weighed. */
    private static final class Tally {
        private double flowers;
        private double hours;
        private int reports;
        private int late;
        private int mornings;

        void add(double moreFlowers, double moreHours) {
            flowers += moreFlowers;
            hours += moreHours;
        }
    }

    /**
     * A worker.
     *
     * @param usual her pace on a morning like others, flowers an hour in a row like others
     * @param shape how sure that is, before this morning: the shape of her gamma distribution
     * @param flowers flowers she did this morning, weighed
     * @param gap hours from one of her reports to the next
     * @param lateTexts share of her texts that come late
     * @param attendance chance that she comes at all
     * @param last her last report this morning; null where there is none
     */
    record Worker(
            WorkerId id,
            double usual,
            double shape,
            double flowers,
            double gap,
            double lateTexts,
            double attendance,
            @Nullable Work last,
            int reports,
            int earlierReports) {}

    Learnt(
            Morning morning,
            Collection<Morning> earlierMornings,
            Collection<WorkerId> crew,
            FarmSettings settings,
            Duration startBeforeTarget,
            Instant now,
            Assumptions assume) {
        this.assume = assume;
        this.now = now;
        today = new Day(morning, stretch -> weight(stretch.until()));
        earlierMornings.stream()
                .map(one -> new Day(one, stretch -> 1))
                .filter(day -> !day.work.isEmpty())
                .forEach(earlier::add);
        List<Stretch> all = new ArrayList<>(today.stretches);
        earlier.forEach(day -> all.addAll(day.stretches));
        shares = Shares.learn(all);
        addUp();
        this.startBeforeTarget = start(settings, startBeforeTarget);
        for (int round = 0; round < ROUNDS; round++) {
            learnEase();
            List<Worker> soFar = workers(crew);
            earlier.forEach(day -> going(day, soFar, settings));
            going(today, soFar, settings);
            addUp();
        }
        workers = workers(crew);
        going = going(today, workers, settings);
    }

    /** How that morning went, and from now on its hours are told as they would have been without its slow start. */
    private Going going(Day day, List<Worker> crew, FarmSettings settings) {
        Instant target = settings.targetOn(day.date);
        Instant begin =
                day.work.isEmpty() ? start(target) : day.work.get(0).done().minus(assume.gap());
        List<Going.Start> starts = Going.starts(begin, target);
        Going going = Going.of(
                starts,
                crew.stream().map(worker -> evidence(worker, day, starts)).toList(),
                earlier.isEmpty() ? assume.firstMorning() : assume.laterMorning(),
                assume.slowStart());
        Arrays.setAll(day.effective, n -> going.effective(day.stretches.get(n)));
        return going;
    }

    private Going.Evidence evidence(Worker worker, Day day, List<Going.Start> starts) {
        double flowers = 0;
        double[] hours = new double[starts.size()];
        double[] fit = new double[starts.size()];
        for (Stretch stretch : day.stretches) {
            if (stretch.by().equals(worker.id())) {
                double weight = day.weight.applyAsDouble(stretch) / assume.clumping();
                double more = weight * shares.units(stretch.past()) * easeOf(stretch.row());
                flowers += more;
                for (int s = 0; s < hours.length; s++) {
                    double effective = starts.get(s).effective(stretch);
                    hours[s] += weight * stretch.hours() * effective;
                    fit[s] += more * Math.log(effective);
                }
            }
        }
        List<Going.After> after = new ArrayList<>();
        for (int s = 0; s < hours.length; s++) {
            after.add(new Going.After(hours[s], fit[s]));
        }
        return new Going.Evidence(worker.usual(), worker.shape(), flowers, after);
    }

    private Duration start(FarmSettings settings, Duration unlessKnown) {
        List<Duration> known = earlier.stream()
                .map(day -> Duration.between(day.work.get(0).done(), settings.targetOn(day.date)))
                .sorted()
                .toList();
        return known.isEmpty()
                ? unlessKnown
                : known.get(known.size() / 2).plus(assume.gap()).minus(assume.lateness());
    }

    private void addUp() {
        earlierOf.clear();
        todayOf.clear();
        for (Day day : earlier) {
            add(day, earlierOf, stretch -> assume.earlierWeight());
        }
        add(today, todayOf, today.weight);
    }

    private void add(Day day, Map<WorkerId, Tally> to, ToDoubleFunction<Stretch> weights) {
        Set<WorkerId> seen = new LinkedHashSet<>();
        for (Work work : day.work) {
            Tally tally = to.computeIfAbsent(work.by(), id -> new Tally());
            tally.reports++;
            tally.late += work.late() ? 1 : 0;
            tally.mornings += seen.add(work.by()) ? 1 : 0;
        }
        for (int n = 0; n < day.stretches.size(); n++) {
            Stretch stretch = day.stretches.get(n);
            double weight = weights.applyAsDouble(stretch);
            to.computeIfAbsent(stretch.by(), id -> new Tally())
                    .add(
                            weight * shares.units(stretch.past()) * easeOf(stretch.row()),
                            weight * stretch.hours() * day.effective[n]);
        }
    }

    private double weight(Instant at) {
        double age = Stretch.hours(at, now) / (assume.memory().toMinutes() / 60.0);
        return Math.pow(0.5, Math.max(0, age));
    }

    private void learnEase() {
        Map<RowId, double[]> rows = new HashMap<>();
        earlier.forEach(day -> ease(day, rows));
        ease(today, rows);
        ease.clear();
        rows.forEach((row, spent) -> ease.put(row, (assume.rowHours() + spent[0]) / (assume.rowHours() + spent[1])));
    }

    /** Adds hours spent in each row, and hours that would have been spent in a row like any other. */
    private void ease(Day day, Map<RowId, double[]> rows) {
        Map<WorkerId, Tally> of = new LinkedHashMap<>();
        add(day, of, stretch -> 1);
        for (int n = 0; n < day.stretches.size(); n++) {
            Stretch stretch = day.stretches.get(n);
            Tally own = of.getOrDefault(stretch.by(), new Tally());
            if (own.flowers > 0) {
                double[] spent = rows.computeIfAbsent(stretch.row(), row -> new double[2]);
                spent[0] += stretch.hours() * day.effective[n];
                spent[1] += shares.units(stretch.past()) * own.hours / own.flowers;
            }
        }
    }

    private List<Worker> workers(Collection<WorkerId> crew) {
        double flowers = assume.pace() * assume.paceHours();
        double hours = assume.paceHours();
        for (Tally tally : earlierOf.values()) {
            flowers += tally.flowers;
            hours += tally.hours;
        }
        double farmPace = flowers / hours;
        Map<WorkerId, Work> last = new HashMap<>();
        today.work.forEach(work -> last.put(work.by(), work));
        Set<WorkerId> all = new LinkedHashSet<>(crew);
        all.addAll(todayOf.keySet());
        double crewGap = gap(today.stretches, null, assume.gap().toMinutes() / 60.0);
        return all.stream()
                .sorted(Comparator.comparing(WorkerId::toString))
                .map(id -> {
                    Tally before = earlierOf.getOrDefault(id, new Tally());
                    Tally now = todayOf.getOrDefault(id, new Tally());
                    return new Worker(
                            id,
                            (assume.workerHours() * farmPace + before.flowers) / (assume.workerHours() + before.hours),
                            before.hours > 0 ? assume.knownWorker() : assume.newWorker(),
                            now.flowers,
                            gap(today.stretches, id, crewGap),
                            (10 * assume.lateTexts() + now.late + before.late) / (10 + now.reports + before.reports),
                            (2 * assume.attendance() + before.mornings) / (2 + earlier.size()),
                            last.get(id),
                            now.reports,
                            before.reports);
                })
                .toList();
    }

    /** Hours from one report to the next, of that worker or of all. */
    private static double gap(List<Stretch> stretches, @Nullable WorkerId of, double unlessKnown) {
        double hours = 2 * unlessKnown;
        double weight = 2;
        for (Stretch stretch : stretches) {
            if (of == null || stretch.by().equals(of)) {
                hours += stretch.hours();
                weight++;
            }
        }
        return Math.max(hours / weight, SHORTEST_GAP_HOURS);
    }

    /** How long work in a row takes, beside the average row. */
    double easeOf(RowId row) {
        return ease.getOrDefault(row, 1.0);
    }

    List<Worker> workers() {
        return workers;
    }

    /** Whole flowers' worth of work. */
    double units(Flowers past) {
        return shares.units(past);
    }

    /** How the morning goes. */
    Going going() {
        return going;
    }

    /** How well a usual morning is known, 0 to 1. */
    double familiarity() {
        return earlier.size() / (earlier.size() + 0.5);
    }

    /** When work is taken to begin where nobody has reported. */
    Instant start(Instant target) {
        return target.minus(startBeforeTarget);
    }

    /** How many reports of this morning came from that row. */
    int reportsFrom(RowId row) {
        return (int) today.work.stream().filter(work -> work.row().equals(row)).count();
    }

    /** This morning's work in the order in which it was done. */
    List<Work> today() {
        return today.work;
    }
}
