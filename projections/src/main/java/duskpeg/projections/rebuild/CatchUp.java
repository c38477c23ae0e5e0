package duskpeg.projections.rebuild;

import java.time.Duration;
import java.util.List;
import org.axonframework.config.EventProcessingConfiguration;
import org.axonframework.eventhandling.EventTrackerStatus;
import org.axonframework.eventhandling.StreamingEventProcessor;
import org.axonframework.eventhandling.TrackingToken;
import org.axonframework.eventhandling.tokenstore.TokenStore;
import org.axonframework.eventsourcing.eventstore.EventStorageEngine;
import org.springframework.stereotype.Component;

/** Waits until every projection has seen every event that is in the log now; for a server that is the only one. */
@Component
public class CatchUp {

    private static final long PAUSE_MILLIS = 5;

    private final EventProcessingConfiguration processing;
    private final EventStorageEngine log;
    private final TokenStore tokens;

    CatchUp(EventProcessingConfiguration processing, EventStorageEngine log, TokenStore tokens) {
        this.processing = processing;
        this.log = log;
        this.tokens = tokens;
    }

    List<StreamingEventProcessor> processors() {
        return processing.eventProcessors().values().stream()
                .filter(StreamingEventProcessor.class::isInstance)
                .map(StreamingEventProcessor.class::cast)
                .toList();
    }

    /**
     * Waits.
     *
     * @param patience how long a projection may go without getting any further
     * @throws IllegalStateException if a projection fails on an event or loses the patience
     */
    public void await(Duration patience) {
        TrackingToken head = log.createHeadToken();
        long end = head == null ? -1 : head.position().orElse(-1);
        processors().forEach(processor -> await(processor, end, patience));
    }

    private void await(StreamingEventProcessor processor, long end, Duration patience) {
        long furthest = -1;
        long since = System.nanoTime();
        for (long reached = reached(processor); reached < end; reached = reached(processor)) {
            if (processor.isError()
                    || processor.processingStatus().values().stream().anyMatch(EventTrackerStatus::isErrorState)) {
                throw new IllegalStateException("projection " + processor.getName() + " failed; see the log");
            }
            if (reached > furthest) {
                furthest = reached;
                since = System.nanoTime();
            } else if (System.nanoTime() - since > patience.toNanos()) {
                throw new IllegalStateException(
                        "projection " + processor.getName() + " stands still at " + reached + " of " + end);
            }
            pause();
        }
    }

    /** How far the slowest segment is; -2 while some are still to be claimed. */
    private long reached(StreamingEventProcessor processor) {
        var claimed = processor.processingStatus().values();
        if (claimed.size() < tokens.fetchSegments(processor.getName()).length) {
            return -2;
        }
        return claimed.stream()
                .mapToLong(segment -> segment.getCurrentPosition().orElse(-1))
                .min()
                .orElse(-2);
    }

    private static void pause() {
        try {
            Thread.sleep(PAUSE_MILLIS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted while waiting for projections", e);
        }
    }
}
