import duskpeg.core.act.Act;
import duskpeg.core.act.TextId;
import duskpeg.core.act.Told;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.forecast.Forecast;
import duskpeg.core.forecast.Forecast.Finish;
import duskpeg.core.forecast.Forecaster;
import duskpeg.core.forecast.Morning;
import duskpeg.core.planting.RowId;
import duskpeg.core.round.Round;
import duskpeg.core.round.RoundId;
import java.lang.management.ManagementFactory;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.PriorityQueue;
import java.util.Random;
import java.util.TreeMap;
import java.util.function.IntToDoubleFunction;
import java.util.stream.IntStream;

/**
 * Measures the forecast of a morning against invented mornings whose outcome is known, and how long it takes; see
 * {@code docs/benchmarks.md}.
 *
 * <p>The mornings are played flower by flower by people who walk, pause, report when a batch is done, forget, help or go
 * home; nothing of it is taken from the forecast's own model.
 */
final class Mornings {

    private static final LocalDate DATE = LocalDate.of(2026, 1, 15);
    private static final FarmId FARM = new FarmId("bench");
    private static final FarmSettings SETTINGS =
            new FarmSettings(ZoneOffset.UTC, LocalTime.of(9, 0), LocalTime.of(10, 0), 6);
    private static final int OPENS = 5 * 60 + 15;
    private static final int LIMIT = 600;
    private static final int[] LOOKS = {5 * 60, 6 * 60 + 30, 7 * 60 + 30, 8 * 60 + 30};
    private static final double NEVER = Double.POSITIVE_INFINITY;

    private Mornings() {}

    private enum Kind {
        STEADY,
        SLOW_START,
        SOMEONE_LEAVES,
        RAIN,
        LATE_TEXTS
    }

    private enum Style {
        IN_ONE_GO,
        ACT_BY_ACT,
        TIES_ONLY
    }

    public static void main(String[] arguments) {
        Map<String, String> given = new HashMap<>(Map.of("--mornings", "2400", "--seed", "3"));
        if (List.of(arguments).contains("--speed")) {
            speed();
            return;
        }
        for (int i = 0; i < arguments.length; i += 2) {
            if (!given.containsKey(arguments[i]) || i + 1 == arguments.length) {
                throw new IllegalArgumentException("Not understood: " + arguments[i]);
            }
            given.put(arguments[i], arguments[i + 1]);
        }
        calibrate(Integer.parseInt(given.get("--mornings")), Long.parseLong(given.get("--seed")));
    }

    // ---------------------------------------------------------------- people at work

    /** A worker as she really is. */
    private record Worker(WorkerId id, double secondsAFlower, int batch, double forgets) {}

    /** A farm as it really is. */
    private record Farm(List<Worker> workers, double[] ease, Style style, double hoursOfWork) {

        static Farm any(Random dice) {
            int crew = 4 + dice.nextInt(7);
            List<Worker> workers = new ArrayList<>();
            double typical = 85 + 60 * dice.nextDouble();
            for (int w = 0; w < crew; w++) {
                workers.add(new Worker(
                        new WorkerId(FARM, "w" + (w + 1)),
                        typical * Math.exp(0.25 * dice.nextGaussian()),
                        3 + dice.nextInt(8),
                        0.15 * dice.nextDouble()));
            }
            double[] ease = new double[12 + dice.nextInt(19)];
            Arrays.setAll(ease, r -> Math.exp(0.15 * dice.nextGaussian()));
            double kind = dice.nextDouble();
            return new Farm(
                    workers,
                    ease,
                    kind < 0.6 ? Style.IN_ONE_GO : kind < 0.85 ? Style.ACT_BY_ACT : Style.TIES_ONLY,
                    2.7 + 2.1 * dice.nextDouble());
        }
    }

    /** A text as it was sent and heard. */
    private record Sent(Act act, double heard) {}

    /** A morning that was played to its end. Minutes are of the day; {@link #NEVER} where a row was left undone. */
    private static final class Played {

