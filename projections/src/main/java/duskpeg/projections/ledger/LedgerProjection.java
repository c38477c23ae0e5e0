package duskpeg.projections.ledger;

import duskpeg.core.act.FieldEvent;
import java.util.ArrayList;
import java.util.List;
import org.axonframework.config.ProcessingGroup;
import org.axonframework.eventhandling.DisallowReplay;
import org.axonframework.eventhandling.EventHandler;
import org.axonframework.messaging.annotation.MessageIdentifier;
import org.axonframework.messaging.unitofwork.UnitOfWork;
import org.springframework.stereotype.Component;

/**
 * Makes every event a leaf, in the order in which the log is read. That order is written down with the leaves, and in
 * the transaction that says how far the log was read; so no event is left out and none comes twice.
 */
@Component
@DisallowReplay
@ProcessingGroup(LedgerProjection.NAME)
public class LedgerProjection {

    /** The name of its event processor, which must have one segment. */
    public static final String NAME = "ledger";

    private static final String BATCH = LedgerProjection.class.getName();

    private final Ledger ledger;

    LedgerProjection(Ledger ledger) {
        this.ledger = ledger;
    }

    @EventHandler
    void on(FieldEvent event, @MessageIdentifier String id, UnitOfWork<?> unit) {
        UnitOfWork<?> batch = unit.root();
        List<String> ids = batch.getOrComputeResource(BATCH, key -> {
            List<String> fresh = new ArrayList<>();
            batch.onPrepareCommit(done -> ledger.append(fresh));
            return fresh;
        });
        ids.add(id);
    }
}
