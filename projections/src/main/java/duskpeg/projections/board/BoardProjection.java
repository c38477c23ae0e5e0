package duskpeg.projections.board;

import duskpeg.core.act.Act;
import duskpeg.core.round.RoundId;
import duskpeg.projections.copies.Copies;
import duskpeg.projections.copies.Projection;
import java.util.List;
import java.util.Map;
import org.axonframework.config.ProcessingGroup;
import org.axonframework.eventhandling.EventHandler;
import org.axonframework.messaging.annotation.MessageIdentifier;
import org.axonframework.messaging.unitofwork.UnitOfWork;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.stereotype.Component;

/**
 * Keeps the acts of every round by morning. It only adds rows, one for an event and never twice, so that it can be
 * filled again, late, or from several threads without a thought.
 */
@Component
@ProcessingGroup(BoardProjection.NAME)
class BoardProjection implements Projection {

    static final String NAME = "board";

    private static final Logger LOG = LoggerFactory.getLogger(BoardProjection.class);

    static final Table ACTS = new Table(
            "board_act",
            List.of("position", "farm", "morning", "row_label", "act"),
            Map.of("board_act_morning", "farm, morning, position"));

    private final Copies copies;

    BoardProjection(Copies copies) {
        this.copies = copies;
    }

    @EventHandler
    void on(Act act, @MessageIdentifier String event, UnitOfWork<?> unit) {
        // With the ids of the text and the event, while they are known; boards that are pushed say their position.
        if (act.subject() instanceof RoundId round) {
            LOG.debug("On the board of {} for {}", round.farm().value(), round.morning());
        }
        copies.follow(this, act, event, unit);
    }

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public List<Table> tables() {
        return List.of(ACTS);
    }

    @Override
    public void rows(Entry entry, Rows rows) {
        if (entry.act().subject() instanceof RoundId round) {
            rows.add(
                    ACTS,
                    entry.position(),
                    round.farm().value(),
                    round.morning(),
                    round.row().label(),
                    entry.written());
        }
    }
}
