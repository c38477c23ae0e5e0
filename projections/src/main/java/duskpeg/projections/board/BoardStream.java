package duskpeg.projections.board;

import duskpeg.core.farm.FarmId;
import duskpeg.projections.board.Board.BoardRow;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.BooleanSupplier;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.DisposableBean;
import org.springframework.context.event.ContextClosedEvent;
import org.springframework.context.event.EventListener;
import org.springframework.http.CacheControl;
import org.springframework.http.MediaType;
import org.springframework.http.server.ServerHttpResponse;
import org.springframework.stereotype.Component;
import org.springframework.web.servlet.mvc.method.annotation.ResponseBodyEmitter;

/**
 * Live boards: a snapshot at once, then what changes, and a snapshot again every few seconds.
 *
 * <p>Each morning that somebody watches is looked at a few times a second by its version. Nothing is pushed from the
 * projection to here, so nothing can be lost on the way: a viewer that reconnects, one that was too slow, or a node
 * that did not write the change itself is right again at the next look.
 */
@Component
class BoardStream implements DisposableBean {

    private static final Logger LOG = LoggerFactory.getLogger(BoardStream.class);
    private static final long LOOK_MILLIS = 200;
    private static final Duration SNAPSHOT_EVERY = Duration.ofSeconds(10);

    /** For so long what was written for some is right for others. */
    private static final Duration FRESH = Duration.ofSeconds(1);

    /** So long as a push took, times this, nothing is pushed: those who text come first. */
    private static final int REST = 3;

    /** But no longer than that: the first push of a server that has just begun takes long, and is no measure. */
    private static final Duration LONGEST_REST = Duration.ofSeconds(3);

    /** Slow viewers are waited for no longer than that. */
    private static final Duration PATIENCE = Duration.ofSeconds(2);

    /** A phone that lost its signal holds one up until its connection times out; so there are some. */
    private static final int SENDING = 16;

    private final Boards boards;
    private final Audience audience;
    private final Clock system = Clock.systemUTC();
    private final Map<Watched, Channel> channels = new ConcurrentHashMap<>();
    private final ScheduledExecutorService looking = Executors.newSingleThreadScheduledExecutor(BoardStream::daemon);
    private final ExecutorService sending = Executors.newFixedThreadPool(SENDING, BoardStream::daemon);

    BoardStream(Boards boards, Audience audience) {
        this.boards = boards;
        this.audience = audience;
        // A look never throws, so there is nothing to wait for.
        var unused = looking.scheduleWithFixedDelay(this::lookAtAll, LOOK_MILLIS, LOOK_MILLIS, TimeUnit.MILLISECONDS);
    }

    private static Thread daemon(Runnable work) {
        Thread thread = new Thread(work, "board-stream");
        thread.setDaemon(true);
        return thread;
    }

    /**
     * A morning that is watched.
     *
     * @param ahead how far the viewer's clock is ahead of the server's: zero, unless a demo lives at another time
     */
    record Watched(FarmId farm, LocalDate morning, Duration ahead) {}

    /** One server-sent event. */
    record Sent(String name, String data) {}

    /** How boards are written for one kind of viewer. */
    interface Encoder {
        List<Sent> snapshot(Board board);

        List<Sent> changes(Board board, List<BoardRow> changed);
    }

    /**
     * Starts a stream of a morning; it goes on until the viewer leaves.
     *
     * @param may whether the viewer still may watch; asked at each snapshot, and the stream ends once it is not so
     */
    ResponseBodyEmitter watch(Watched watched, Encoder encoder, BooleanSupplier may) {
        Viewer viewer = new Viewer(encoder, may);
        audience.joined();
        // The snapshot that every new viewer is owed is sent at the next look.
        channels.compute(watched, (key, channel) -> {
            Channel open = channel == null ? new Channel(key) : channel;
            open.viewers.add(viewer);
            return open;
        });
        viewer.emitter.onCompletion(() -> viewer.gone = true);
        viewer.emitter.onError(error -> viewer.gone = true);
        viewer.emitter.onTimeout(() -> viewer.gone = true);
        looking.execute(this::lookAtAll);
        return viewer.emitter;
    }

    private void lookAtAll() {
        for (Watched watched : channels.keySet()) {
            try {
                channels.computeIfPresent(watched, (key, channel) -> channel.look() ? channel : null);
            } catch (RuntimeException e) {
                LOG.warn("A live board could not be read and is tried again: {}", watched, e);
            }
        }
    }

    /** Ends every stream, so that the server can stop at once; viewers reconnect by themselves. */
    @EventListener(ContextClosedEvent.class)
    void closing() {
        looking.shutdownNow();
        channels.values().forEach(channel -> channel.viewers.forEach(viewer -> viewer.emitter.complete()));
    }

    @Override
    public void destroy() {
        sending.shutdownNow();
    }

    /** Everybody who watches the same morning. Used by one thread at a time. */
    private final class Channel {

        private final Watched watched;
        private final Set<Viewer> viewers = ConcurrentHashMap.newKeySet();
        private final Map<Encoder, byte[]> snapshots = new HashMap<>();
        private long version = Long.MIN_VALUE;
        private @Nullable Board board;
        private Instant read = Instant.MIN;
        private Instant snapshotDue = Instant.MIN;
        private Push last = new Push(0);

        Channel(Watched watched) {
            this.watched = watched;
        }

