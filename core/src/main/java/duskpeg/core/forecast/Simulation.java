package duskpeg.core.forecast;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.forecast.Learnt.Worker;
import duskpeg.core.planting.RowId;
import java.time.Duration;
import java.time.Instant;
import java.util.BitSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * Plays the rest of a morning through, many times. Each time paces, silences and mishaps are drawn; then everybody works
 * her row to its end and goes on to the next one that nobody works, and at last helps where most is left. Times are
 * hours from now; what was done since somebody's last report lies before 0.
 */
final class Simulation {

    private static final int NOWHERE = -1;
    private static final int IDLE = -2;
    private static final double NEVER = Double.POSITIVE_INFINITY;

    /** How many gaps' worth of unreported work a worker may have in hand who reports as usual. */
    private static final double GAPS_IN_HAND = 1.2;

    /** So much of a row, in flowers, is not done before now, as who does it says so, unless her text is late. */
    private static final double LAST = 0.5;

    // Dice, of which each worker and each row has its own.
    private static final int OF_ALL = 8;
    private static final int OF_ONE = 10;

    private final Learnt learnt;
    private final List<Worker> workers;
    private final List<RowId> rows;
    private final Map<RowId, Integer> index = new HashMap<>();
    private final double[] units;

    /** When each row may be entered, in hours from now; 0 for one that may. */
    private final double[] opens;

    private final double[] ease;
    private final Assumptions assume;
    private final Dice dice;
    private final Going going;
    private final Instant now;
    private final Quantiles[] own;
    private final Silence[] silences;
    private final double stopped;
    private final double usualWait;
    private final double start;
    private final boolean begun;

    /** The times of each row in each draw. */
    static final class Result {

        private final double[][] finished;
        private final Map<WorkerId, RowId> placed;

        private Result(double[][] finished, Map<WorkerId, RowId> placed) {
            this.finished = finished;
            this.placed = Map.copyOf(placed);
        }

        /** When that row is finished, in hours from now, by draw. */
        double[] finished(int row) {
            return finished[row].clone();
        }

        /** Where everybody who has reported, or was moved, is taken to be now. */
        Map<WorkerId, RowId> placed() {
            return placed;
        }
    }

    /**
     * What a worker's silence means: chances that she works and reports as usual, works and her texts are late, or has
     * left. They add up to 1.
     *
     * @param hours how long she has been silent; since the work began, where she has not reported
     * @param usual how likely so long a silence is for somebody who is at work
     */
    private record Silence(double hours, double working, double late, double left, double usual) {}

    Simulation(
            Learnt learnt,
            List<RowId> rows,
            double[] units,
            double[] opens,
            Instant now,
            Instant target,
            Assumptions assume,
            Dice dice) {
        this.learnt = learnt;
        this.workers = learnt.workers();
        this.rows = rows;
        for (int r = 0; r < rows.size(); r++) {
            index.put(rows.get(r), r);
        }
        this.units = units;
        this.opens = opens;
        this.assume = assume;
        this.dice = dice;
        this.now = now;
        ease = rows.stream().mapToDouble(learnt::easeOf).toArray();
        going = learnt.going();
        begun = !learnt.today().isEmpty();
        start = Stretch.hours(now, begun ? learnt.today().get(0).done().minus(assume.gap()) : learnt.start(target));
        own = new Quantiles[workers.size()];
        silences = new Silence[workers.size()];
        double allSilent = 1;
        int reporting = 0;
        double gaps = 0;
        for (int w = 0; w < own.length; w++) {
            Worker worker = workers.get(w);
            own[w] = Quantiles.gamma(worker.shape() + worker.flowers() / assume.clumping());
            silences[w] = silence(worker, now);
            if (worker.last() != null && silences[w].working() > silences[w].left()) {
                allSilent *= silences[w].usual();
                reporting++;
                gaps += worker.gap();
            }
        }
        usualWait = reporting == 0 ? 0 : gaps / reporting / reporting;
        double prior = assume.stopNow();
        stopped = reporting < 2 ? 0 : prior / (prior + (1 - prior) * allSilent);
    }

