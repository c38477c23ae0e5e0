package duskpeg.core.forecast;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.planting.RowId;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * A worker's time from one of her reports to the next, her pauses and walks included and stops of all left out, and what she did in it. What she
 * did before her first report is not one, because nobody said when she began.
 *
 * @param by the worker
 * @param row the row she reported from at its end
 * @param until its end
 * @param hours how long
 * @param past flowers past each deed, more than before
 */
record Stretch(WorkerId by, RowId row, Instant until, double hours, Flowers past) {

    private static final double SECONDS_AN_HOUR = 3600;

    /** Texts that come so close, as when a phone is back, tell of work that was done before the first of them. */
    private static final double ONE_BREATH_HOURS = 1 / 60.0;

    /**
     * The stretches of a morning's work, which must be in the order in which it was done. Reports in one breath are one.
     */
    static List<Stretch> of(List<Work> work, Stops stops) {
        Map<WorkerId, Instant> last = new HashMap<>();
        Map<WorkerId, Integer> latest = new HashMap<>();
        List<Stretch> stretches = new ArrayList<>();
        for (Work one : work) {
            Instant before = last.putIfAbsent(one.by(), one.done());
            if (before == null) {
                continue;
            }
            if (hours(before, one.done()) > ONE_BREATH_HOURS) {
                double hours = hours(before, one.done()) - stops.hoursWithin(before, one.done());
                last.put(one.by(), one.done());
                latest.put(one.by(), stretches.size());
                stretches.add(new Stretch(one.by(), one.row(), one.done(), hours, one.past()));
            } else {
                Integer index = latest.get(one.by());
                if (index != null) {
                    stretches.set(index, stretches.get(index).and(one));
                }
            }
        }
        return stretches;
    }

    private Stretch and(Work more) {
        return new Stretch(by, row, until, hours, past.plus(more.past()));
    }

    static double hours(Instant from, Instant to) {
        Duration between = Duration.between(from, to);
        return (between.toSeconds() + between.toNanosPart() / 1e9) / SECONDS_AN_HOUR;
    }
}
