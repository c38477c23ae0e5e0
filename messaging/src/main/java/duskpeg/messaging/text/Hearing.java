package duskpeg.messaging.text;

import duskpeg.core.store.DatabaseGone;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.Queue;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.springframework.stereotype.Component;

/**
 * Hears texts, several at a time where several come at once: what costs most of a text is the commit that keeps it, and
 * one commit keeps many. A text that comes alone is heard at once and by its own thread; those that come meanwhile wait
 * for its commit and are then heard together. Nobody is answered before what she said is kept.
 *
 * <p>Where one of several can't be heard, none of them was: each is then heard alone, and only that one fails.
 */
@Component
public class Hearing {

    /** So that the first of them doesn't wait long for the last. */
    private static final int MOST = 64;

    private final CommandGateway commands;
    private final Queue<Waiting> waiting = new ArrayDeque<>();
    private boolean busy;

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
        boolean first;
        synchronized (waiting) {
            waiting.add(own);
            first = !busy;
            busy = true;
        }
        if (first || own.turn().join()) {
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

    /** The oldest of those that wait, this thread's own always among them: it has been made the first of them. */
    private List<Waiting> some() {
        List<Waiting> some = new ArrayList<>();
        synchronized (waiting) {
            while (!waiting.isEmpty() && some.size() < MOST) {
                some.add(waiting.remove());
            }
        }
        return some;
    }

    /** The next that waits hears what came meanwhile; where none does, the next that comes is the first. */
    private void handOn() {
        Waiting next;
        synchronized (waiting) {
            next = waiting.peek();
            busy = next != null;
        }
        if (next != null) {
            next.turn().complete(true);
        }
    }

    private void hear(List<Waiting> some) {
        try {
            List<String> answers = commands.sendAndWait(
                    new HearTexts(some.stream().map(Waiting::text).toList()));
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
