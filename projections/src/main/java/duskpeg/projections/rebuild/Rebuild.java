package duskpeg.projections.rebuild;

import duskpeg.core.act.FieldEvent;
import duskpeg.core.fieldbook.Index;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.axonframework.config.EventProcessingConfiguration;
import org.axonframework.eventhandling.EventProcessor;
import org.axonframework.eventhandling.EventTrackerStatus;
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

    private final EventProcessingConfiguration processing;
    private final EventStorageEngine log;
    private final Index index;
    private final TransactionTemplate transaction;

    Rebuild(
            EventProcessingConfiguration processing,
            EventStorageEngine log,
            Index index,
            TransactionTemplate transaction) {
        this.processing = processing;
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
        long events = index();
        List<StreamingEventProcessor> processors = processing.eventProcessors().values().stream()
                .filter(StreamingEventProcessor.class::isInstance)
                .map(StreamingEventProcessor.class::cast)
                .toList();
        processors.forEach(EventProcessor::shutDown);
        processors.forEach(StreamingEventProcessor::resetTokens);
        processors.forEach(EventProcessor::start);
        processors.forEach(Rebuild::awaitEnd);
        LOG.info(
                "Rebuilt the index and {} projections from {} events in {} ms",
                processors.size(),
                events,
                TimeUnit.NANOSECONDS.toMillis(System.nanoTime() - started));
    }

    private long index() {
        return transaction.execute(status -> {
            index.clear();
            return log.readEvents(null, false)
                    .filter(event -> event.getPayload() instanceof FieldEvent)
                    .peek(event -> index.enter((FieldEvent) event.getPayload()))
                    .count();
        });
    }

    private static void awaitEnd(StreamingEventProcessor processor) {
        while (!atEnd(processor)) {
            if (processor.isError()
                    || processor.processingStatus().values().stream().anyMatch(EventTrackerStatus::isErrorState)) {
                throw new IllegalStateException("projection " + processor.getName() + " failed; see the log");
            }
            try {
                Thread.sleep(20);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                throw new IllegalStateException("interrupted while rebuilding", e);
            }
        }
    }

    private static boolean atEnd(StreamingEventProcessor processor) {
        return !processor.processingStatus().isEmpty()
                && processor.processingStatus().values().stream().allMatch(EventTrackerStatus::isCaughtUp);
    }
}
