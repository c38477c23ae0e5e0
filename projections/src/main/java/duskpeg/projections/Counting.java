package duskpeg.projections;

import java.time.Duration;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.OptionalInt;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.ToIntFunction;
import java.util.function.ToLongFunction;
import org.jspecify.annotations.Nullable;

/**
 * Numbers that many pages show and that may take long to count. A page is given the last that was counted; whether it
 * changed is looked at now and then, and counting takes a small part of the time at most, however much there is to count.
 *
 * @param <K> what is counted for
 */
public final class Counting<K> {

    private static final int MOST = 100;
    private static final long LOOK_NANOS = 1_000_000_000L;

    /** What is counted as fast as that, a page waits for. */
    private static final long QUICK_NANOS = 50_000_000L;

    private static final int REST = 20;

    private final ToLongFunction<K> version;
    private final ToIntFunction<K> count;
    private final Duration patience;
    private final Map<K, Counted> counted = Collections.synchronizedMap(new LinkedHashMap<>(MOST, 0.75f, true) {
        @Override
        protected boolean removeEldestEntry(Map.Entry<K, Counted> eldest) {
            return size() > MOST;
        }
    });
    private final Map<K, CompletableFuture<Counted>> underWay = new ConcurrentHashMap<>();

    /**
     * @param version a number that changes whenever what is counted may have changed; quickly told
     * @param count counts
     * @param patience how long a page waits for what was never counted
     */
    public Counting(ToLongFunction<K> version, ToIntFunction<K> count, Duration patience) {
        this.version = version;
        this.count = count;
        this.patience = patience;
    }

    /**
     * What was counted.
     *
     * @param looked when it was last looked whether it still is so, by the system's own clock
     * @param cost nanoseconds it took to count
     */
    private record Counted(long version, int count, long looked, long cost) {

        boolean isDue() {
            return System.nanoTime() - looked > Math.max(LOOK_NANOS, REST * cost);
        }
    }

    /** The number as it was last counted; empty if it was never, and counting takes longer than a page waits. */
    public OptionalInt of(K key) {
        Counted known = counted.get(key);
        if (known == null) {
            known = await(begin(key), patience);
        } else if (known.isDue()) {
            CompletableFuture<Counted> anew = begin(key);
            if (known.cost() < QUICK_NANOS) {
                Counted now = await(anew, Duration.ofNanos(LOOK_NANOS));
                known = now == null ? known : now;
            }
        }
        return known == null ? OptionalInt.empty() : OptionalInt.of(known.count());
    }

    /** Notes what somebody else counted. */
    public void note(K key, long version, int count, long cost) {
        counted.put(key, new Counted(version, count, System.nanoTime(), cost));
    }

    private CompletableFuture<Counted> begin(K key) {
        CompletableFuture<Counted> mine = new CompletableFuture<>();
        CompletableFuture<Counted> other = underWay.putIfAbsent(key, mine);
        if (other != null) {
            return other;
        }
        var unused = CompletableFuture.supplyAsync(() -> count(key)).whenComplete((now, error) -> {
            underWay.remove(key);
            if (error == null) {
                mine.complete(now);
            } else {
                mine.completeExceptionally(error);
            }
        });
        return mine;
    }

    private Counted count(K key) {
        Counted before = counted.get(key);
        long started = System.nanoTime();
        long now = version.applyAsLong(key);
        Counted anew = before != null && before.version() == now
                ? new Counted(now, before.count(), System.nanoTime(), before.cost())
                : new Counted(now, count.applyAsInt(key), System.nanoTime(), System.nanoTime() - started);
        counted.put(key, anew);
        return anew;
    }

    private static @Nullable Counted await(CompletableFuture<Counted> counting, Duration patience) {
        try {
            return counting.get(patience.toNanos(), TimeUnit.NANOSECONDS);
        } catch (TimeoutException e) {
            return null;
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return null;
        } catch (ExecutionException e) {
            throw e.getCause() instanceof RuntimeException failed ? failed : new IllegalStateException(e.getCause());
        }
    }
}
