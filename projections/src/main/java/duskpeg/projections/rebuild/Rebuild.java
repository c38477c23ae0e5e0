package duskpeg.projections.rebuild;

import duskpeg.core.act.Act;
import duskpeg.core.act.FieldEvent;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fieldbook.IndexAnew;
import duskpeg.core.store.EventLog;
import duskpeg.core.store.EventLog.Stored;
import duskpeg.projections.copies.Copies;
import duskpeg.projections.copies.Projection;
import duskpeg.projections.copies.Projection.Entry;
import duskpeg.projections.parking.Parking;
import duskpeg.projections.parking.Parking.LeftOut;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentSkipListMap;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.LongAdder;
import org.axonframework.eventhandling.EventProcessor;
import org.axonframework.eventhandling.GapAwareTrackingToken;
import org.axonframework.eventhandling.StreamingEventProcessor;
import org.axonframework.eventhandling.tokenstore.TokenStore;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.SmartInitializingSingleton;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Makes the index and every projection anew from the log. Nothing is sent to anybody: answering is the work of the
 * text edge, which no event reaches.
 *
 * <p>A projection is made in the copy of its tables that nobody looks at, past the event processor that goes on with the
 * other, and then the copies change places in one transaction. So texts are taken and pages are answered meanwhile, and
 * if it ends in the middle nothing has happened. The index has no second copy: it is made anew only while nobody else
 * works on the database.
 */
@Component
public class Rebuild implements SmartInitializingSingleton {

    private static final Logger LOG = LoggerFactory.getLogger(Rebuild.class);
    private static final Duration PATIENCE = Duration.ofMinutes(1);
    private static final String INDEX = "index";

    private static final int PAGE = 2_000;

    /**
     * An event can be seen later than one that lies behind it in the log, by as many places as transactions that run at
     * the same time take: what lies so far back is looked at again. The event processors go back as far.
     */
    private static final int LATE = 10_000;

    /** As many as Axon's queue holds of one projection at most. */
    private static final int MOST_PARKED = 1_000;

    private static final int WRITE_DELAY_MILLIS = 2_000;

    /** In how many parts a projection follows the log. */
    public static final int SEGMENTS = 4;

    /** A processor that lives takes its events anew every few seconds. */
    private static final Duration ALIVE = Duration.ofSeconds(20);

    private final CatchUp catchUp;
    private final EventLog log;
    private final Index index;
    private final List<Projection> projections;
    private final Copies copies;
    private final TokenStore tokens;
    private final JdbcClient jdbc;
    private final TransactionTemplate transaction;
    private final Parking parking;
    private final boolean h2;
    private final AtomicBoolean running = new AtomicBoolean();
    private volatile @Nullable Progress progress;

    Rebuild(
            CatchUp catchUp,
            EventLog log,
            Index index,
            List<Projection> projections,
            Copies copies,
            TokenStore tokens,
            JdbcClient jdbc,
            TransactionTemplate transaction,
            Parking parking,
            @Value("${spring.datasource.url}") String url) {
        this.parking = parking;
        this.h2 = url.startsWith("jdbc:h2:");
        this.catchUp = catchUp;
        this.log = log;
        this.index = index;
        this.projections = projections.stream()
                .sorted(Comparator.comparing(Projection::name))
                .toList();
        this.copies = copies;
        this.tokens = tokens;
        this.jdbc = jdbc;
        this.transaction = transaction;
    }

    /**
     * How far the last rebuild of this server is.
     *
     * @param began when
     * @param of how many places the log had then
     * @param done how many of them are done
     * @param ended when; null while it goes on
     * @param failed why it did not come to its end; null otherwise
     */
    public record Progress(
            Instant began,
            long of,
            long done,
            @Nullable Instant ended,
            @Nullable String failed) {

        Progress at(long reached) {
            return new Progress(began, of, reached, ended, failed);
        }
    }

    /** How far the last rebuild of this server is; empty where there was none since it was started. */
    public Optional<Progress> progress() {
        return Optional.ofNullable(progress);
    }

    /** Whether one goes on now. */
    public boolean isRunning() {
        return running.get();
    }

