package duskpeg.projections.board;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.forecast.Forecast.Progress;
import duskpeg.core.forecast.Morning;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.function.ToDoubleFunction;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * Flowers tied against time: what was reported, by when it was done, and how it is expected to go on. It is drawn into a
 * box of 1000 by 1000 that is stretched to where it stands, so that writing beside it is not.
 *
 * @param span from when to when
 * @param total flowers to be tied, on the upper line
 * @param tied flowers tied
 * @param reported the path of what was reported
 * @param area the same, closed above the lower edge
 * @param band the path around what is expected, 8 times in 10; empty where nothing is
 * @param middle the path as likely above as below; empty likewise
 * @param hours marks of full hours
 * @param target where the target stands
 * @param limit where the limit stands
 * @param end where what is known ends
 * @param steps the same in numbers, for each half hour
 * @param says the same in words
 */
record Curve(
        Span span,
        int total,
        int tied,
        String reported,
        String area,
        String band,
        String middle,
        List<Mark> hours,
        Mark target,
        Mark limit,
        End end,
        List<Step> steps,
        String says) {

    /** The upper line leaves room above it for the names of target and limit. */
    private static final double ROOM = 240;

    /** How much of the drawing's height the box takes; the hours are written below it. */
    private static final double BOX = 0.88;

    private static final Duration STEP = Duration.ofMinutes(30);
    private static final Duration FINE = Duration.ofMinutes(5);

    /** Reports of work that was done later after the limit are beyond the edge. */
    private static final Duration BEYOND = Duration.ofHours(2);

    Curve {
        hours = List.copyOf(hours);
        steps = List.copyOf(steps);
    }

    /**
     * A time on the lower edge.
     *
     * @param x in hundredths of the width
     */
    record Mark(String label, String x) {}

    /**
     * Where what is known ends.
     *
     * @param x in hundredths of the width
     * @param y in hundredths of the height
     * @param left whether it is in the left half
     */
    record End(String label, String x, String y, boolean left) {}

    /**
     * One line of the numbers.
     *
     * @param tied what was reported; null where that is still to come
     * @param low 9 times in 10 at least that many; null where nothing is expected
     * @param middle as likely more as fewer; null likewise
     * @param high 9 times in 10 at most that many; null likewise
     */
    record Step(
            String time,
            @Nullable Integer tied,
            @Nullable Long low,
            @Nullable Long middle,
            @Nullable Long high) {}

    /** From when to when it is drawn. */
    record Span(Instant from, Instant to) {

        /**
         * From when flowers open, or work began before that, to the limit, or as much later as work went on.
         *
         * @param opens when flowers open
         * @param limit the limit
         * @param last until when work is known or expected to go on
         */
        static Span of(Instant opens, Instant limit, Morning morning, Instant last) {
            Instant latest = limit.plus(BEYOND);
            Instant first = visits(morning).min(Comparator.naturalOrder()).orElse(opens);
            Instant done = visits(morning).max(Comparator.naturalOrder()).orElse(limit);
            Instant to =
                    Stream.of(limit, done, last).max(Comparator.naturalOrder()).orElse(limit);
            Instant from = first.isBefore(opens) ? first : opens;
            Instant earliest = limit.minus(Duration.ofHours(12));
            return new Span(
                    floor(from.isBefore(earliest) ? opens : from),
                    floor((to.isAfter(latest) ? latest : to).plus(STEP)));
        }

        private static Stream<Instant> visits(Morning morning) {
            return morning.rounds().stream()
                    .flatMap(round -> round.acts().stream())
                    .filter(act -> act.deed().ofTheVisit())
                    .map(act -> act.told().done());
        }

        private static Instant floor(Instant at) {
            long step = STEP.toSeconds();
            return Instant.ofEpochSecond(Math.floorDiv(at.getEpochSecond(), step) * step);
        }

        /** Every five minutes that are still to come, and now. */
        List<Instant> toCome(Instant now) {
            List<Instant> times = new ArrayList<>();
            Instant time = from;
            if (now.isAfter(from)) {
                times.add(now);
                long fine = FINE.toSeconds();
                time = Instant.ofEpochSecond((Math.floorDiv(now.getEpochSecond(), fine) + 1) * fine);
            }
            for (; !time.isAfter(to); time = time.plus(FINE)) {
                times.add(time);
            }
            return now.isBefore(to) ? times : List.of();
        }
    }

    /** Draws. */
    static Curve of(Board board, Morning morning, List<Progress> progress, Span span) {
        return new Pen(board, morning, progress, span).draw();
    }

    private record Tie(Instant done, int count) {}

    /** What is needed to draw one. */
    private static final class Pen {

        private final Board board;
        private final Span span;
        private final List<Progress> progress;
        private final ZoneId zone;
        private final int total;
        private final List<Tie> ties;
        private final Instant known;

        Pen(Board board, Morning morning, List<Progress> progress, Span span) {
            this.board = board;
            this.span = span;
            this.progress = progress;
            this.zone = board.now().getOffset();
            this.total = Math.max(1, board.getTied() + board.getLeft());
            this.ties = morning.rounds().stream()
                    .flatMap(round -> round.acts().stream())
                    .filter(act -> act.deed() == Deed.TIED)
                    .map(Pen::tie)
                    .sorted(Comparator.comparing(Tie::done))
                    .toList();
            Instant now = board.now().toInstant();
            this.known = now.isBefore(span.from()) ? span.from() : now.isAfter(span.to()) ? span.to() : now;
        }

        private static Tie tie(Act.OnFlowers act) {
            return new Tie(act.told().done(), act.count());
        }

        Curve draw() {
            String reported = reported();
            Progress last = progress.isEmpty() ? null : progress.get(progress.size() - 1);
            boolean drawn = last != null && board.getLeft() > 0;
            int done = tiedBy(known);
            return new Curve(
                    span,
                    total,
                    board.getTied(),
                    reported,
                    reported + "V1000H0Z",
                    drawn ? band() : "",
                    drawn ? line("M", progress, Progress::middle) : "",
                    hours(),
                    mark(
                            "target " + clock(board.target().toInstant()),
                            board.target().toInstant()),
                    mark(
                            "limit " + clock(board.limit().toInstant()),
                            board.limit().toInstant()),
                    new End(done + " tied", hundredths(x(known) / 10), hundredths(BOX * y(done) / 10), x(known) < 220),
                    steps(drawn),
                    says(drawn));
        }

        private int tiedBy(Instant time) {
            return ties.stream()
                    .filter(tie -> !tie.done().isAfter(time))
                    .mapToInt(Tie::count)
                    .sum();
        }

        private String reported() {
            StringBuilder path = new StringBuilder("M0 " + number(y(tiedBy(span.from()))));
            int sum = tiedBy(span.from());
            for (Tie tie : ties) {
                if (tie.done().isAfter(span.from()) && !tie.done().isAfter(known)) {
                    sum += tie.count();
                    path.append('H').append(number(x(tie.done()))).append('V').append(number(y(sum)));
                }
            }
            return path.append('H').append(number(x(known))).toString();
        }

        private String band() {
            List<Progress> back = new ArrayList<>(progress);
            Collections.reverse(back);
            return line("M", progress, Progress::high) + line("L", back, Progress::low) + "Z";
        }

        private String line(String first, List<Progress> along, ToDoubleFunction<Progress> count) {
            StringBuilder path = new StringBuilder();
            for (Progress one : along) {
                path.append(path.length() == 0 ? first : "L")
                        .append(number(x(one.at())))
                        .append(' ')
                        .append(number(y(count.applyAsDouble(one))));
            }
            return path.toString();
        }

        private List<Mark> hours() {
            List<Mark> hours = new ArrayList<>();
            OffsetDateTime hour = span.from().atZone(zone).toOffsetDateTime().truncatedTo(ChronoUnit.HOURS);
            for (; !hour.toInstant().isAfter(span.to()); hour = hour.plusHours(1)) {
                double x = x(hour.toInstant());
                if (x >= 25 && x <= 975) {
                    hours.add(mark(clock(hour.toInstant()), hour.toInstant()));
                }
            }
            return hours;
        }

        private Mark mark(String label, Instant at) {
            return new Mark(label, hundredths(x(at) / 10));
        }

        private List<Step> steps(boolean drawn) {
            List<Step> steps = new ArrayList<>();
            for (Instant time = span.from(); !time.isAfter(span.to()); time = time.plus(STEP)) {
                Progress expected = drawn ? at(time) : null;
                Integer tied = time.isAfter(known) ? null : Integer.valueOf(tiedBy(time));
                if (tied != null) {
                    expected = null;
                }
                if (tied != null || expected != null) {
                    steps.add(new Step(
                            clock(time),
                            tied,
                            expected == null ? null : Long.valueOf(Math.round(expected.low())),
                            expected == null ? null : Long.valueOf(Math.round(expected.middle())),
                            expected == null ? null : Long.valueOf(Math.round(expected.high()))));
                }
            }
            return steps;
        }

        private @Nullable Progress at(Instant time) {
            return progress.stream()
                    .filter(one -> one.at().equals(time))
                    .findFirst()
                    .orElse(null);
        }

        private String says(boolean drawn) {
            String says = "By " + clock(known) + ", " + tiedBy(known) + " of " + total + " flowers were tied.";
            Progress atLimit = drawn ? at(board.limit().toInstant()) : null;
            return atLimit == null
                    ? says
                    : says + " At the limit, " + clock(atLimit.at()) + ", about " + Math.round(atLimit.middle())
                            + " are expected to be, 8 times in 10 from " + Math.round(atLimit.low()) + " to "
                            + Math.round(atLimit.high()) + ".";
        }

        private double x(Instant at) {
            double all = Duration.between(span.from(), span.to()).toMillis();
            return Math.max(
                    0, Math.min(1000, 1000 * Duration.between(span.from(), at).toMillis() / all));
        }

        private double y(double count) {
            return 1000 - (1000 - ROOM) * Math.min(1, count / total);
        }

        private String clock(Instant at) {
            return String.format(Locale.ROOT, "%tH:%<tM", at.atZone(zone));
        }

        private static String number(double value) {
            return String.format(Locale.ROOT, "%.1f", value);
        }

        private static String hundredths(double value) {
            return String.format(Locale.ROOT, "%.2f%%", value);
        }
    }
}