        private final Farm farm;
        private final LocalDate date;
        private final Random dice;
        private final Kind kind;
        private final int[] pegged;
        private final int[] unclaimed;
        private final int[] owners;
        private final int[] open;
        private final double[] finished;
        private final List<Sent> sent = new ArrayList<>();
        private final double[] leaves;
        private final double[] pauseFrom;
        private final double[] pauseUntil;
        private final double[] delay;
        private final double[] deadFrom;
        private final double[] deadUntil;
        private final double day;
        private final double rainFrom;
        private final double rainUntil;
        private final double slowUntil;
        private int texts;

        Played(Farm farm, LocalDate date, Kind kind, Random dice) {
            this.farm = farm;
            this.date = date;
            this.kind = kind;
            this.dice = dice;
            int rows = farm.ease().length;
            int crew = farm.workers().size();
            pegged = new int[rows];
            double flowers = 0;
            for (Worker worker : farm.workers()) {
                flowers += farm.hoursOfWork() * 3600 / worker.secondsAFlower();
            }
            flowers *= Math.exp(0.1 * dice.nextGaussian());
            double[] size = IntStream.range(0, rows)
                    .mapToDouble(r -> 0.4 + dice.nextDouble())
                    .toArray();
            double all = Arrays.stream(size).sum();
            for (int r = 0; r < rows; r++) {
                pegged[r] = (int) Math.max(1, Math.round(flowers * size[r] / all));
            }
            unclaimed = pegged.clone();
            open = pegged.clone();
            owners = new int[rows];
            finished = new double[rows];
            Arrays.fill(finished, NEVER);
            leaves = each(crew, w -> NEVER);
            pauseFrom = each(crew, w -> dice.nextDouble() < 0.35 ? 360 + 200 * dice.nextDouble() : NEVER);
            pauseUntil = each(crew, w -> pauseFrom[w] + 8 + 12 * dice.nextDouble());
            delay = each(crew, w -> 0);
            deadFrom = each(crew, w -> NEVER);
            deadUntil = each(crew, w -> NEVER);
            day = Math.exp(0.12 * dice.nextGaussian());
            rainFrom = kind == Kind.RAIN ? 345 + 200 * dice.nextDouble() : NEVER;
            rainUntil = rainFrom + 10 + 35 * dice.nextDouble();
            slowUntil = kind == Kind.SLOW_START ? 400 + 60 * dice.nextDouble() : 0;
            if (kind == Kind.SOMEONE_LEAVES) {
                for (int n = 0; n < 1 + dice.nextInt(2); n++) {
                    leaves[dice.nextInt(crew)] = 370 + 150 * dice.nextDouble();
                }
            }
            if (kind == Kind.LATE_TEXTS) {
                for (int n = 0; n < 2 + dice.nextInt(2); n++) {
                    int w = dice.nextInt(crew);
                    if (dice.nextBoolean()) {
                        delay[w] = 10 + 25 * dice.nextDouble();
                    } else {
                        deadFrom[w] = 345 + 180 * dice.nextDouble();
                        deadUntil[w] = deadFrom[w] + 30 + 40 * dice.nextDouble();
                    }
                }
            }
            peg();
            play();
        }

        private static double[] each(int count, IntToDoubleFunction value) {
            return IntStream.range(0, count).mapToDouble(value).toArray();
        }

        private void peg() {
            for (int r = 0; r < pegged.length; r++) {
                Told told = told(farm.workers().get(r % farm.workers().size()), -400 + r, -400 + r, ++texts);
                sent.add(new Sent(new Act.Pegged(round(r), pegged[r], 2 * pegged[r], told), -400 + r));
            }
        }

        /** What a worker does next, and when. */
        private record Next(double at, int worker, int row) {}

