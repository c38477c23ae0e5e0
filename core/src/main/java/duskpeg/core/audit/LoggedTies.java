package duskpeg.core.audit;

import duskpeg.core.act.Act;
import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.crew.Holding;
import duskpeg.core.crew.Holdings;
import duskpeg.core.crew.Holdings.Placed;
import duskpeg.core.crew.Strip;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.fruit.TieUses;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** What an extract of the log tells of ties. */
final class LoggedTies implements TieUses {

    private final List<Placed> custody = new ArrayList<>();
    private final Holdings holdings;
    private final Map<TieNumber, Integer> times = new HashMap<>();

    LoggedTies(List<Logged> events) {
        List<Act> acts = new ArrayList<>();
        for (Logged logged : events) {
            if (logged.event() instanceof CustodyEvent event) {
                custody.add(new Placed(logged.leaf(), event));
            } else if (logged.event() instanceof Act act) {
                acts.add(act);
                takeBack(act);
            }
        }
        holdings = Holdings.of(custody);
        Act.only(Act.Tied.class, Act.standing(acts))
                .flatMap(tied -> tied.ties().stream())
                .forEach(tie -> times.merge(tie, 1, Integer::sum));
    }

    /** What a message said of ties in a worker's hands is taken back as a whole. */
    private void takeBack(Act act) {
        if (act instanceof Act.TakenBack back && back.line() == null && back.subject() instanceof WorkerId worker) {
            custody.removeIf(placed -> placed.event().worker().equals(worker)
                    && placed.event().text().filter(back.text()::equals).isPresent());
        }
    }

    @Override
    public Optional<Holding> holding(TieNumber tie, Instant at) {
        return holdings.of(tie, at);
    }

    @Override
    public int times(TieNumber tie) {
        return times.getOrDefault(tie, 0);
    }

    @Override
    public boolean isDamaged(TieNumber tie) {
        return custody.stream()
                .map(Placed::event)
                .anyMatch(event -> event instanceof CustodyEvent.TieDamaged damaged
                        && damaged.tie().equals(tie));
    }

    /** Where other ties are is asked of the morning's work alone, and weighs on no verdict. */
    @Override
    public Optional<Strip> skippedBefore(TieNumber tie) {
        return Optional.empty();
    }
}
