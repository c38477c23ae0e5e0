package duskpeg.core.store;

import java.time.Instant;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import org.axonframework.common.stream.BlockingStream;
import org.axonframework.eventhandling.TrackedEventMessage;
import org.axonframework.eventhandling.TrackingEventStream;
import org.axonframework.eventhandling.TrackingToken;
import org.axonframework.messaging.StreamableMessageSource;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.DisposableBean;

/**
 * The log for those who follow it: they are told when there is more. The framework's own streams tell nobody, so that
 * whoever has read all looks again half a second later, and a board is as late.
 *
 * <p>One thread follows the log for all of them, also for what other nodes write. Between two times it rests a moment, so
 * that many texts are followed together. Who is not told, because something went wrong, looks again after his own time as
 * before.
 */
public final class PromptLog implements StreamableMessageSource<TrackedEventMessage<?>>, DisposableBean {

    private static final Logger LOG = LoggerFactory.getLogger(PromptLog.class);

    private static final long REST_MILLIS = 50;

    /** After a failure, while the database is gone for instance. */
    private static final long LONG_REST_MILLIS = 1_000;

    private final StreamableMessageSource<TrackedEventMessage<?>> log;
    private final Set<Stream> followers = ConcurrentHashMap.newKeySet();
    private final AtomicBoolean looking = new AtomicBoolean();
    private volatile boolean closed;

    PromptLog(StreamableMessageSource<TrackedEventMessage<?>> log) {
        this.log = log;
    }

    @Override
    public TrackingEventStream openStream(TrackingToken from) {
        return new Stream(log.openStream(from));
    }

    @Override
    public TrackingToken createTailToken() {
        return log.createTailToken();
    }

    @Override
    public TrackingToken createHeadToken() {
        return log.createHeadToken();
    }

    @Override
    public TrackingToken createTokenAt(Instant time) {
        return log.createTokenAt(time);
    }

    /** Whoever looks is not interrupted, since H2 closes a file under a thread that is. */
    @Override
    public void destroy() {
        closed = true;
    }

    private void look() {
        if (looking.compareAndSet(false, true)) {
            Thread thread = new Thread(this::tell, "log-followers");
            thread.setDaemon(true);
            thread.start();
        }
    }

    private void tell() {
        try {
            while (!closed) {
                try (BlockingStream<TrackedEventMessage<?>> all = log.openStream(log.createHeadToken())) {
                    // What came before this one looked.
                    followers.forEach(Stream::tell);
                    while (!closed) {
                        if (all.hasNextAvailable(1, TimeUnit.SECONDS)) {
                            while (all.hasNextAvailable()) {
                                all.nextAvailable();
                            }
                            followers.forEach(Stream::tell);
                            TimeUnit.MILLISECONDS.sleep(REST_MILLIS);
                        }
                    }
                } catch (RuntimeException e) {
                    LOG.debug("The log could not be followed and is looked at again", e);
                    TimeUnit.MILLISECONDS.sleep(LONG_REST_MILLIS);
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** What the log gives, and somebody who wants to know when there is more. */
    private final class Stream implements TrackingEventStream {

        private final BlockingStream<TrackedEventMessage<?>> events;
        private volatile @Nullable Runnable more;

        Stream(BlockingStream<TrackedEventMessage<?>> events) {
            this.events = events;
        }

        void tell() {
            Runnable told = more;
            if (told != null) {
                told.run();
            }
        }

        @Override
        public boolean setOnAvailableCallback(Runnable callback) {
            more = callback;
            followers.add(this);
            look();
            return true;
        }

        @Override
        public Optional<TrackedEventMessage<?>> peek() {
            return events.peek();
        }

        @Override
        public boolean hasNextAvailable(int timeout, TimeUnit unit) throws InterruptedException {
            return events.hasNextAvailable(timeout, unit);
        }

        @Override
        public TrackedEventMessage<?> nextAvailable() throws InterruptedException {
            return events.nextAvailable();
        }

        @Override
        public void close() {
            followers.remove(this);
            events.close();
        }
    }
}
