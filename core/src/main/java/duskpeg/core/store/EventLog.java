package duskpeg.core.store;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.ObjectReader;
import duskpeg.core.act.Act;
import duskpeg.core.act.FieldEvent;
import duskpeg.core.store.EventTypes.EventType;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.jdbc.core.simple.JdbcClient;

/** The log from its beginning, page by page: for making anew what is made of it. */
public final class EventLog {

    private static final Logger LOG = LoggerFactory.getLogger(EventLog.class);
    private static final ObjectMapper JSON = EventJson.mapper();
    private static final Map<String, ObjectReader> READERS = readers();

    /** The columns of {@link Stored} in the table {@code event}. */
    public static final String COLUMNS = "position, event_id, stream, event_type, revision, payload";

    /** What is true of acts in the table {@code event}. */
    public static final String IS_ACT = EventTypes.ALL.stream()
            .filter(type -> Act.class.isAssignableFrom(type.type()))
            .map(type -> "'" + type.name() + "'")
            .collect(Collectors.joining(", ", "event_type in (", ")"));

    private final JdbcClient jdbc;
    private final Upcasts upcasts;

    public EventLog(JdbcClient jdbc, Upcasts upcasts) {
        this.jdbc = jdbc;
        this.upcasts = upcasts;
    }

    private static Map<String, ObjectReader> readers() {
        Map<String, ObjectReader> readers = new HashMap<>();
        EventTypes.ALL.forEach(type -> readers.put(type.name(), JSON.readerFor(type.type())));
        return Map.copyOf(readers);
    }

    /**
     * An event as it lies in the log.
     *
     * @param position counts up with the log, with gaps
     * @param id the event's id
     * @param stream what it is about
     * @param payload its JSON
     */
    public record Stored(long position, String id, String stream, String type, String revision, String payload) {}

    /** The furthest position there is; -1 where there is none. */
    public long head() {
        return jdbc.sql("select coalesce(max(position), -1) from event")
                .query(Long.class)
                .single();
    }

    /**
     * The next events, in the order of the log.
     *
     * @param after the position behind which they begin; -1 for the first
     * @param most how many
     */
    public List<Stored> page(long after, int most) {
        return jdbc.sql("select " + COLUMNS + " from event where position > ?" + " order by position fetch first "
                        + most + " rows only")
                .param(after)
                .query(EventLog::stored)
                .list();
    }

    /** Reads a row of {@link #COLUMNS}. */
    public static Stored stored(ResultSet row, int number) throws SQLException {
        return new Stored(
                row.getLong(1),
                row.getString(2),
                row.getString(3),
                row.getString(4),
                row.getString(5),
                new String(row.getBytes(6), StandardCharsets.UTF_8));
    }

    /** Where these events lie, by id; one that is not there is left out. */
    public Map<String, Long> positions(List<String> ids) {
        Map<String, Long> positions = new HashMap<>();
        if (!ids.isEmpty()) {
            jdbc.sql("select event_id, position from event where event_id in (:ids)")
                    .param("ids", ids)
                    .query(row -> {
                        positions.put(row.getString(1), row.getLong(2));
                    });
        }
        return positions;
    }

    /**
     * Reads an event.
     *
     * @throws IllegalArgumentException if it can't be read
     */
    public FieldEvent read(Stored stored) {
        ObjectReader reader = READERS.get(stored.type());
        if (reader == null) {
            throw new IllegalArgumentException("not an event: " + stored.type());
        }
        try {
            @Nullable
            FieldEvent event = upcasts.change(stored.type(), stored.revision())
                    ? reader.readValue(upcasts.apply(stored.type(), stored.revision(), JSON.readTree(stored.payload())))
                    : reader.readValue(stored.payload());
            if (event == null) {
                throw new IllegalArgumentException("not an event: " + stored.id());
            }
            return event;
        } catch (IOException e) {
            throw new IllegalArgumentException("not an event: " + stored.id(), e);
        }
    }

    /** Reads an act; empty where it can't be read, or is none. */
    public Optional<Act> act(Stored stored) {
        try {
            return read(stored) instanceof Act act ? Optional.of(act) : Optional.empty();
        } catch (IllegalArgumentException e) {
            LOG.warn("An act can't be read and is in no history: {}", stored.id(), e);
            return Optional.empty();
        }
    }

    /** Whether that is an act, also where it can't be read. */
    public static boolean isAct(Stored stored) {
        return EventTypes.named(stored.type())
                .filter(type -> Act.class.isAssignableFrom(type.type()))
                .isPresent();
    }

    /** As {@link EventJson#write} would write it; what is stored in today's revision need not be written again. */
    public static String written(Stored stored, FieldEvent event) {
        return EventTypes.named(stored.type())
                        .map(EventType::revision)
                        .filter(stored.revision()::equals)
                        .isPresent()
                ? stored.type() + " " + stored.payload()
                : EventJson.write(event);
    }
}
