package duskpeg.core.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.axonframework.eventhandling.GenericEventMessage;
import org.axonframework.eventhandling.TrackingEventStream;
import org.axonframework.eventhandling.TrackingToken;
import org.axonframework.eventsourcing.eventstore.EmbeddedEventStore;
import org.axonframework.eventsourcing.eventstore.inmemory.InMemoryEventStorageEngine;
import org.axonframework.messaging.StreamableMessageSource;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

/** Who follows the log is told when there is more. */
class PromptLogTest {

    private final EmbeddedEventStore store = EmbeddedEventStore.builder()
            .storageEngine(new InMemoryEventStorageEngine())
            .build();
    private final Semaphore told = new Semaphore(0);

    @AfterEach
    void shutDown() {
        store.shutDown();
    }

    @Test
    void tellsEverybodyWhoFollowsAndNobodyWhoHasLeft() throws InterruptedException {
        PromptLog log = new PromptLog(store);
        AtomicInteger left = new AtomicInteger();
        TrackingEventStream stays = log.openStream(log.createHeadToken());
        TrackingEventStream leaves = log.openStream(log.createHeadToken());
        assertThat(stays.setOnAvailableCallback(told::release)).isTrue();
        leaves.setOnAvailableCallback(left::incrementAndGet);
        leaves.close();

        write("one");

        assertThat(stays.hasNextAvailable(10, TimeUnit.SECONDS)).isTrue();
        assertThat(stays.nextAvailable().getPayload()).isEqualTo("one");
        told.drainPermits();
        write("two");
        assertThat(told.tryAcquire(10, TimeUnit.SECONDS)).isTrue();
        assertThat(left).hasValue(0);
        log.destroy();
    }

    @Test
    void looksAgainAfterALogThatFailed() throws InterruptedException {
        AtomicInteger asked = new AtomicInteger();
        PromptLog log = new PromptLog(new StreamableMessageSource<>() {
            @Override
            public TrackingEventStream openStream(TrackingToken from) {
                return store.openStream(from);
            }

            @Override
            public TrackingToken createHeadToken() {
                if (asked.incrementAndGet() == 1) {
                    throw new IllegalStateException("the database is gone");
                }
                return store.createHeadToken();
            }
        });
        TrackingEventStream follows = log.openStream(store.createTailToken());
        write("one");
        follows.setOnAvailableCallback(told::release);

        assertThat(told.tryAcquire(10, TimeUnit.SECONDS)).isTrue();
        assertThat(asked).hasValueGreaterThan(1);
        log.destroy();
    }

    private void write(String payload) {
        store.publish(GenericEventMessage.<String>asEventMessage(payload));
    }
}