        private void play() {
            PriorityQueue<Next> queue = new PriorityQueue<>(Comparator.comparingDouble(Next::at));
            int crew = farm.workers().size();
            for (int w = 0; w < crew; w++) {
                if (dice.nextDouble() < 0.93) {
                    double begins =
                            OPENS + 25 * dice.nextDouble() + (dice.nextDouble() < 0.1 ? 40 * dice.nextDouble() : 0);
                    queue.add(new Next(begins, w, w * pegged.length / crew));
                }
            }
            while (!queue.isEmpty()) {
                Next next = queue.poll();
                int row = next.row();
                double at = next.at();
                if (at >= leaves[next.worker()] || at > 20 * 60) {
                    release(row);
                    continue;
                }
                if (unclaimed[row] == 0) {
                    release(row);
                    int to = choose(row);
                    if (to < 0) {
                        continue;
                    }
                    owners[to]++;
                    queue.add(new Next(at + 0.5 + 2 * dice.nextDouble(), next.worker(), to));
                    continue;
                }
                if (owners[row] == 0) {
                    owners[row]++;
                }
                queue.add(new Next(batch(next.worker(), row, at), next.worker(), row));
            }
        }

        private void release(int row) {
            owners[row] = Math.max(0, owners[row] - 1);
        }

        private int choose(int from) {
            List<Integer> free = IntStream.range(0, pegged.length)
                    .filter(r -> unclaimed[r] > 0 && owners[r] == 0)
                    .boxed()
                    .toList();
            if (!free.isEmpty()) {
                return dice.nextDouble() < 0.2
                        ? free.get(dice.nextInt(free.size()))
                        : free.stream().filter(r -> r > from).findFirst().orElse(free.get(0));
            }
            int most = IntStream.range(0, pegged.length)
                    .boxed()
                    .max(Comparator.comparingInt(r -> unclaimed[r]))
                    .orElseThrow();
            return unclaimed[most] > 0 && dice.nextDouble() < 0.85 ? most : -1;
        }

        /** Works a batch of flowers and reports it; gives when she is ready for the next. */
        private double batch(int w, int row, double at) {
            Worker worker = farm.workers().get(w);
            int most = farm.style() == Style.ACT_BY_ACT ? 14 : worker.batch();
            if (dice.nextDouble() < worker.forgets()) {
                most *= 2;
            }
            int count = Math.min(unclaimed[row], owners[row] > 1 ? Math.min(most, 4) : most);
            unclaimed[row] -= count;
            int lost = 0;
            double[] seconds = new double[count];
            for (int f = 0; f < count; f++) {
                boolean gone = dice.nextDouble() < 0.03;
                lost += gone ? 1 : 0;
                // A gamma of shape 3: the sum of three waits.
                double waits = -Math.log(dice.nextDouble() * dice.nextDouble() * dice.nextDouble()) / 3;
                seconds[f] = gone ? 20 : worker.secondsAFlower() * farm.ease()[row] * day * waits;
            }
            return farm.style() == Style.ACT_BY_ACT
                    ? passes(w, row, at, seconds, count - lost, lost)
                    : oneByOne(w, row, at, seconds, lost);
        }

        private double oneByOne(int w, int row, double at, double[] seconds, int lost) {
            double t = at;
            int done = 0;
            for (double one : seconds) {
                if (t >= leaves[w]) {
                    break;
                }
                t = after(w, t, one);
                done++;
            }
            unclaimed[row] += seconds.length - done;
            int gone = Math.min(lost, done);
            tell(w, row, t, done - gone, gone, farm.style() == Style.TIES_ONLY ? "5" : "2345");
            finished(row, done, t);
            return t;
        }

        private double passes(int w, int row, double at, double[] seconds, int good, int lost) {
            double all = Arrays.stream(seconds).sum();
            double t = after(w, at, 0.15 * all);
            tell(w, row, t, good, lost, "2");
            t = after(w, t, 0.45 * all);
            tell(w, row, t, good, 0, "3");
            t = after(w, t, 0.4 * all);
            tell(w, row, t, good, 0, "45");
            finished(row, seconds.length, t);
            return t;
        }

        private void finished(int row, int count, double t) {
            open[row] -= count;
            if (open[row] == 0) {
                finished[row] = Math.max(t, finished[row] == NEVER ? 0 : finished[row]);
            }
        }