    /** An index that was left half made would hold reports for other ones: it is finished before any is taken. */
    @Override
    public void afterSingletonsInstantiated() {
        if (copies.isUnfinished(INDEX)) {
            LOG.warn("Making the index was not ended the last time; it is made now");
            make(true, List.of());
        }
    }

    /**
     * Makes everything anew and returns when it is done. Where another process takes reports meanwhile, the index is left
     * as it is.
     *
     * @return whether the index was made too
     * @throws IllegalStateException if a projection fails on an event
     */
    public boolean everything() {
        List<StreamingEventProcessor> processors = catchUp.processors();
        processors.forEach(EventProcessor::shutDown);
        boolean alone = !somebodyWorks();
        try {
            if (alone) {
                writeDelay(WRITE_DELAY_MILLIS);
            }
            make(alone, projections);
            if (alone) {
                projections.forEach(projection -> hasRead(projection.name()));
            }
        } finally {
            writeDelay(0);
            processors.forEach(EventProcessor::start);
        }
        if (alone) {
            catchUp.await(PATIENCE);
        }
        return alone;
    }

    /**
     * Makes the projections anew while reports are taken, and returns when it is done.
     *
     * @throws IllegalStateException if that is done already, or if it fails; then what is looked at is as it was
     */
    public void projections() {
        make(false, projections);
    }

    private void make(boolean withIndex, List<Projection> anew) {
        if (!running.compareAndSet(false, true)) {
            throw new IllegalStateException("projections are made anew already");
        }
        Progress began = new Progress(Instant.now(), log.head() + 1, 0, null, null);
        progress = began;
        ExecutorService threads = Executors.newFixedThreadPool(1 + anew.size() + 1);
        try {
            new Making(withIndex, anew, threads).run();
            progress = new Progress(began.began(), began.of(), began.of(), Instant.now(), null);
        } catch (RuntimeException e) {
            progress = new Progress(began.began(), began.of(), 0, Instant.now(), String.valueOf(e.getMessage()));
            throw e;
        } finally {
            end(threads);
            running.set(false);
        }
    }

    /** What is being written is written to its end: H2 closes its files under a thread that is interrupted. */
    private static void end(ExecutorService threads) {
        threads.shutdown();
        boolean interrupted = false;
        for (boolean ended = false; !ended; ) {
            try {
                ended = threads.awaitTermination(1, TimeUnit.MINUTES);
            } catch (InterruptedException e) {
                interrupted = true;
            }
        }
        if (interrupted) {
            Thread.currentThread().interrupt();
        }
    }

    /**
     * How long H2 may keep what was committed to itself. While only what can be made anew is written it need not go to
     * the disk each time; whenever reports are taken it must.
     */
    private void writeDelay(int millis) {
        if (h2) {
            jdbc.sql("set write_delay " + millis).update();
        }
    }

    /** Whether an event processor of another process works on this database. */
    private boolean somebodyWorks() {
        Instant dead = Instant.now().minus(ALIVE);
        return jdbc.sql("select claimed_at from token where owner is not null").query(String.class).list().stream()
                .anyMatch(claimed -> Instant.parse(claimed).isAfter(dead));
    }

    /** Its event processor need not read anew what was read already. Nobody writes now, so nothing can come late. */
    private void hasRead(String projection) {
        transaction.executeWithoutResult(status -> {
            GapAwareTrackingToken head = GapAwareTrackingToken.newInstance(log.head(), List.of());
            int[] segments = tokens.fetchSegments(projection);
            if (segments.length == 0) {
                tokens.initializeTokenSegments(projection, SEGMENTS, head);
            }
            for (int segment : segments) {
                tokens.fetchToken(projection, segment);
                tokens.storeToken(head, projection, segment);
                tokens.releaseClaim(projection, segment);
            }
        });
    }

    /** One time of making anew. */
    private final class Making {

        private final boolean withIndex;
        private final List<Projection> anew;
        private final ExecutorService threads;
        private final Map<String, Integer> into = new LinkedHashMap<>();
        private final Map<String, List<LeftOut>> leftOut = new ConcurrentHashMap<>();
        private final Map<String, LongAdder> nanos = new ConcurrentSkipListMap<>();

