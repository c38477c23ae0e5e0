package duskpeg.projections.ops;

import com.fasterxml.jackson.annotation.JsonInclude;
import duskpeg.projections.ledger.LastSeen;
import duskpeg.projections.ledger.LedgerKeys;
import duskpeg.projections.parking.Parking;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.axonframework.eventhandling.TrackingToken;
import org.axonframework.serialization.Serializer;
import org.axonframework.serialization.SimpleSerializedObject;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.DisposableBean;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.util.unit.DataSize;

/**
 * How the server is doing: a few small queries, one look at a time, and one look for whoever asks within two seconds. It
 * is down only if it can't take a report; all else that is wrong is a warning, since a server that a load balancer leaves
 * out for it hears nobody.
 */
@Component
public class Health implements DisposableBean {

    private static final Duration FRESH = Duration.ofSeconds(2);
    private static final Duration PATIENCE = Duration.ofSeconds(3);

    /** A projection is seldom a second behind, and a rebuild of a season takes some. */
    private static final Duration LONGEST_LAG = Duration.ofMinutes(1);

    private static final Duration LONGEST_WAIT = Duration.ofMinutes(15);

    /** A night and some. */
    private static final Duration OLDEST_BACKUP = Duration.ofHours(26);

    private final JdbcClient jdbc;
    private final Serializer serializer;
    private final Backups backups;
    private final Parking parking;
    private final LedgerKeys keys;
    private final LastSeen seen;
    private final Path data;
    private final DataSize least;
    private final ExecutorService looking = Executors.newSingleThreadExecutor(work -> {
        Thread thread = new Thread(work, "health");
        thread.setDaemon(true);
        return thread;
    });
    private @Nullable Future<Report> look;
    private long begun;

    Health(
            JdbcClient jdbc,
            @Qualifier("eventSerializer") Serializer serializer,
            Backups backups,
            Parking parking,
            LedgerKeys keys,
            LastSeen seen,
            @Value("${duskpeg.data-dir}") Path data,
            @Value("${duskpeg.disk-least}") DataSize least) {
        this.jdbc = jdbc;
        this.serializer = serializer;
        this.backups = backups;
        this.parking = parking;
        this.keys = keys;
        this.seen = seen;
        this.data = data;
        this.least = least;
    }

    /** In one word. */
    public enum Status {
        /** Nothing is wrong. */
        OK,
        /** Reports are taken, and somebody should look. */
        WARNING,
        /** Reports can't be taken. */
        DOWN;

        /** As it is written in JSON. */
        public String word() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    /**
     * What was seen.
     *
     * @param status in one word
     * @param reasons why it is not {@code ok}, in words
     * @param projections how far each event processor is behind the log; null if the database does not answer, as below
     * @param outgoing how many texts wait, are being sent, held, or unknown
     * @param parked how many events wait aside that a projection could not take, by projection
     * @param freeBytes how much may still be written where the data is; null if that can't be told
     * @param backupSeconds how long ago the newest backup was made; null if there is none or none is wanted
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record Report(
            String status,
            List<String> reasons,
            @Nullable Map<String, Behind> projections,
            @Nullable Map<String, Long> outgoing,
            @Nullable Map<String, Long> parked,
            @Nullable Long freeBytes,
            @Nullable Long backupSeconds) {

        public Report {
            reasons = List.copyOf(reasons);
        }
    }

    /**
     * How far a processor is behind. The ledger is one of them.
     *
     * @param positions how many places of the log, at most so many events
     * @param seconds how long the oldest event waits that it has not seen
     */
    public record Behind(long positions, long seconds) {}

    /** How it is now, or was two seconds ago. */
    public Report report() {
        Future<Report> asked;
        synchronized (this) {
            Future<Report> last = look;
            if (last == null || (last.isDone() && System.nanoTime() - begun > FRESH.toNanos())) {
                last = looking.submit(this::look);
                look = last;
                begun = System.nanoTime();
            }
            asked = last;
        }
        try {
            return asked.get(PATIENCE.toMillis(), TimeUnit.MILLISECONDS);
        } catch (TimeoutException | ExecutionException e) {
            return new Report(
                    Status.DOWN.word(), List.of("the database does not answer"), null, null, null, free(), null);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException(e);
        }
    }

