package duskpeg.projections.history;

import duskpeg.core.act.Act;
import duskpeg.projections.copies.Copies;
import duskpeg.projections.copies.Projection;
import java.util.List;
import java.util.Map;
import org.axonframework.config.ProcessingGroup;
import org.axonframework.eventhandling.EventHandler;
import org.axonframework.messaging.annotation.MessageIdentifier;
import org.axonframework.messaging.unitofwork.UnitOfWork;
import org.springframework.stereotype.Component;

/** Keeps where each tie was put on. What was said of a row's night or of a fruit lies in the log by that; so a history is read there. */
@Component
@ProcessingGroup(HistoryProjection.NAME)
public class HistoryProjection implements Projection {

    static final String NAME = "history";

    static final Table TIES = new Table(
            "history_tie",
            List.of("position", "farm", "tie", "morning", "round"),
            Map.of(
                    "history_tie_tie",
                    "farm, tie",
                    "history_tie_morning",
                    "farm, morning",
                    "history_tie_position",
                    "position"));

    private final Copies copies;

    HistoryProjection(Copies copies) {
        this.copies = copies;
    }

    @EventHandler
    void on(Act act, @MessageIdentifier String event, UnitOfWork<?> unit) {
        copies.follow(this, act, event, unit);
    }

    @Override
    public String name() {
        return NAME;
    }

    /** The name of the table of ties, in the copy that is looked at. */
    public static String ties(Copies copies) {
        return copies.table(NAME, TIES);
    }

    @Override
    public List<Table> tables() {
        return List.of(TIES);
    }

    @Override
    public void rows(Entry entry, Rows rows) {
        if (entry.act() instanceof Act.Tied tied) {
            String farm = tied.round().farm().value();
            tied.ties().stream()
                    .distinct()
                    .forEach(tie -> rows.add(
                            TIES,
                            entry.position(),
                            farm,
                            tie.digits(),
                            tied.round().morning(),
                            tied.round().toString()));
        }
    }
}
