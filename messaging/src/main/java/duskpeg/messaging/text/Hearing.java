package duskpeg.messaging.text;

import duskpeg.core.store.DatabaseGone;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.Queue;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.Lock;
import java.util.concurrent.locks.ReentrantLock;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.springframework.stereotype.Component;

/**
 * Hears texts, several at a time where several come at once: what costs most of a text is the commit that keeps it, and
 * one commit keeps many. A text that comes alone is heard at once and by its own thread; those that come meanwhile wait
 * for its commit and are then heard together. Nobody is answered before what she said is kept.
 *
 * <p>Where many send one text after the other, those who were just answered will soon send again. So the first of the next
 * waits for as many as there were, but at most half as long as the last ones took. PostgreSQL's handbook advises about as
 * much for its {@code commit_delay}: half the time that writing takes (chapter "WAL Configuration", from memory).
 *
 * <p>Where one of several can't be heard, none of them was: each is then heard alone, and only that one fails.
 */
@Component
public class Hearing {

    /** So that the first of them doesn't wait long for the last. */
    private static final int MOST = 128;

    private static final long LONGEST_WAIT_NANOS = TimeUnit.MILLISECONDS.toNanos(10);

    private final CommandGateway commands;
    private final Lock lock = new ReentrantLock();
    private final Condition another = lock.newCondition();
    private final Queue<Waiting> waiting = new ArrayDeque<>();
    private boolean busy;
    /** How many were heard or waited when the last ones were done. */
    private int expected;
    /** Until when they are waited for. */
    private long patience = System.nanoTime();

    Hearing(CommandGateway commands) {
        this.commands = commands;
    }

    /** A text that waits to be heard; its turn is an answer, or to hear those that wait. */
    private record Waiting(HearText text, CompletableFuture<String> answer, CompletableFuture<Boolean> turn) {}

    /**
     * Hears a text and gives its answer.
     *
     * @throws AlreadyHeard if the same message was heard before
     */
    public String hear(HearText text) {
        Waiting own = new Waiting(text, new CompletableFuture<>(), new CompletableFuture<>());
        if (isFirst(own) || own.turn().join()) {
            try {
                hear(some());
            } finally {
                handOn();
            }
        }
        return answer(own);
    }

    private static String answer(Waiting heard) {
        try {
            return heard.answer().join();
        } catch (CompletionException e) {
            if (e.getCause() instanceof RuntimeException failure) {
                throw failure;
            }
            if (e.getCause() instanceof Error failure) {
                throw failure;
            }
            throw e;
        }
    }

    private boolean isFirst(Waiting own) {
        lock.lock();
        try {
            waiting.add(own);
            another.signal();
            boolean first = !busy;
            busy = true;
            return first;
        } finally {
            lock.unlock();
        }
    }

    /** The oldest of those that wait, this thread's own always among them: it has been made the first of them. */
    private List<Waiting> some() {
        List<Waiting> some = new ArrayList<>();
        lock.lock();
        try {
            long nanos = patience - System.nanoTime();
            while (waiting.size() < Math.min(expected, MOST) && nanos > 0) {
                nanos = another.awaitNanos(nanos);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } finally {
            while (!waiting.isEmpty() && some.size() < MOST) {
                some.add(waiting.remove());
            }
            lock.unlock();
        }
        return some;
    }

    /** The next that waits hears what came meanwhile; where none does, the next that comes is the first. */
    private void handOn() {
        Waiting next;
        lock.lock();
        try {
            next = waiting.peek();
            busy = next != null;
        } finally {
            lock.unlock();
        }
        if (next != null) {
            next.turn().complete(true);
        }
    }

    /** Notes that so many are about to be answered, and how long they took: they are expected again. */
    private void expect(int heard, long tookNanos) {
        lock.lock();
        try {
            expected = heard + waiting.size();
            patience = System.nanoTime() + Math.min(tookNanos / 2, LONGEST_WAIT_NANOS);
        } finally {
            lock.unlock();
        }
    }

    private void hear(List<Waiting> some) {
        long since = System.nanoTime();
        try {
            List<String> answers = commands.sendAndWait(
                    new HearTexts(some.stream().map(Waiting::text).toList()));
            expect(some.size(), System.nanoTime() - since);
            for (int i = 0; i < some.size(); i++) {
                give(some.get(i), answers.get(i));
            }
        } catch (RuntimeException | Error e) {
            // An error of the JVM too: whoever waits must be told, or she waits forever.
            if (some.size() == 1 || DatabaseGone.is(e)) {
                some.forEach(one -> fail(one, e));
            } else {
                some.forEach(this::hearAlone);
            }
        }
    }

    private void hearAlone(Waiting one) {
        try {
            give(one, commands.sendAndWait(one.text()));
        } catch (RuntimeException | Error e) {
            fail(one, e);
        }
    }

    private static void give(Waiting one, String answer) {
        one.answer().complete(answer);
        one.turn().complete(false);
    }

    private static void fail(Waiting one, Throwable why) {
        one.answer().completeExceptionally(why);
        one.turn().complete(false);
    }
}
