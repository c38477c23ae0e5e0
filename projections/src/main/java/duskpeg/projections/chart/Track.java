package duskpeg.projections.chart;

import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * Readings by day. The line is drawn into a box of 1000 by 1000 that is stretched to where it stands, so that writing
 * beside it is not.
 *
 * @param id of the drawing, unique on its page
 * @param says the same in words
 * @param path from reading to reading
 * @param dots the readings
 * @param limit the y of what they are held against, in hundredths of the height; null where that is nothing
 * @param limitName what it is called
 * @param days marks on the lower edge
 */
public record Track(
        String id,
        String says,
        String path,
        List<Dot> dots,
        @Nullable String limit,
        String limitName,
        List<Mark> days) {

    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("d MMM", Locale.ENGLISH);
    private static final int BOX = 1000;

    /** The box takes so much of the height; below it stand the days. */
    private static final double HEIGHT = 0.84;

    /** Room above the highest reading for its number. */
    private static final double ROOM = 0.25;

    /** And at both sides. */
    private static final double SIDE = 0.08;

    public Track {
        dots = List.copyOf(dots);
        days = List.copyOf(days);
    }

    /** A reading; its number stands above it. */
    public record Dot(String x, String y, String label) {}

    /** What was read. */
    public record Reading(LocalDate day, double value, String label) {}

    /**
     * Draws.
     *
     * @param readings by day, at least one
     * @param limit null where there is none
     */
    public static Track of(String id, String says, List<Reading> readings, @Nullable Double limit, String limitName) {
        LocalDate from = readings.get(0).day();
        LocalDate to = readings.get(readings.size() - 1).day();
        long days = Math.max(1, ChronoUnit.DAYS.between(from, to));
        double most =
                Math.max(readings.stream().mapToDouble(Reading::value).max().orElse(1), limit == null ? 0 : limit);
        StringBuilder path = new StringBuilder();
        List<Dot> dots = new ArrayList<>();
        List<Mark> marks = new ArrayList<>();
        double lastMark = -1;
        for (Reading one : readings) {
            double x = SIDE + (1 - 2 * SIDE) * ChronoUnit.DAYS.between(from, one.day()) / days;
            double y = 1 - (1 - ROOM) * one.value() / most;
            path.append(String.format(Locale.ROOT, "%s%.1f %.1f", path.isEmpty() ? "M" : "L", x * BOX, y * BOX));
            dots.add(new Dot(Axis.percent(x), Axis.percent(y * HEIGHT), one.label()));
            // Days that are near each other have one mark.
            if (x - lastMark > 0.2) {
                marks.add(new Mark(one.day().format(DAY), Axis.percent(x)));
                lastMark = x;
            }
        }
        return new Track(
                id,
                says,
                path.toString(),
                dots,
                limit == null ? null : Axis.percent((1 - (1 - ROOM) * limit / most) * HEIGHT),
                limitName,
                marks);
    }
}
