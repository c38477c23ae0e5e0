package duskpeg.messaging.carrier;

import duskpeg.core.text.Outbox;
import duskpeg.core.text.Outgoing;
import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.context.SmartLifecycle;
import org.springframework.context.event.EventListener;
import org.springframework.stereotype.Component;

/**
 * Keeps the dispatcher at work: at once when texts were posted here, and every second for what other nodes posted or
 * what has become due. Only a server sends; a rebuild, which is none, does not.
 */
@Component
@ConditionalOnWebApplication
class SendingThreads implements SmartLifecycle {

    private static final Logger LOG = LoggerFactory.getLogger(SendingThreads.class);
    private static final int SENDERS = 4;
    private static final long LOOK_MILLIS = 1_000;
    private static final int LOOKS_UNTIL_SETTLING = 10;
    private static final long AFTER_FAILURE_MILLIS = 5_000;

    private final Dispatcher dispatcher;
    private final Semaphore free = new Semaphore(SENDERS);
    private final Semaphore wakeUp = new Semaphore(0);
    private volatile boolean running;
    private @Nullable ExecutorService senders;
    private @Nullable Thread taker;

    SendingThreads(Dispatcher dispatcher) {
        this.dispatcher = dispatcher;
    }

    @EventListener
    void posted(Outbox.Posted posted) {
        wakeUp.release();
    }

    @Override
    public void start() {
        running = true;
        senders = Executors.newFixedThreadPool(SENDERS, work -> daemon(work, "outbox-sender"));
        taker = daemon(this::takeAll, "outbox");
        taker.start();
    }

    private static Thread daemon(Runnable work, String name) {
        Thread thread = new Thread(work, name);
        thread.setDaemon(true);
        return thread;
    }

    private void takeAll() {
        int looks = 0;
        while (running) {
            try {
                if (looks++ % LOOKS_UNTIL_SETTLING == 0) {
                    dispatcher.settle();
                }
                wakeUp.drainPermits();
                while (running && sendNext()) {
                    looks++;
                }
                wakeUp.tryAcquire(LOOK_MILLIS, TimeUnit.MILLISECONDS);
            } catch (InterruptedException e) {
                return;
            } catch (RuntimeException e) {
                LOG.error("Texts can't be sent for now", e);
                pause();
            }
        }
    }

    private void pause() {
        try {
            Thread.sleep(AFTER_FAILURE_MILLIS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** Whether there was a text to send. */
    private boolean sendNext() throws InterruptedException {
        free.acquire();
        boolean given = false;
        try {
            Optional<Outgoing> next = dispatcher.next();
            ExecutorService pool = senders;
            if (next.isEmpty() || pool == null) {
                return false;
            }
            pool.execute(() -> send(next.get()));
            given = true;
            return true;
        } finally {
            if (!given) {
                free.release();
            }
        }
    }

    private void send(Outgoing text) {
        try {
            dispatcher.send(text);
        } catch (RuntimeException e) {
            // Its outcome could not be noted; it is found as abandoned later.
            LOG.error("What came of text {} could not be noted", text.id(), e);
        } finally {
            free.release();
            wakeUp.release();
        }
    }

    /** Takes no more texts, and lets those being sent come to their answers. */
    @Override
    public void stop() {
        running = false;
        if (taker != null) {
            taker.interrupt();
        }
        ExecutorService pool = senders;
        if (pool != null) {
            pool.shutdown();
            try {
                pool.awaitTermination(Duration.ofSeconds(20).toMillis(), TimeUnit.MILLISECONDS);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        }
    }

    @Override
    public boolean isRunning() {
        return running;
    }
}
