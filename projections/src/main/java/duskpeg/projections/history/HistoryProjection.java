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

/** Keeps every act by its subject, and where each tie was put on. It only adds rows, one for an event. */
@Component
@ProcessingGroup(HistoryProjection.NAME)
public class HistoryProjection implements Projection {

    static final String NAME = "history";

    static final Table ACTS = new Table(
            "history_act",
            List.of("position", "event_id", "farm", "subject", "act"),
            Map.of("history_act_subject", "subject, position"));

    static final Table TIES = new Table(
            "history_tie",
            List.of("position", "farm", "tie", "morning", "round"),
            Map.of("history_tie_tie", "farm, tie", "history_tie_morning", "farm, morning"));

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

    /** The name of the table of acts, in the copy that is looked at. */
    public static String acts(Copies copies) {
        return copies.table(NAME, ACTS);
    }

    /** The name of the table of ties, in the copy that is looked at. */
    public static String ties(Copies copies) {
        return copies.table(NAME, TIES);
    }

    @Override
    public List<Table> tables() {
        return List.of(ACTS, TIES);
    }

    @Override
    public void rows(Entry entry, Rows rows) {
        Act act = entry.act();
        String farm = act.subject().farm().value();
        rows.add(ACTS, entry.position(), entry.id(), farm, act.subject().toString(), entry.written());
        if (act instanceof Act.Tied tied) {
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