        Making(boolean withIndex, List<Projection> anew, ExecutorService threads) {
            this.withIndex = withIndex;
            this.anew = anew;
            this.threads = threads;
            copies.lookAgain();
            anew.forEach(projection -> into.put(projection.name(), 3 - copies.live(projection.name())));
        }

        void run() {
            long started = System.nanoTime();
            IndexAnew indexAnew = index.anew();
            if (withIndex) {
                transaction.executeWithoutResult(status -> copies.unfinished(INDEX, true));
                timed(INDEX, () -> transaction.executeWithoutResult(status -> indexAnew.begin()));
            }
            for (Projection projection : anew) {
                timed(
                        projection.name(),
                        () -> transaction.executeWithoutResult(status -> {
                            copies.clear(projection, copy(projection));
                            copies.index(projection, copy(projection), !indexesLater());
                        }));
            }
            long head = log.head();
            long events = fill(indexAnew);
            List<Callable<Void>> ends = new ArrayList<>();
            if (withIndex) {
                ends.add(() -> timed(
                        INDEX,
                        () -> transaction.executeWithoutResult(status -> {
                            indexAnew.finish();
                            copies.unfinished(INDEX, false);
                        })));
            }
            anew.forEach(projection -> ends.add(() -> timed(
                    projection.name(),
                    () -> transaction.executeWithoutResult(
                            status -> copies.index(projection, copy(projection), true)))));
            together(ends);
            swap(head);
            for (Map.Entry<String, LongAdder> part : nanos.entrySet()) {
                say(part.getKey(), events, part.getValue().sum());
            }
            say("all", events, System.nanoTime() - started);
        }

        /** Making them at the end is cheaper, but one long transaction, for which everybody else waits on H2. */
        private boolean indexesLater() {
            return withIndex || !h2;
        }

        private int copy(Projection projection) {
            return into.getOrDefault(projection.name(), 0);
        }

        private void say(String what, long events, long took) {
            double seconds = took / 1e9;
            LOG.info(String.format(
                    Locale.ROOT, "Rebuilt %s: %,d events in %.2f s, %,.0f/s", what, events, seconds, events / seconds));
        }

        /** Reads the log once, a page ahead of what is written. */
        private long fill(IndexAnew indexAnew) {
            long events = 0;
            Future<List<Read>> next = threads.submit(() -> page(-1));
            for (List<Read> page = get(next); !page.isEmpty(); page = get(next)) {
                long reached = page.get(page.size() - 1).stored().position();
                next = threads.submit(() -> page(reached));
                List<Read> now = page;
                List<Callable<Void>> writing = new ArrayList<>();
                if (withIndex) {
                    writing.add(() -> timed(
                            INDEX,
                            () -> transaction.executeWithoutResult(status -> {
                                now.forEach(read -> indexAnew.enter(read.orFail()));
                                indexAnew.write();
                            })));
                }
                anew.forEach(projection -> writing.add(() -> timed(
                        projection.name(), () -> transaction.executeWithoutResult(status -> write(projection, now)))));
                together(writing);
                events += page.size();
                Progress soFar = progress;
                if (soFar != null) {
                    progress = soFar.at(reached);
                }
            }
            return events;
        }

        private List<Read> page(long after) {
            long started = System.nanoTime();
            List<Read> page = log.page(after, PAGE).stream().map(this::read).toList();
            nanos.computeIfAbsent("reading", part -> new LongAdder()).add(System.nanoTime() - started);
            return page;
        }

        private Read read(Stored stored) {
            try {
                FieldEvent event = log.read(stored);
                return new Read(
                        stored,
                        event,
                        event instanceof Act act
                                ? new Entry(stored.position(), stored.id(), act, EventLog.written(stored, event))
                                : null,
                        null);
            } catch (IllegalArgumentException e) {
                return new Read(stored, null, null, e);
            }
        }

