package duskpeg.projections.export;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import duskpeg.core.farm.FarmId;
import duskpeg.core.store.StoredEvents;
import duskpeg.core.store.StoredEvents.Place;
import duskpeg.core.store.StoredEvents.Stored;
import duskpeg.projections.ledger.Ledger;
import java.io.IOException;
import java.io.Writer;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/**
 * The log of a farm as JSON Lines, an event in each. A line without {@code leaf}, {@code done} and {@code heard}, in
 * canonical form (RFC 8785), is the leaf of the ledger.
 */
@Component
class EventLines {

    private static final int AT_ONCE = 500;

    private final StoredEvents events;
    private final Ledger ledger;
    private final ObjectMapper json = new ObjectMapper();

    EventLines(StoredEvents events, Ledger ledger) {
        this.events = events;
        this.ledger = ledger;
    }

    /**
     * Writes the events in the order of the log.
     *
     * @param from what was heard or entered before is left out; null for nothing
     * @param before what was heard or entered then or later is left out; null for nothing
     */
    void write(FarmId farm, @Nullable Instant from, @Nullable Instant before, Writer out) throws IOException {
        long after = -1;
        List<Place> some;
        do {
            some = events.places(farm, after, AT_ONCE);
            List<String> ids = some.stream().map(Place::id).toList();
            Map<String, Stored> stored = events.withIds(ids);
            Map<String, Long> leaves = ledger.leaves(farm, ids);
            for (Place place : some) {
                after = place.position();
                ObjectNode line = line(place.id(), stored.get(place.id()), leaves.get(place.id()));
                if (isWanted(line, from, before)) {
                    out.write(json.writeValueAsString(line));
                    out.write('\n');
                }
            }
        } while (some.size() == AT_ONCE);
    }

    private ObjectNode line(String id, @Nullable Stored stored, @Nullable Long leaf) throws IOException {
        ObjectNode line = json.createObjectNode().put("id", id);
        if (leaf != null) {
            line.put("leaf", leaf);
        }
        if (stored == null) {
            // It was changed in the database so that it can't be read. To leave it out would hide that.
            return line.put("unreadable", true);
        }
        JsonNode event = json.readTree(stored.canonical());
        JsonNode payload = event.path("payload");
        for (String name : List.of("stream", "sequence", "type", "revision", "stored")) {
            line.set(name, event.get(name));
        }
        JsonNode told = payload.path("told");
        if (told.has("done")) {
            line.set("done", told.get("done"));
        }
        JsonNode heard = told.has("heard") ? told.get("heard") : payload.get("at");
        if (heard != null) {
            line.set("heard", heard);
        }
        line.set("payload", payload);
        line.set("metadata", event.get("metadata"));
        return line;
    }

    /** What says no time is in every export. */
    private static boolean isWanted(ObjectNode line, @Nullable Instant from, @Nullable Instant before) {
        if (!line.has("heard")) {
            return true;
        }
        Instant heard = Instant.parse(line.get("heard").asText());
        return (from == null || !heard.isBefore(from)) && (before == null || heard.isBefore(before));
    }
}
