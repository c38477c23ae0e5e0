package duskpeg.core.moves;

import duskpeg.core.act.Told;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.day.DayEvent;
import duskpeg.core.forecast.Morning;
import duskpeg.core.planting.RowId;
import java.time.Duration;
import java.time.Instant;
import java.util.Collection;
import java.util.HashMap;
import java.util.Map;

/** Who was told to go on in another row and has not reported since. */
public final class OnTheWay {

    /** Who does not report for so long after she was told did not go there: ours, no source. */
    public static final Duration LONGEST = Duration.ofMinutes(45);

    private OnTheWay() {}

    /**
     * Where they are taken to be. A worker's own report is always believed before what she was told.
     *
     * @param sent who was told what, in the order in which they were
     * @param morning what was reported
     */
    public static Map<WorkerId, RowId> to(Collection<DayEvent.Sent> sent, Morning morning, Instant now) {
        Map<WorkerId, Instant> heard = new HashMap<>();
        morning.rounds().stream()
                .flatMap(round -> round.acts().stream())
                .map(act -> act.told())
                .forEach((Told told) ->
                        heard.merge(told.by(), told.heard(), (one, other) -> one.isAfter(other) ? one : other));
        Map<WorkerId, RowId> to = new HashMap<>();
        for (DayEvent.Sent one : sent) {
            boolean isGoing = !one.at().isAfter(now)
                    && one.at().plus(LONGEST).isAfter(now)
                    && !heard.getOrDefault(one.worker(), Instant.MIN).isAfter(one.at());
            if (isGoing) {
                to.put(one.worker(), one.row());
            } else {
                to.remove(one.worker());
            }
        }
        return Map.copyOf(to);
    }
}