    private Silence silence(Worker worker, Instant now) {
        Work last = worker.last();
        if (last == null) {
            double silent = begun ? Math.max(0, -start - hours(assume.lateness())) : 0;
            double usual = (1 - worker.lateTexts()) * unreported(silent, worker.gap()) + late(worker, silent);
            double there = worker.attendance() * usual / (worker.attendance() * usual + 1 - worker.attendance());
            return new Silence(Math.max(0, -start), there, 0, 1 - there, usual);
        }
        double silent = Math.max(0, Stretch.hours(last.done(), now));
        double gone = 1 - Math.exp(-assume.leavingPerHour() * silent);
        double working = (1 - gone) * (1 - worker.lateTexts()) * unreported(silent, worker.gap());
        double late = (1 - gone) * late(worker, silent);
        double all = working + late + gone;
        return new Silence(silent, working / all, late / all, gone / all, all);
    }

    private double late(Worker worker, double silent) {
        return worker.lateTexts() * unreported(silent, worker.gap() + hours(assume.lateBy()));
    }

    /** Chance that no report has come after so long: gaps are gamma distributed with shape 2. */
    private static double unreported(double silent, double gap) {
        double gaps = 2 * silent / gap;
        return (1 + gaps) * Math.exp(-gaps);
    }

    /** Chance that she is at work. */
    double here(Worker worker) {
        Silence silence = silences[workers.indexOf(worker)];
        return stopped + (1 - stopped) * (silence.working() + silence.late());
    }

    /** Flowers an hour at this time, on average. */
    double meanPace(Worker worker) {
        int w = workers.indexOf(worker);
        double mean = 0;
        for (int s = 0; s < going.starts().size(); s++) {
            double now = going.starts().get(s).paceAt(this.now);
            mean += going.chance(s) * now * pace(worker, going.factor(s), going.hours(w, s), 1);
        }
        return mean;
    }

    /** How unsure that is, as a share of it: of her own gamma distribution and the morning's together. */
    double paceSpread(Worker worker) {
        double own = 1 / (worker.shape() + worker.flowers() / assume.clumping());
        double shared = going.spreadAt(now);
        return Math.sqrt(own + shared * shared);
    }

    private double pace(Worker worker, double factor, double hours, double chance) {
        double flowers = worker.flowers() / assume.clumping();
        return chance * (worker.shape() + flowers) / (worker.shape() / (factor * worker.usual()) + hours);
    }

    Result run(Map<WorkerId, RowId> moved) {
        return run(moved, null);
    }

    /**
     * How many flowers are tied from now on until some hours.
     *
     * @param moved workers and the rows they are in from now on
     * @param hours from now, 0 or more, rising
     * @param flowers how many are left to be tied in each row; they are taken to be tied evenly over the row's work
     * @return by hour and draw
     */
    double[][] tied(Map<WorkerId, RowId> moved, double[] hours, double[] flowers) {
        Watch watch = new Watch(hours, flowers);
        run(moved, watch);
        return watch.tied;
    }

    private Result run(Map<WorkerId, RowId> moved, @Nullable Watch watch) {
        int[] place = new int[workers.size()];
        boolean[] isMoved = new boolean[workers.size()];
        Map<WorkerId, RowId> placed = new HashMap<>();
        for (int w = 0; w < place.length; w++) {
            Worker worker = workers.get(w);
            RowId to = moved.get(worker.id());
            isMoved[w] = to != null && index.containsKey(to);
            Work last = worker.last();
            RowId row = isMoved[w] ? to : last == null ? null : last.row();
            place[w] = row == null ? NOWHERE : index.getOrDefault(row, NOWHERE);
            if (row != null && (isMoved[w] || silences[w].left() < 0.5)) {
                placed.put(worker.id(), row);
            }
        }
        double[][] finished = new double[rows.size()][Forecaster.DRAWS];
        Play play = new Play(place, isMoved, watch);
        for (int draw = 0; draw < Forecaster.DRAWS; draw++) {
            play.through(draw);
            for (int r = 0; r < finished.length; r++) {
                finished[r][draw] = play.done[r];
            }
        }
        return new Result(finished, placed);
    }