    private Report look() {
        Instant now = Instant.now();
        List<String> reasons = new ArrayList<>();
        Map<String, Behind> projections = behind(now);
        projections.forEach((name, behind) -> {
            if (behind.seconds() > LONGEST_LAG.toSeconds()) {
                reasons.add(name + " is " + behind.seconds() + " s behind the log");
            }
        });
        Map<String, Long> parked = parking.counts();
        parked.forEach((name, count) -> reasons.add(count + " events are parked, " + name
                + " could not take them or what came before them; see /operations"));
        Map<String, Long> outgoing = outgoing();
        long overdue = jdbc.sql(
                        "select count(*) from outgoing where state = 'waiting'" + " and coalesce(next_try, stored) < ?")
                .param(now.minus(LONGEST_WAIT).atOffset(ZoneOffset.UTC))
                .query(Long.class)
                .single();
        if (overdue > 0) {
            reasons.add(overdue + " texts wait to be sent for more than " + LONGEST_WAIT.toMinutes() + " min");
        }
        long unknown = outgoing.getOrDefault("unknown", 0L);
        if (unknown > 0) {
            reasons.add("of " + unknown + " texts nobody knows whether they arrived; see /outbox");
        }
        Long free = free();
        if (free != null && free < least.toBytes()) {
            reasons.add("less than " + least.toMegabytes() + " MB are free where the data is");
        }
        keys.problem().ifPresent(why -> reasons.add("this node has not the ledger's key, and signs nothing"));
        seen.problem()
                .ifPresent(why ->
                        reasons.add("what this node saw of the log does not fit, or can't be kept: see its log"));
        Long backup = backup(now, reasons);
        return new Report(
                (reasons.isEmpty() ? Status.OK : Status.WARNING).word(),
                reasons,
                projections,
                outgoing,
                parked,
                free,
                backup);
    }

    /** The token's position; the lowest of a processor's segments counts. */
    private Map<String, Behind> behind(Instant now) {
        Map<String, Long> reached = new TreeMap<>();
        jdbc.sql("select processor, token, token_type from token").query(row -> {
            byte[] token = row.getBytes(2);
            long position = token == null ? -1 : position(token, row.getString(3));
            reached.merge(row.getString(1), position, Math::min);
        });
        // After the tokens: whatever is between counts as behind, and never the other way round.
        long head = jdbc.sql("select coalesce(max(position), -1) from event")
                .query(Long.class)
                .single();
        Map<String, Behind> behind = new TreeMap<>();
        reached.forEach((name, position) -> behind.put(
                name, position >= head ? new Behind(0, 0) : new Behind(head - position, waited(position, now))));
        return behind;
    }

    private long position(byte[] token, String type) {
        TrackingToken read = serializer.deserialize(new SimpleSerializedObject<>(token, byte[].class, type, null));
        return read == null ? -1 : read.position().orElse(-1);
    }

    private long waited(long position, Instant now) {
        return jdbc.sql("select stored_at from event where position > ? order by position fetch first 1 rows only")
                .param(position)
                .query(String.class)
                .optional()
                .map(stored ->
                        Math.max(0, Duration.between(Instant.parse(stored), now).toSeconds()))
                .orElse(0L);
    }

    private Map<String, Long> outgoing() {
        Map<String, Long> states = new TreeMap<>();
        List.of("waiting", "sending", "held", "unknown").forEach(state -> states.put(state, 0L));
        jdbc.sql("select state, count(*) from outgoing where state in ('waiting', 'sending', 'held', 'unknown')"
                        + " group by state")
                .query(row -> {
                    states.put(row.getString(1), row.getLong(2));
                });
        return states;
    }

    private @Nullable Long free() {
        Path there = data.toAbsolutePath();
        while (there != null && !Files.exists(there)) {
            there = there.getParent();
        }
        try {
            return there == null ? null : Files.getFileStore(there).getUsableSpace();
        } catch (IOException e) {
            return null;
        }
    }

    private @Nullable Long backup(Instant now, List<String> reasons) {
        if (!backups.wanted()) {
            return null;
        }
        try {
            Long age = backups.newest()
                    .map(made -> Duration.between(made, now).toSeconds())
                    .orElse(null);
            if (age == null) {
                reasons.add("there is no backup yet");
            } else if (age > OLDEST_BACKUP.toSeconds()) {
                reasons.add("the newest backup is " + Duration.ofSeconds(age).toHours() + " h old");
            }
            return age;
        } catch (IOException e) {
            reasons.add("the folder of the backups can't be read");
            return null;
        }
    }

    @Override
    public void destroy() {
        looking.shutdownNow();
    }
}