        /** What can't be taken, and what comes behind that of the same subject, will be parked with the change of copies. */
        private void write(Projection projection, List<Read> page) {
            List<LeftOut> parked = leftOut.computeIfAbsent(projection.name(), name -> new ArrayList<>());
            Set<String> subjects = new HashSet<>();
            parked.forEach(one -> subjects.add(one.subject()));
            List<Entry> entries = new ArrayList<>();
            for (Read read : page) {
                if (!read.isOfAct()) {
                    continue;
                }
                if (subjects.contains(read.stored().stream())) {
                    parked.add(new LeftOut(read.stored().position(), read.stored().stream(), null));
                    continue;
                }
                try {
                    Entry entry = read.entryOrFail();
                    projection.rows(entry, (table, row) -> {});
                    entries.add(entry);
                } catch (RuntimeException e) {
                    parked.add(new LeftOut(read.stored().position(), read.stored().stream(), e));
                    subjects.add(read.stored().stream());
                }
            }
            if (parked.size() > MOST_PARKED) {
                throw new IllegalStateException(
                        projection.name() + " can't take more than " + MOST_PARKED + " events; nothing was changed");
            }
            copies.write(projection, copy(projection), entries);
        }

        /**
         * Changes the copies. What was seen late, and what came since the last page, is added first: once while all goes
         * on, so that little is left for the moment in which it must not.
         */
        private void swap(long head) {
            if (anew.isEmpty()) {
                return;
            }
            long reached = log.head();
            for (Projection projection : anew) {
                transaction.executeWithoutResult(status -> complete(projection, head - LATE));
            }
            transaction.executeWithoutResult(status -> {
                anew.forEach(projection -> copies.hold(projection.name()));
                for (Projection projection : anew) {
                    complete(projection, reached - LATE);
                    parking.replace(projection.name(), leftOut.getOrDefault(projection.name(), List.of()));
                    copies.swap(projection.name(), copy(projection));
                }
            });
            copies.lookAgain();
            try {
                // Until every node has seen it.
                Thread.sleep(withIndex ? 0 : 2 * Copies.STALE_MILLIS);
            } catch (InterruptedException e) {
                // The next time empties it.
                Thread.currentThread().interrupt();
                return;
            }
            for (Projection projection : anew) {
                transaction.executeWithoutResult(status -> copies.clear(projection, 3 - copy(projection)));
            }
        }

        /** Adds what is not there of the events behind that position. */
        private void complete(Projection projection, long after) {
            Set<Long> there = copies.positions(projection, copy(projection), after);
            leftOut.getOrDefault(projection.name(), List.of()).forEach(one -> there.add(one.position()));
            long reached = after;
            for (List<Stored> page = log.page(reached, PAGE); !page.isEmpty(); page = log.page(reached, PAGE)) {
                write(
                        projection,
                        page.stream()
                                .filter(stored -> !there.contains(stored.position()))
                                .map(this::read)
                                .toList());
                reached = page.get(page.size() - 1).position();
            }
        }

        private Void timed(String part, Runnable work) {
            long started = System.nanoTime();
            work.run();
            nanos.computeIfAbsent(part, name -> new LongAdder()).add(System.nanoTime() - started);
            return null;
        }

        private void together(List<Callable<Void>> work) {
            work.stream().map(threads::submit).toList().forEach(Rebuild::get);
        }
    }

    /**
     * @param event null where it can't be read
     * @param entry null where that is no act, or can't be read
     * @param fault why it can't be read
     */
    private record Read(
            Stored stored,
            @Nullable FieldEvent event,
            @Nullable Entry entry,
            @Nullable RuntimeException fault) {

        boolean isOfAct() {
            return event == null ? EventLog.isAct(stored) : entry != null;
        }

        FieldEvent orFail() {
            return orFail(event);
        }

        Entry entryOrFail() {
            return orFail(entry);
        }

        private <T> T orFail(@Nullable T part) {
            if (part == null) {
                throw new IllegalStateException("event " + stored.id() + " can't be read", fault);
            }
            return part;
        }
    }

    private static <T> T get(Future<T> future) {
        try {
            return future.get();
        } catch (ExecutionException e) {
            throw e.getCause() instanceof RuntimeException cause ? cause : new IllegalStateException(e.getCause());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted while projections are made anew", e);
        }
    }
}