    private static double hours(Duration duration) {
        return duration.toSeconds() / 3600.0;
    }

    /** Sees at some hours how many flowers are tied. */
    private static final class Watch {

        private final double[] hours;
        private final double[] flowers;
        private final double[][] tied;
        private int next;

        Watch(double[] hours, double[] flowers) {
            this.hours = hours;
            this.flowers = flowers;
            this.tied = new double[hours.length][Forecaster.DRAWS];
        }

        /** What {@code play} is to be seen at until then: from {@code t} on nothing changes but work that goes on evenly. */
        void see(Play play, double t, double until, boolean working) {
            for (; next < hours.length && hours[next] <= until; next++) {
                double since = working ? Math.max(0, hours[next] - t) : 0;
                double sum = 0;
                for (int r = 0; r < flowers.length; r++) {
                    if (play.whole[r] > 0) {
                        double still = Math.max(0, play.left[r] - since * play.share(t) * play.speed[r]);
                        sum += flowers[r] * (1 - still / play.whole[r]);
                    }
                }
                tied[next][play.draw] = sum;
            }
        }
    }

    /** One morning, played through; its arrays are used again for the next. */
    private final class Play {

        private final @Nullable Watch watch;

        private final int[] place;
        private final boolean[] moved;
        private final int[] at = new int[workers.size()];
        private final double[] rate = new double[workers.size()];
        private final double[] from = new double[workers.size()];
        private final double[] until = new double[workers.size()];

        /** Whose next text is late: her work may be done without anybody having heard. */
        private final boolean[] late = new boolean[workers.size()];

        private final double[] whole = new double[rows.size()];
        private final double[] left = new double[rows.size()];
        private final double[] speed = new double[rows.size()];
        private final int[] hands = new int[rows.size()];

        /** How many of those have a text that is late. */
        private final int[] lateHands = new int[rows.size()];

        private final double[] done = new double[rows.size()];
        private final int[] busy = new int[rows.size()];
        private int busyRows;

        /** Rows that are not done and that nobody works. */
        private final BitSet free = new BitSet(rows.size());

        private int freeRows;
        private int draw;
        private int unfinished;
        private double stopFrom;
        private double stopUntil;

        /** Share of their later pace at which all work until it mends. */
        private double slow;

        private double mends;

        Play(int[] place, boolean[] moved, @Nullable Watch watch) {
            this.watch = watch;
            this.place = place;
            this.moved = moved;
        }

        private double all(int die) {
            return dice.at(draw, die);
        }

        private double one(int worker, int die) {
            return dice.at(draw, OF_ALL + worker * OF_ONE + die);
        }

        private double row(int row, int die) {
            return dice.at(draw, OF_ALL + (workers.size() + row) * OF_ONE + die);
        }

        void through(int number) {
            draw = number;
            drawStop();
            drawRows();
            drawWorkers();
            play();
        }

        private void drawStop() {
            boolean already = all(0) < stopped;
            double length = -Math.log(all(1)) * hours(assume.stop());
            double shortest = NEVER;
            for (int w = 0; w < silences.length; w++) {
                if (workers.get(w).last() != null) {
                    shortest = Math.min(shortest, silences[w].hours());
                }
            }
            // Had they gone on for long after the last report of anybody, there would have been another.
            stopFrom = already
                    ? -shortest + Math.min(shortest, -Math.log(all(2)) * usualWait)
                    : -Math.log(all(2)) / assume.stopPerHour();
            // A stop has no memory: however long it lasted, it goes on as if it had begun now.
            stopUntil = (already ? 0 : stopFrom) + length;
        }

        private void drawRows() {
            unfinished = 0;
            busyRows = 0;
            free.clear();
            for (int r = 0; r < left.length; r++) {
                done[r] = units[r] > 0 ? NEVER : 0;
                if (units[r] > 0) {
                    unfinished++;
                    if (opens[r] <= 0) {
                        free.set(r);
                    }
                }
                hands[r] = 0;
                lateHands[r] = 0;
                speed[r] = 0;
                double spread = Math.sqrt(assume.rowSpread() * assume.rowSpread()
                        + assume.flowerSpread() * assume.flowerSpread() / Math.max(1, units[r]));
                left[r] = units[r] * ease[r] * Math.exp(spread * Quantiles.NORMAL.at(row(r, 0)) - spread * spread / 2);
                whole[r] = left[r];
            }
            freeRows = free.cardinality();
        }

