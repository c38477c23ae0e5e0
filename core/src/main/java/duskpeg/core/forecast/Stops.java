package duskpeg.core.forecast;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/**
 * Times of a morning in which nobody reported for so long that all must have stopped, as in rain. They are left out of
 * the hours that work takes, so that a stop is not taken for slowness.
 *
 * @param all the stops, in order; of each, the usual wait for somebody's report is left out at its beginning
 */
record Stops(List<Stop> all) {

    /** So many times the usual wait between two reports of anybody is a stop; by chance one in 400 waits is so long. */
    private static final double USUAL_WAITS = 6;

    /** Shorter than that is none. */
    private static final double SHORTEST_HOURS = 8 / 60.0;

    /** Fewer waits say nothing of what is usual. */
    private static final int FEWEST_WAITS = 8;

    /** The median of exponential waits beside their mean. */
    private static final double MEDIAN = Math.log(2);

    /** A stop. */
    record Stop(Instant from, Instant until) {}

    Stops {
        all = List.copyOf(all);
    }

    /** The stops in a morning's work, which must be in the order in which it was done. */
    static Stops of(List<Work> work) {
        List<Double> waits = new ArrayList<>();
        for (int n = 1; n < work.size(); n++) {
            double wait = Stretch.hours(work.get(n - 1).done(), work.get(n).done());
            if (wait > 0) {
                waits.add(wait);
            }
        }
        if (waits.size() < FEWEST_WAITS
                || work.stream().map(Work::by).distinct().count() < 2) {
            return new Stops(List.of());
        }
        Collections.sort(waits);
        double usual = waits.get(waits.size() / 2) / MEDIAN;
        double longest = Math.max(SHORTEST_HOURS, USUAL_WAITS * usual);
        List<Stop> stops = new ArrayList<>();
        for (int n = 1; n < work.size(); n++) {
            Instant from = work.get(n - 1).done();
            Instant until = work.get(n).done();
            if (Stretch.hours(from, until) > longest) {
                stops.add(new Stop(from.plusSeconds(Math.round(usual * 3600)), until));
            }
        }
        return new Stops(stops);
    }

    /** Hours of stops between the two times. */
    double hoursWithin(Instant from, Instant until) {
        double hours = 0;
        for (Stop stop : all) {
            Instant begin = stop.from().isAfter(from) ? stop.from() : from;
            Instant end = stop.until().isBefore(until) ? stop.until() : until;
            hours += begin.isBefore(end) ? Stretch.hours(begin, end) : 0;
        }
        return hours;
    }
}
