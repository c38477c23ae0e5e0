package duskpeg.projections.harvest;

import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.NavigableMap;

/**
 * Counts by day as bars, drawn into a box of 1000 by 1000 that is stretched to where it stands, so that writing beside it
 * is not.
 *
 * @param pale the path of the bars behind
 * @param full the path of the bars in front, which are never higher than those behind
 * @param most the count at the upper line
 * @param days marks of days
 * @param says the same in words
 */
record Bars(String pale, String full, int most, List<Mark> days, String says) {

    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("d MMM", Locale.ENGLISH);

    /** The upper line leaves room above it for its number. */
    private static final double ROOM = 140;

    private static final int BOX = 1000;

    /** A bar takes so much of its day's width. */
    private static final double SHARE = 0.7;

    private static final int MARKS = 4;

    Bars {
        days = List.copyOf(days);
    }

    /** A day on the lower edge; {@code x} is in hundredths of the width. */
    record Mark(String label, String x) {}

    /**
     * Draws.
     *
     * @param pale counts by day
     * @param full counts by day, none higher than that of the same day
     * @param says the same in words
     */
    static Bars of(NavigableMap<LocalDate, Integer> pale, NavigableMap<LocalDate, Integer> full, String says) {
        LocalDate from = pale.firstKey();
        int days = Math.toIntExact(ChronoUnit.DAYS.between(from, pale.lastKey())) + 1;
        int most = Math.max(
                1, pale.values().stream().mapToInt(Integer::intValue).max().orElse(1));
        List<Mark> marks = new ArrayList<>();
        int step = Math.max(1, (days + MARKS - 2) / (MARKS - 1));
        for (int day = 0; day < days; day += step) {
            marks.add(new Mark(from.plusDays(day).format(DAY), percent((day + 0.5) / days)));
        }
        return new Bars(path(pale, from, days, most), path(full, from, days, most), most, marks, says);
    }

    private static String path(NavigableMap<LocalDate, Integer> counts, LocalDate from, int days, int most) {
        StringBuilder path = new StringBuilder();
        counts.forEach((day, count) -> {
            double left = (ChronoUnit.DAYS.between(from, day) + (1 - SHARE) / 2) * BOX / days;
            double top = BOX - (BOX - ROOM) * count / most;
            path.append(String.format(Locale.ROOT, "M%.1f 1000V%.1fH%.1fV1000Z", left, top, left + SHARE * BOX / days));
        });
        return path.toString();
    }

    private static String percent(double share) {
        return String.format(Locale.ROOT, "%.2f%%", 100 * share);
    }
}