        /** The minute at which so much work is done that was begun at {@code t}. */
        private double after(int w, double t, double seconds) {
            double left = seconds / 60;
            double now = t;
            while (left > 0) {
                double step = Math.min(0.5, left);
                double pace = pace(w, now);
                now += pace > 0 ? step / pace : 0.5;
                left -= pace > 0 ? step : 0;
            }
            return now;
        }

        private double pace(int w, double t) {
            if (t >= rainFrom && t < rainUntil || t >= pauseFrom[w] && t < pauseUntil[w]) {
                return 0;
            }
            double wet = t >= rainUntil && t < rainUntil + 40 ? 0.8 : 1;
            return t < slowUntil ? 0.6 : wet;
        }

        private void tell(int w, int row, double t, int count, int lost, String deeds) {
            Worker worker = farm.workers().get(w);
            double heard = t + 0.2;
            if (delay[w] > 0) {
                heard = t + delay[w] * -Math.log(1 - dice.nextDouble());
            } else if (dice.nextDouble() < 0.03) {
                heard = t - 10 * Math.log(1 - dice.nextDouble());
            }
            if (t >= deadFrom[w] && t < deadUntil[w]) {
                heard = Math.max(heard, deadUntil[w] + dice.nextDouble());
            }
            boolean saysWhen = heard - t > 8 && dice.nextBoolean();
            Told told = told(worker, saysWhen ? Math.floor(t) : heard, heard, ++texts);
            if (count > 0) {
                for (char deed : deeds.toCharArray()) {
                    sent.add(new Sent(act(deed, row, count, told), heard));
                }
            }
            if (lost > 0) {
                sent.add(new Sent(new Act.Lost(round(row), lost, null, told), heard));
            }
        }

        private Act act(char deed, int row, int count, Told told) {
            return switch (deed) {
                case '2' -> new Act.Opened(round(row), count, told);
                case '3' -> new Act.Pollinated(round(row), count, told);
                case '4' -> new Act.Bagged(round(row), count, told);
                default -> new Act.Tied(round(row), count, List.of(), null, told);
            };
        }

        private Told told(Worker worker, double done, double heard, int text) {
            return new Told(worker.id(), instant(done), instant(heard), new TextId(FARM, date + "-" + text), 1, "");
        }

        private Instant instant(double minute) {
            return Mornings.instant(date, minute);
        }

        private RoundId round(int row) {
            return new RoundId(new RowId(FARM, Integer.toString(row + 1)), date);
        }

        /** What is known at that minute. */
        Morning knownAt(double minute) {
            Map<RoundId, List<Act>> heard = new HashMap<>();
            sent.stream()
                    .filter(one -> one.heard() <= minute)
                    .forEach(one -> heard.computeIfAbsent((RoundId) one.act().subject(), key -> new ArrayList<>())
                            .add(one.act()));
            return new Morning(
                    date,
                    IntStream.range(0, pegged.length)
                            .mapToObj(r -> Round.of(round(r), heard.getOrDefault(round(r), List.of())))
                            .toList());
        }

        double allFinished() {
            return Arrays.stream(finished).max().orElseThrow();
        }
    }

    private static Instant instant(LocalDate date, double minute) {
        return date.atStartOfDay(ZoneOffset.UTC).toInstant().plusMillis(Math.round(minute * 60_000));
    }

    // ---------------------------------------------------------------- calibration

    /** What is counted of one kind of morning at one hour. */
    private static final class Score {

        private int cases;
        private int covered;
        private int early;
        private int made;
        private double ours;
        private double straight;
        private double width;

        void add(Finish finish, Instant truth, boolean made, double straight) {
            cases++;
            boolean tooEarly = finish.p10() == null || truth.isBefore(finish.p10());
            boolean tooLate = finish.p90() != null && truth.isAfter(finish.p90());
            covered += tooEarly || tooLate ? 0 : 1;
            early += tooEarly ? 1 : 0;
            this.made += made ? 1 : 0;
            ours += square(finish.byLimit() - (made ? 1 : 0));
            this.straight += square(straight - (made ? 1 : 0));
            width += finish.p90() == null || finish.p10() == null
                    ? 0
                    : (finish.p90().getEpochSecond() - finish.p10().getEpochSecond()) / 60.0;
        }