        /** Sends what is due; false once nobody watches any more. */
        boolean look() {
            viewers.removeIf(viewer -> viewer.gone && left());
            if (viewers.isEmpty()) {
                return false;
            }
            if (last.isResting()) {
                return true;
            }
            long seen = boards.version(watched.farm(), watched.morning());
            Instant now = system.instant();
            boolean allDue = !now.isBefore(snapshotDue);
            boolean changed = seen != version;
            if (!allDue && !changed && viewers.stream().noneMatch(viewer -> viewer.owedSnapshot)) {
                return true;
            }
            Board before = board;
            Board shown = before;
            // Whoever joins, or was too slow, is sent what the others have, as long as its clock is right.
            if (shown == null || allDue || changed || now.isAfter(read.plus(FRESH))) {
                shown = boards.board(watched.farm(), watched.morning(), now.plus(watched.ahead()));
                board = shown;
                read = now;
                snapshots.clear();
            }
            if (allDue) {
                viewers.stream().filter(viewer -> !viewer.may.getAsBoolean()).forEach(Viewer::end);
                viewers.removeIf(viewer -> viewer.gone && left());
            }
            send(shown, allDue ? Set.of() : changes(before, shown), seen, allDue);
            version = seen;
            if (allDue) {
                snapshotDue = now.plus(SNAPSHOT_EVERY);
            }
            return true;
        }

        private boolean left() {
            audience.left();
            return true;
        }

        private static Set<BoardRow> changes(@Nullable Board before, Board shown) {
            Set<BoardRow> changed = new LinkedHashSet<>(shown.rows());
            if (before != null) {
                before.rows().forEach(changed::remove);
            }
            return changed;
        }

        /** Whatever is sent is written once for all viewers of its kind. */
        private void send(Board shown, Set<BoardRow> changes, long seen, boolean allDue) {
            Map<Encoder, byte[]> updates = new HashMap<>();
            Push push = new Push(viewers.size());
            // The position is the newest of an event's on this board: where its log lines have the text's id.
            if (LOG.isDebugEnabled()) {
                LOG.debug(
                        "Board {} of {}: version {}, position {}, {}, to {}",
                        watched.morning(),
                        watched.farm().value(),
                        seen,
                        boards.position(watched.farm(), watched.morning()),
                        allDue
                                ? "all rows"
                                : "rows " + changes.stream().map(BoardRow::row).toList(),
                        viewers.size());
            }
            for (Viewer viewer : viewers) {
                if (allDue || viewer.owedSnapshot) {
                    viewer.send(
                            snapshots.computeIfAbsent(viewer.encoder, to -> written(seen, to.snapshot(shown))),
                            true,
                            push);
                } else if (!changes.isEmpty()) {
                    viewer.send(
                            updates.computeIfAbsent(
                                    viewer.encoder, to -> written(seen, to.changes(shown, List.copyOf(changes)))),
                            false,
                            push);
                } else {
                    push.sent();
                }
            }
            last = push;
        }

        private static byte[] written(long version, List<Sent> events) {
            StringBuilder written = new StringBuilder();
            for (Sent event : events) {
                written.append("id:").append(version).append("\nevent:").append(event.name());
                event.data().lines().forEach(line -> written.append("\ndata:").append(line));
                written.append("\n\n");
            }
            return written.toString().getBytes(StandardCharsets.UTF_8);
        }
    }

    /** One board on its way to all who watch. */
    private static final class Push {

        private final long began = System.nanoTime();
        private final AtomicInteger left;
        private final int few;
        private volatile long through;

        Push(int viewers) {
            left = new AtomicInteger(viewers);
            few = viewers / 10;
            through = viewers == 0 ? began : 0;
        }

        /** One more has it, or will never have it. A few slow ones hold nobody up. */
        void sent() {
            if (left.decrementAndGet() == few) {
                through = System.nanoTime();
            }
        }

        boolean isResting() {
            long now = System.nanoTime();
            long end = through;
            return end == 0
                    ? now - began < PATIENCE.toNanos()
                    : now - end < Math.min(REST * (end - began), LONGEST_REST.toNanos());
        }
    }

    /** A stream of events that were written before (WHATWG HTML, 9.2), so that bytes are all a viewer costs. */
    private static final class Emitter extends ResponseBodyEmitter {

        private static final MediaType EVENTS = new MediaType("text", "event-stream", StandardCharsets.UTF_8);

        Emitter() {
            super(0L);
        }

        @Override
        protected void extendResponse(ServerHttpResponse response) {
            super.extendResponse(response);
            response.getHeaders().setContentType(EVENTS);
            response.getHeaders().setCacheControl(CacheControl.noStore());
        }
    }

    /** One viewer. One that can't keep up is skipped and owed a snapshot. */
    private final class Viewer {

        private final Encoder encoder;
        private final Emitter emitter = new Emitter();
        private final BooleanSupplier may;
        private final AtomicBoolean busy = new AtomicBoolean();
        private volatile boolean owedSnapshot = true;
        private volatile boolean gone;

        Viewer(Encoder encoder, BooleanSupplier may) {
            this.encoder = encoder;
            this.may = may;
        }

        void end() {
            gone = true;
            emitter.complete();
        }

        void send(byte[] events, boolean snapshot, Push push) {
            if (!busy.compareAndSet(false, true)) {
                owedSnapshot = true;
                push.sent();
                return;
            }
            if (snapshot) {
                owedSnapshot = false;
            }
            sending.execute(() -> {
                try {
                    emitter.send(events, MediaType.APPLICATION_OCTET_STREAM);
                    audience.pushed();
                } catch (IOException | IllegalStateException e) {
                    gone = true; // left, or leaving: the usual end of a stream
                } finally {
                    busy.set(false);
                    push.sent();
                }
            });
        }
    }
}
