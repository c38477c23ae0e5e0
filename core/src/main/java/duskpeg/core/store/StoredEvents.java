package duskpeg.core.store;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import duskpeg.core.act.FieldEvent;
import duskpeg.core.audit.Logged;
import duskpeg.core.farm.FarmId;
import java.io.IOException;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.erdtman.jcs.JsonCanonicalizer;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * Events as they lie in the store, whatever class they are read as today: what the ledger is made of. Each is one JSON
 * text in canonical form (RFC 8785), so that the same event has the same bytes for everybody and forever.
 */
public final class StoredEvents {

    /** Fewer than any database's limit on the values of a query. */
    private static final int AT_ONCE = 500;

    private static final ObjectMapper JSON = EventJson.mapper();

    private final JdbcClient jdbc;
    private final boolean nodes;
    private final ObjectMapper json = new ObjectMapper();

    /**
     * @param nodes whether other servers may write to this database
     */
    public StoredEvents(JdbcClient jdbc, boolean nodes) {
        this.jdbc = jdbc;
        this.nodes = nodes;
    }

    /** Whether other servers may write to this database. */
    public boolean areOfSeveralNodes() {
        return nodes;
    }

    /** The numbers of the last events of these streams, from 0; a stream without events is left out. */
    public Map<String, Long> last(Collection<String> streams) {
        Map<String, Long> last = new HashMap<>();
        List<String> all = List.copyOf(streams);
        for (int from = 0; from < all.size(); from += AT_ONCE) {
            jdbc.sql("select stream, max(sequence) from event where stream in (:streams) group by stream")
                    .param("streams", all.subList(from, Math.min(from + AT_ONCE, all.size())))
                    .query(row -> {
                        last.put(row.getString(1), row.getLong(2));
                    });
        }
        return last;
    }

    /**
     * A stored event.
     *
     * @param id its id
     * @param farm the farm it is of
     * @param canonical the event in canonical JSON
     */
    public record Stored(String id, String farm, String canonical) {}

    /**
     * Reads what {@link Stored#canonical} holds.
     *
     * @param leaf which leaf of its farm's tree it is
     * @throws IllegalArgumentException if it is no event
     */
    public static Logged read(long leaf, String canonical) {
        return read(leaf, canonical, Upcasts.RELEASED);
    }

    static Logged read(long leaf, String canonical, Upcasts upcasts) {
        try {
            JsonNode event = JSON.readTree(canonical);
            String type = event.path("type").asText();
            FieldEvent payload = JSON.treeToValue(
                    upcasts.apply(type, event.path("revision").asText(), event.path("payload")),
                    EventTypes.named(type)
                            .orElseThrow(() -> new IllegalArgumentException("not an event: " + type))
                            .type());
            if (payload == null || !event.path("sequence").isIntegralNumber()) {
                throw new IllegalArgumentException("not an event: leaf " + leaf);
            }
            return new Logged(
                    leaf,
                    event.path("id").asText(),
                    event.path("stream").asText(),
                    event.path("sequence").asLong(),
                    payload);
        } catch (JsonProcessingException e) {
            throw new IllegalArgumentException("not an event: leaf " + leaf, e);
        }
    }

    /**
     * Where an event lies in the log.
     *
     * @param position counts up with the log, with gaps
     * @param id the event's id
     */
    public record Place(long position, String id) {}

    /**
     * The events of a farm, in the order of the log.
     *
     * @param after the position behind which they begin; -1 for the first
     * @param most how many
     */
    public List<Place> places(FarmId farm, long after, int most) {
        return jdbc.sql("select position, event_id from event where position > ? and (stream = ? or stream like ?)"
                        + " order by position fetch first " + most + " rows only")
                .params(after, farm.value(), farm.value() + "/%")
                .query((row, number) -> new Place(row.getLong(1), row.getString(2)))
                .list();
    }

    /**
     * The events with these ids, by id; one that is not there is left out, and so is one that was changed so that it
     * can't be read.
     */
    public Map<String, Stored> withIds(Collection<String> ids) {
        Map<String, Stored> found = new HashMap<>();
        List<String> all = List.copyOf(ids);
        for (int from = 0; from < all.size(); from += AT_ONCE) {
            jdbc.sql("select event_id, stream, sequence, event_type, revision, payload, metadata, stored_at from event"
                            + " where event_id in (:ids)")
                    .param("ids", all.subList(from, Math.min(from + AT_ONCE, all.size())))
                    .query((row, number) -> stored(
                            row.getString(1),
                            row.getString(2),
                            row.getLong(3),
                            row.getString(4),
                            row.getString(5),
                            row.getBytes(6),
                            row.getBytes(7),
                            row.getString(8)))
                    .list()
                    .forEach(read -> read.ifPresent(stored -> found.put(stored.id(), stored)));
        }
        return found;
    }

    private Optional<Stored> stored(
            String id,
            String stream,
            long sequence,
            String type,
            String revision,
            byte[] payload,
            byte[] metadata,
            String at) {
        try {
            ObjectNode event = json.createObjectNode()
                    .put("id", id)
                    .put("stream", stream)
                    .put("sequence", sequence)
                    .put("type", type)
                    .put("revision", revision)
                    .put("stored", at);
            event.set("payload", json.readTree(payload));
            event.set("metadata", json.readTree(metadata));
            return Optional.of(new Stored(id, stream.split("/", 2)[0], canonical(json.writeValueAsString(event))));
        } catch (IOException | IllegalArgumentException e) {
            return Optional.empty();
        }
    }

    /**
     * A JSON text in canonical form.
     *
     * @throws IllegalArgumentException if it is no JSON object or array
     */
    static String canonical(String text) throws JsonProcessingException {
        try {
            return new JsonCanonicalizer(text).getEncodedString();
        } catch (IOException e) {
            throw new IllegalArgumentException("not JSON: " + text, e);
        }
    }
}
