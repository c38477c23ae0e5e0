package duskpeg.projections.history;

import duskpeg.core.act.Act;
import duskpeg.core.store.EventJson;
import org.axonframework.config.ProcessingGroup;
import org.axonframework.eventhandling.EventHandler;
import org.axonframework.eventhandling.ResetHandler;
import org.axonframework.eventhandling.TrackingToken;
import org.axonframework.messaging.annotation.MessageIdentifier;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Keeps every act by its subject, and where each tie was put on. It only adds rows, one for an event. */
@Component
@ProcessingGroup(HistoryProjection.NAME)
class HistoryProjection {

    static final String NAME = "history";

    private final JdbcClient jdbc;

    HistoryProjection(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    @EventHandler
    void on(Act act, @MessageIdentifier String event, TrackingToken token) {
        String farm = act.subject().farm().value();
        int added = jdbc.sql("insert into history_act (farm, event_id, position, subject, act)"
                        + " select ?, ?, ?, ?, ? where not exists"
                        + " (select 1 from history_act where farm = ? and event_id = ?)")
                .params(
                        farm,
                        event,
                        token.position().orElseThrow(),
                        act.subject().toString(),
                        EventJson.write(act),
                        farm,
                        event)
                .update();
        if (added > 0 && act instanceof Act.Tied tied) {
            tied.ties().stream()
                    .distinct()
                    .forEach(tie -> jdbc.sql("insert into history_tie (farm, tie, event_id, round) values (?, ?, ?, ?)")
                            .params(farm, tie.digits(), event, tied.round().toString())
                            .update());
        }
    }

    @ResetHandler
    void reset() {
        jdbc.sql("delete from history_tie").update();
        jdbc.sql("delete from history_act").update();
    }
}