        private void drawWorkers() {
            Going.Drawn drawn = going.at((draw + 0.5) / Forecaster.DRAWS);
            Going.Start begins = going.starts().get(drawn.start());
            slow = begins.pace();
            mends = Stretch.hours(now, begins.until());
            double back = -assume.reverting() * learnt.familiarity() * Dice.even(draw, 3) * Math.log(drawn.factor());
            double shared = back + assume.sharedDrift() * Quantiles.NORMAL.at(Dice.even(draw, 2));
            for (int w = 0; w < rate.length; w++) {
                Worker worker = workers.get(w);
                Silence silence = silences[w];
                at[w] = NOWHERE;
                rate[w] = pace(worker, drawn.factor(), going.hours(w, drawn.start()), own[w].at(one(w, 0)))
                        * Math.exp(shared + assume.ownDrift() * Quantiles.NORMAL.at(one(w, 1)));
                double in = GAPS_IN_HAND * worker.gap();
                double state = one(w, 2);
                until[w] = -Math.log(one(w, 3)) / assume.leavingPerHour();
                late[w] = false;
                if (moved[w]) {
                    from[w] = 0;
                } else if (worker.last() == null) {
                    double arrival = start - Math.log(one(w, 4)) * hours(assume.lateness());
                    from[w] = Math.max(-in, begun ? arrival : Math.max(arrival, -in * one(w, 5)));
                    until[w] = state < silence.working() ? Math.max(0, from[w]) + until[w] : NEVER;
                    from[w] = state < silence.working() ? from[w] : NEVER;
                } else if (stopFrom < 0) {
                    from[w] = -silence.hours();
                } else if (state < silence.working()) {
                    from[w] = -Math.min(silence.hours(), in);
                    late[w] = one(w, 4) < worker.lateTexts();
                } else if (state < silence.working() + silence.late()) {
                    from[w] = -silence.hours();
                    late[w] = true;
                } else {
                    from[w] = -silence.hours();
                    // Had she gone on for long after her last report, there would have been another.
                    until[w] = from[w] + Math.min(silence.hours(), -Math.log(one(w, 5)) * worker.gap() / 2);
                }
            }
        }

        private void play() {
            double t = NEVER;
            for (double begin : from) {
                t = Math.min(t, begin);
            }
            double change = t;
            if (watch != null) {
                watch.next = 0;
            }
            while (unfinished > 0 && t < NEVER) {
                if (t >= change) {
                    arriveAndLeave(t);
                    change = nextChange(t);
                }
                double next = change;
                int first = NOWHERE;
                boolean working = t < stopFrom || t >= stopUntil;
                double share = share(t);
                if (working) {
                    for (int b = 0; b < busyRows; b++) {
                        int r = busy[b];
                        double done = t + left[r] / (share * speed[r]);
                        if (done <= next && !untold(r, t)) {
                            next = done;
                            first = r;
                        }
                    }
                }
                if (watch != null) {
                    watch.see(this, t, next, working);
                }
                if (working && next < NEVER) {
                    for (int b = 0; b < busyRows; b++) {
                        int r = busy[b];
                        double last = untold(r, t) ? Math.min(left[r], LAST) : 0;
                        left[r] = Math.max(last, left[r] - share * speed[r] * (next - t));
                    }
                }
                t = next;
                if (first != NOWHERE) {
                    finish(first, t);
                }
            }
            if (watch != null) {
                watch.see(this, t, NEVER, false);
            }
        }

        /** Whether the row is not finished by then, as that would have been heard. */
        private boolean untold(int r, double t) {
            return t < 0 && lateHands[r] == 0;
        }

        private double share(double t) {
            return t < mends ? slow : 1;
        }

