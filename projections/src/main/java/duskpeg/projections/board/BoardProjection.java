package duskpeg.projections.board;

import duskpeg.core.act.Act;
import duskpeg.core.round.RoundId;
import duskpeg.core.store.EventJson;
import org.axonframework.config.ProcessingGroup;
import org.axonframework.eventhandling.EventHandler;
import org.axonframework.eventhandling.ResetHandler;
import org.axonframework.eventhandling.TrackingToken;
import org.axonframework.messaging.annotation.MessageIdentifier;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * Keeps the acts of every round by morning. It only adds rows, one for an event and never twice, so that it can be
 * filled again, late, or from several threads without a thought.
 */
@Component
@ProcessingGroup(BoardProjection.NAME)
class BoardProjection {

    static final String NAME = "board";

    private final JdbcClient jdbc;

    BoardProjection(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    @EventHandler
    void on(Act act, @MessageIdentifier String event, TrackingToken token) {
        if (!(act.subject() instanceof RoundId round)) {
            return;
        }
        jdbc.sql("insert into board_act (farm, event_id, position, morning, row_label, act)"
                        + " select ?, ?, ?, ?, ?, ? where not exists"
                        + " (select 1 from board_act where farm = ? and event_id = ?)")
                .params(
                        round.farm().value(),
                        event,
                        token.position().orElseThrow(),
                        round.morning(),
                        round.row().label(),
                        EventJson.write(act),
                        round.farm().value(),
                        event)
                .update();
    }

    @ResetHandler
    void reset() {
        jdbc.sql("delete from board_act").update();
    }
}
