package duskpeg.core.forecast;

import duskpeg.core.act.Act;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.planting.RowId;
import duskpeg.core.round.Round;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * What one message moved in one row: for each deed of the visit, how many flowers more than before are past it. A
 * flower that is tied is past every deed, whether or not those were told too, so a farm that only reports ties is
 * understood like one that reports each deed.
 *
 * @param by the worker
 * @param row the row
 * @param done when
 * @param late whether it was heard long after it was done
 * @param past flowers past each deed, more than before
 */
record Work(WorkerId by, RowId row, Instant done, boolean late, Flowers past) {

    private static final long LATE_SECONDS = 600;

    /** The work of a morning's rounds in the order in which it was done; what only says that flowers are lost is none. */
    static List<Work> of(List<Round> rounds) {
        List<Work> work = new ArrayList<>();
        rounds.forEach(round -> work.addAll(of(round)));
        work.sort(Comparator.comparing(Work::done));
        return work;
    }

    private static List<Work> of(Round round) {
        Map<Object, List<Act.OnFlowers>> messages = new LinkedHashMap<>();
        round.acts().stream()
                .filter(act -> act.deed().ofTheVisit())
                .sorted(Comparator.comparing(act -> act.told().done()))
                .forEach(act -> messages.computeIfAbsent(
                                List.of(act.told().text(), act.told().done()), key -> new ArrayList<>())
                        .add(act));
        List<Work> work = new ArrayList<>();
        Flowers said = Flowers.NONE;
        for (List<Act.OnFlowers> message : messages.values()) {
            Flowers before = said.past();
            for (Act.OnFlowers act : message) {
                said = said.plus(act.deed(), act.count());
            }
            Act.OnFlowers first = message.get(0);
            work.add(new Work(
                    first.told().by(),
                    round.id().row(),
                    first.told().done(),
                    first.told().heard().getEpochSecond() - first.told().done().getEpochSecond() > LATE_SECONDS,
                    said.past().minus(before)));
        }
        return work;
    }
}