        private static double square(double value) {
            return value * value;
        }

        Score plus(Score other) {
            Score sum = new Score();
            sum.cases = cases + other.cases;
            sum.covered = covered + other.covered;
            sum.early = early + other.early;
            sum.made = made + other.made;
            sum.ours = ours + other.ours;
            sum.straight = straight + other.straight;
            sum.width = width + other.width;
            return sum;
        }

        void print(String name) {
            System.out.printf(
                    Locale.ROOT,
                    "| %-24s | %6d | %4.0f | %5.1f | %5.1f | %5.1f | %4.0f | %.4f | %.4f | %5.2f |%n",
                    name,
                    cases,
                    100.0 * made / cases,
                    100.0 * covered / cases,
                    100.0 * early / cases,
                    100.0 * (cases - covered - early) / cases,
                    width / cases,
                    ours / cases,
                    straight / cases,
                    ours / straight);
        }
    }

    private static void calibrate(int mornings, long seed) {
        Map<Kind, Map<Integer, Score>> whole = new EnumMap<>(Kind.class);
        Map<Kind, Map<Integer, Score>> rows = new EnumMap<>(Kind.class);
        for (int n = 0; n < mornings; n++) {
            Random dice = new Random(seed * 1_000_003 + n);
            Kind kind = Kind.values()[n % Kind.values().length];
            Farm farm = Farm.any(dice);
            List<Morning> earlier = new ArrayList<>();
            for (int before = dice.nextInt(5); before > 0; before--) {
                Kind any = Kind.values()[dice.nextInt(Kind.values().length)];
                earlier.add(new Played(farm, DATE.minusDays(before), any, dice).knownAt(24 * 60));
            }
            Played played = new Played(farm, DATE, kind, dice);
            for (int look : LOOKS) {
                look(played, earlier, look, score(whole, kind, look), score(rows, kind, look));
            }
        }
        System.out.println("mornings " + mornings + ", seed " + seed);
        print("whole morning", whole);
        print("single rows", rows);
    }

    private static Score score(Map<Kind, Map<Integer, Score>> scores, Kind kind, int look) {
        return scores.computeIfAbsent(kind, key -> new TreeMap<>()).computeIfAbsent(look, key -> new Score());
    }

    private static void look(Played played, List<Morning> earlier, int look, Score whole, Score rows) {
        Morning known = played.knownAt(look);
        Instant now = instant(DATE, look);
        Forecast forecast = Forecaster.of(
                        known,
                        earlier,
                        played.farm.workers().stream().map(Worker::id).toList(),
                        Map.of(),
                        SETTINGS,
                        Duration.ofMinutes(9 * 60 - OPENS),
                        now,
                        7)
                .forecast();
        int left =
                known.rounds().stream().mapToInt(round -> round.tally().left()).sum();
        if (left == 0) {
            return;
        }
        double line = straight(known.rounds(), look);
        whole.add(forecast.whole(), truth(played.allFinished()), played.allFinished() <= LIMIT, makes(line));
        for (int r = 0; r < known.rounds().size(); r++) {
            Round round = known.rounds().get(r);
            if (round.tally().left() > 0) {
                double own = straight(List.of(round), look);
                rows.add(
                        forecast.row(round.id().row()).orElseThrow().finish(),
                        truth(played.finished[r]),
                        played.finished[r] <= LIMIT,
                        makes(Double.isNaN(own) ? line : own));
            }
        }
    }

    private static Instant truth(double minute) {
        return minute == NEVER ? Instant.MAX : instant(DATE, minute);
    }

    /** 1 if the straight line makes the limit, 0 if not; a coin's 0.5 where there is no line yet. */
    private static double makes(double minute) {
        return Double.isNaN(minute) ? 0.5 : minute <= LIMIT ? 1 : 0;
    }