        private double nextChange(double t) {
            double next = slow < 1 && mends > t ? mends : NEVER;
            next = t < 0 ? Math.min(next, 0) : next;
            for (double open : opens) {
                next = open > t ? Math.min(next, open) : next;
            }
            for (int w = 0; w < from.length; w++) {
                next = from[w] > t ? Math.min(next, from[w]) : next;
                next = until[w] > t && from[w] < until[w] ? Math.min(next, until[w]) : next;
            }
            next = stopFrom > t ? Math.min(next, stopFrom) : next;
            return stopUntil > t ? Math.min(next, stopUntil) : next;
        }

        private void arriveAndLeave(double t) {
            boolean moreToDo = open(t);
            for (int w = 0; w < at.length; w++) {
                if (from[w] <= t && t < until[w] && at[w] == NOWHERE) {
                    if (place[w] != NOWHERE
                            && left[place[w]] > 0
                            && done[place[w]] == NEVER
                            && opens[place[w]] <= Math.max(0, t)) {
                        go(w, place[w]);
                    } else {
                        goOn(w, place[w]);
                    }
                } else if (t >= until[w] && at[w] != NOWHERE) {
                    leave(w);
                    from[w] = NEVER;
                    moreToDo = true;
                }
            }
            if (moreToDo) {
                for (int w = 0; w < at.length; w++) {
                    if (at[w] == IDLE) {
                        goOn(w, NOWHERE);
                    }
                }
            }
        }

        /** Opens what may be entered from that time on, and says whether there is any. */
        private boolean open(double t) {
            boolean any = false;
            for (int r = 0; r < opens.length; r++) {
                if (opens[r] > 0 && opens[r] == t && done[r] == NEVER) {
                    free.set(r);
                    freeRows++;
                    any = true;
                }
            }
            return any;
        }

        private void go(int w, int r) {
            at[w] = r;
            lateHands[r] += late[w] ? 1 : 0;
            if (hands[r]++ == 0) {
                busy[busyRows++] = r;
                free.clear(r);
                freeRows--;
            }
            speed[r] += rate[w];
        }

        private void leave(int w) {
            int r = at[w];
            at[w] = NOWHERE;
            if (r >= 0) {
                speed[r] -= rate[w];
                lateHands[r] -= late[w] ? 1 : 0;
                if (--hands[r] == 0) {
                    speed[r] = 0;
                    unwork(r);
                }
            }
        }

        private void unwork(int r) {
            int b = 0;
            while (busy[b] != r) {
                b++;
            }
            busy[b] = busy[--busyRows];
            if (done[r] == NEVER) {
                free.set(r);
                freeRows++;
            }
        }

        private void finish(int r, double t) {
            done[r] = t;
            left[r] = 0;
            unfinished--;
            for (int w = 0; w < at.length; w++) {
                if (at[w] == r) {
                    leave(w);
                    goOn(w, r);
                }
            }
        }

        /** Goes on to a row that nobody works, or to help where most is left for each. */
        private void goOn(int w, int here) {
            if (freeRows > 0) {
                int turn = Math.max(0, here);
                boolean anywhere = here == NOWHERE || one(w, 6 + turn % 3) > assume.nearest();
                go(
                        w,
                        anywhere
                                ? pick((int) (freeRows
                                        * dice.at(
                                                draw,
                                                OF_ALL
                                                        + (workers.size() + rows.size() + w * rows.size() + turn)
                                                                * OF_ONE)))
                                : nearest(here));
                return;
            }
            int most = NOWHERE;
            for (int b = 0; b < busyRows; b++) {
                int r = busy[b];
                if (most == NOWHERE || left[r] * hands[most] > left[most] * hands[r]) {
                    most = r;
                }
            }
            if (most != NOWHERE && one(w, 9) < assume.helping()) {
                go(w, most);
            } else {
                at[w] = IDLE;
            }
        }

        private int nearest(int here) {
            int below = free.previousSetBit(here);
            int above = free.nextSetBit(here);
            return above == NOWHERE || (below != NOWHERE && here - below <= above - here) ? below : above;
        }

        private int pick(int number) {
            int r = free.nextSetBit(0);
            for (int seen = 0; seen < number; seen++) {
                r = free.nextSetBit(r + 1);
            }
            return r;
        }
    }
}
