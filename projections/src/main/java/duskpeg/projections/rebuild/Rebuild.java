package duskpeg.projections.rebuild;

import duskpeg.core.act.FieldEvent;
import duskpeg.core.fieldbook.Index;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.axonframework.eventhandling.EventProcessor;
import org.axonframework.eventhandling.StreamingEventProcessor;
import org.axonframework.eventsourcing.eventstore.EventStorageEngine;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Makes the index and every projection anew from the log. Nothing is sent to anybody: answering is the work of the
 * text edge, which no event reaches.
 */
@Component
public class Rebuild {

    private static final Logger LOG = LoggerFactory.getLogger(Rebuild.class);
    private static final Duration PATIENCE = Duration.ofMinutes(1);

    private final CatchUp catchUp;
    private final EventStorageEngine log;
    private final Index index;
    private final TransactionTemplate transaction;

    Rebuild(CatchUp catchUp, EventStorageEngine log, Index index, TransactionTemplate transaction) {
        this.catchUp = catchUp;
        this.log = log;
        this.index = index;
        this.transaction = transaction;
    }

    /**
     * Rebuilds everything and returns when it is done. No report may be taken meanwhile.
     *
     * @throws IllegalStateException if a projection fails on an event
     */
    public void everything() {
        long started = System.nanoTime();
        transaction.executeWithoutResult(status -> index());
        // The ledger is no view of the log but the proof of it: it is never made anew.
        List<StreamingEventProcessor> processors = catchUp.processors().stream()
                .filter(StreamingEventProcessor::supportsReset)
                .toList();
        processors.forEach(EventProcessor::shutDown);
        processors.forEach(StreamingEventProcessor::resetTokens);
        processors.forEach(EventProcessor::start);
        catchUp.await(PATIENCE);
        LOG.info(
                "Rebuilt the index and {} projections in {} ms",
                processors.size(),
                TimeUnit.NANOSECONDS.toMillis(System.nanoTime() - started));
    }

    private void index() {
        index.clear();
        try (var events = log.readEvents(null, false)) {
            events.forEach(event -> index.enter((FieldEvent) event.getPayload()));
        }
    }
}