    /** When all are tied if it goes on as since the first report. */
    private static double straight(List<Round> rounds, int look) {
        double first = NEVER;
        int done = 0;
        int left = 0;
        for (Round round : rounds) {
            left += round.tally().left();
            done += round.tally().tied() + round.tally().lost();
            for (Act act : round.acts()) {
                if (act.deed().ofTheVisit()) {
                    first = Math.min(
                            first,
                            (act.told().done().getEpochSecond()
                                            - instant(DATE, 0).getEpochSecond())
                                    / 60.0);
                }
            }
        }
        return done == 0 || first >= look ? Double.NaN : look + left * (look - first) / done;
    }

    private static void print(String what, Map<Kind, Map<Integer, Score>> scores) {
        System.out.println();
        System.out.println(what);
        System.out.println(
                "| kind, hour               |  cases | made | 80%   | early | late  | wide | Brier  | line   | ratio |");
        System.out.println(
                "|--------------------------|-------:|-----:|------:|------:|------:|-----:|-------:|-------:|------:|");
        Map<Integer, Score> byHour = new TreeMap<>();
        Score all = new Score();
        Score morning = new Score();
        for (Map.Entry<Kind, Map<Integer, Score>> kind : scores.entrySet()) {
            Score ofKind = new Score();
            for (Map.Entry<Integer, Score> hour : kind.getValue().entrySet()) {
                hour.getValue().print(name(kind.getKey()) + ", " + clock(hour.getKey()));
                byHour.merge(hour.getKey(), hour.getValue(), Score::plus);
                all = all.plus(hour.getValue());
                if (hour.getKey() != LOOKS[0]) {
                    ofKind = ofKind.plus(hour.getValue());
                    morning = morning.plus(hour.getValue());
                }
            }
            ofKind.print(name(kind.getKey()) + " from 06:30");
        }
        byHour.forEach((hour, score) -> score.print("all, " + clock(hour)));
        morning.print("all from 06:30");
    }

    private static String name(Kind kind) {
        return kind.name().toLowerCase(Locale.ROOT).replace('_', ' ');
    }

    private static String clock(int minute) {
        return String.format(Locale.ROOT, "%02d:%02d", minute / 60, minute % 60);
    }

    // ---------------------------------------------------------------- speed

    private static void speed() {
        time("24 rows, 8 workers", 24, 8);
        time("200 rows, 60 workers", 200, 60);
    }

    private static void time(String name, int rows, int crew) {
        Random dice = new Random(5);
        List<Worker> workers = IntStream.rangeClosed(1, crew)
                .mapToObj(w -> new Worker(new WorkerId(FARM, "w" + w), 110, 6, 0.1))
                .toList();
        double[] ease = new double[rows];
        Arrays.fill(ease, 1);
        Farm farm = new Farm(workers, ease, Style.IN_ONE_GO, 3.5);
        List<Morning> earlier = IntStream.rangeClosed(1, 5)
                .mapToObj(before -> new Played(farm, DATE.minusDays(before), Kind.STEADY, dice).knownAt(24 * 60))
                .toList();
        Morning known = new Played(farm, DATE, Kind.STEADY, dice).knownAt(7 * 60);
        double[] all = new double[60];
        double[] asking = new double[60];
        for (int n = 0; n < all.length; n++) {
            long started = cpu();
            Forecaster forecaster = Forecaster.of(
                    known,
                    earlier,
                    workers.stream().map(Worker::id).toList(),
                    Map.of(),
                    SETTINGS,
                    Duration.ofMinutes(225),
                    instant(DATE, 420),
                    7);
            long learnt = cpu();
            forecaster.forecast();
            all[n] = (cpu() - started) / 1e6;
            asking[n] = (cpu() - learnt) / 1e6;
        }
        System.out.printf(
                Locale.ROOT,
                "%s: first %.0f ms of processor time, then median %.1f ms; asking once more, what if: %.1f ms%n",
                name,
                all[0],
                median(all),
                median(asking));
    }

    /** Processor time of this thread, which other programs on the machine don't lengthen much. */
    private static long cpu() {
        return ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
    }

    private static double median(double[] values) {
        double[] later = Arrays.copyOfRange(values, values.length / 2, values.length);
        Arrays.sort(later);
        return later[later.length / 2];
    }
}
