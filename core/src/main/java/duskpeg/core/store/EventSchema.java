package duskpeg.core.store;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import duskpeg.core.act.Subject;
import duskpeg.core.act.TextId;
import duskpeg.core.crew.Strip;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.PlantId;
import duskpeg.core.store.EventTypes.EventType;
import java.lang.reflect.ParameterizedType;
import java.lang.reflect.RecordComponent;
import java.lang.reflect.Type;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * The form of a leaf of the ledger, as a JSON Schema (draft 2020-12): for whoever reads events without this program. It is
 * made from the classes that events are read as, so it can't differ from them.
 */
public final class EventSchema {

    private static final ObjectMapper JSON = new ObjectMapper();

    /** What is written as a text, see {@link EventJson}, and how that looks. Every {@link Subject} is too. */
    private static final Map<Class<?>, String> TEXTS = Map.of(
            FarmId.class, "a farm",
            TieNumber.class, "a tie: digits, zeros before them count",
            PlantId.class, "a plant of a row",
            LocalTime.class, "by the farm's clock, as in 09:00:00",
            TextId.class, "a message: FARM/text/ID",
            Subject.class, "what it is about, as it names a stream");

    private static final Map<Class<?>, String> FORMATS = Map.of(Instant.class, "date-time", LocalDate.class, "date");

    /** What revision 1 of {@code strip-issued} did not say: its numbers were plain. */
    private static final Map<Class<?>, String> LATER = Map.of(Strip.class, "numbering");

    private final ObjectNode definitions = JSON.createObjectNode();

    private EventSchema() {}

    /** The schema. */
    public static String json() {
        try {
            return JSON.writerWithDefaultPrettyPrinter()
                            .writeValueAsString(new EventSchema().leaf())
                            .replace("\r", "") + "\n";
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("every tree can be written", e);
        }
    }

    private ObjectNode leaf() {
        ObjectNode leaf = object();
        leaf.put("$schema", "https://json-schema.org/draft/2020-12/schema");
        leaf.put("title", "An event of a farm, as it lies in the log");
        leaf.put(
                "description",
                "A line of events.jsonl. Times are UTC. What is not required was not said where it is absent; older"
                        + " revisions had fewer fields and no other ones.");
        property(leaf, "id", text("the event's own"), true);
        property(
                leaf,
                "stream",
                text("what it is about: FARM, FARM/tie/TIE, FARM/row/ROW/MORNING, FARM/worker/WHO, …"),
                true);
        property(
                leaf, "sequence", JSON.createObjectNode().put("type", "integer").put("minimum", 0), true);
        ObjectNode type = text("what happened");
        ArrayNode names = type.putArray("enum");
        property(leaf, "type", type, true);
        property(leaf, "revision", text("of the payload's form: a whole number"), true);
        property(leaf, "stored", text("when, by the server's clock").put("format", "date-time"), true);
        property(leaf, "payload", JSON.createObjectNode().put("type", "object"), true);
        property(leaf, "metadata", JSON.createObjectNode().put("type", "object"), true);
        ArrayNode cases = leaf.putArray("allOf");
        for (EventType event : EventTypes.ALL) {
            names.add(event.name());
            ObjectNode one = cases.addObject();
            one.putObject("if").putObject("properties").putObject("type").put("const", event.name());
            one.putObject("then").putObject("properties").set("payload", ref(event.name(), event.type()));
        }
        leaf.set("$defs", definitions);
        return leaf;
    }

    private static ObjectNode object() {
        ObjectNode object = JSON.createObjectNode();
        object.put("type", "object");
        object.put("additionalProperties", false);
        object.putArray("required");
        object.putObject("properties");
        return object;
    }

    private static void property(ObjectNode object, String name, ObjectNode schema, boolean required) {
        object.withObjectProperty("properties").set(name, schema);
        if (required) {
            object.withArrayProperty("required").add(name);
        }
    }

    private static ObjectNode text(String description) {
        return JSON.createObjectNode().put("type", "string").put("description", description);
    }

    private ObjectNode ref(String name, Class<?> type) {
        if (!definitions.has(name)) {
            ObjectNode object = object();
            definitions.set(name, object);
            for (RecordComponent part : type.getRecordComponents()) {
                property(
                        object,
                        part.getName(),
                        of(part.getGenericType()),
                        !part.getAnnotatedType().isAnnotationPresent(Nullable.class)
                                && !part.getName().equals(LATER.get(type)));
            }
        }
        return JSON.createObjectNode().put("$ref", "#/$defs/" + name);
    }

    private ObjectNode of(Type generic) {
        if (generic instanceof ParameterizedType list && list.getRawType() == List.class) {
            ObjectNode array = JSON.createObjectNode().put("type", "array");
            array.set("items", of(list.getActualTypeArguments()[0]));
            return array;
        }
        Class<?> type = (Class<?>) generic;
        if (type.isEnum()) {
            ObjectNode word = JSON.createObjectNode().put("type", "string");
            ArrayNode words = word.putArray("enum");
            Arrays.stream(type.getEnumConstants()).forEach(one -> words.add(((Enum<?>) one).name()));
            return word;
        }
        String description = TEXTS.get(type);
        if (description != null) {
            return text(description);
        }
        if (Subject.class.isAssignableFrom(type)) {
            return text("an id, as it names a stream");
        }
        String format = FORMATS.get(type);
        if (format != null) {
            return JSON.createObjectNode().put("type", "string").put("format", format);
        }
        if (type == String.class || type == ZoneId.class) {
            return JSON.createObjectNode().put("type", "string");
        }
        if (type == int.class || type == Integer.class) {
            return JSON.createObjectNode().put("type", "integer");
        }
        if (type == double.class || type == Double.class) {
            return JSON.createObjectNode().put("type", "number");
        }
        return ref(type.getSimpleName(), type);
    }
}
