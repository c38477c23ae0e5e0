package duskpeg.projections;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Duration;
import java.util.OptionalInt;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;

class CountingTest {

    private static final Duration LONG = Duration.ofMinutes(1);

    private final AtomicInteger counts = new AtomicInteger();

    @Test
    void whatWasCountedIsRemembered() {
        Counting<String> counting = new Counting<>(key -> 1, key -> counts.incrementAndGet(), LONG);
        for (int time = 0; time < 10; time++) {
            assertThat(counting.of("farm")).hasValue(1);
        }
        assertThat(counting.of("other")).hasValue(2);
    }

    @Test
    void nobodyWaitsForWhatTakesLongAndOneCountsForAll() throws InterruptedException {
        CountDownLatch go = new CountDownLatch(1);
        Counting<String> counting = new Counting<>(
                key -> 1,
                key -> {
                    await(go);
                    return counts.incrementAndGet();
                },
                Duration.ofMillis(1));
        assertThat(counting.of("farm")).isEmpty();
        assertThat(counting.of("farm")).isEmpty();
        go.countDown();
        OptionalInt counted = counting.of("farm");
        while (counted.isEmpty()) {
            Thread.sleep(5);
            counted = counting.of("farm");
        }
        assertThat(counted).hasValue(1);
        assertThat(counts).hasValue(1);
    }

    @Test
    void whatOthersCountedIsTaken() {
        Counting<String> counting = new Counting<>(key -> 1, key -> counts.incrementAndGet(), LONG);
        counting.note("farm", 1, 7, 0);
        assertThat(counting.of("farm")).hasValue(7);
        assertThat(counts).hasValue(0);
    }

    @Test
    void aCountThatFailsIsTriedAgain() {
        Counting<String> counting = new Counting<>(
                key -> 1,
                key -> {
                    if (counts.incrementAndGet() == 1) {
                        throw new IllegalStateException("no database");
                    }
                    return 5;
                },
                LONG);
        assertThatThrownBy(() -> counting.of("farm")).hasMessageContaining("no database");
        assertThat(counting.of("farm")).hasValue(5);
    }

    private static void await(CountDownLatch go) {
        try {
            go.await();
        } catch (InterruptedException e) {
            throw new AssertionError(e);
        }
    }
}
