package duskpeg.core.store;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * The schema against the events of every revision that were ever stored. A server test has a library for JSON Schema check
 * whole logs by it; here only what may be in an object, and what must, is looked at.
 */
class EventSchemaTest {

    private static final ObjectMapper JSON = new ObjectMapper();
    private static final JsonNode SCHEMA = read(EventSchema.json());

    private static JsonNode read(String json) {
        try {
            return JSON.readTree(json);
        } catch (IOException e) {
            throw new IllegalStateException(e);
        }
    }

    static Stream<Path> events() throws IOException {
        return Files.list(Path.of("src", "test", "resources", "events"))
                .filter(file -> file.toString().endsWith(".json"));
    }

    @ParameterizedTest
    @MethodSource("events")
    void everyEventThatWasEverStoredIsOfIt(Path file) throws IOException {
        String type = file.getFileName().toString().replaceFirst("-[0-9]+[.].*", "");
        List<String> wrong = new ArrayList<>();
        check(read(Files.readString(file)), SCHEMA.at("/$defs/" + type), type, wrong);
        assertThat(SCHEMA.at("/$defs/" + type).isObject()).isTrue();
        assertThat(wrong).isEmpty();
    }

    private static void check(JsonNode value, JsonNode schema, String where, List<String> wrong) {
        if (schema.has("$ref")) {
            check(value, SCHEMA.at(schema.get("$ref").asText().substring(1)), where, wrong);
            return;
        }
        switch (schema.path("type").asText()) {
            case "object" -> {
                schema.get("required").forEach(name -> {
                    if (!value.has(name.asText())) {
                        wrong.add(where + " lacks " + name.asText());
                    }
                });
                value.properties().forEach(field -> {
                    JsonNode known = schema.get("properties").get(field.getKey());
                    if (known == null) {
                        wrong.add(where + " has " + field.getKey());
                    } else {
                        check(field.getValue(), known, where + "/" + field.getKey(), wrong);
                    }
                });
            }
            case "array" -> value.forEach(one -> check(one, schema.get("items"), where, wrong));
            case "string" -> {
                boolean listed = !schema.has("enum");
                for (JsonNode word : schema.path("enum")) {
                    listed |= word.equals(value);
                }
                if (!value.isTextual() || !listed) {
                    wrong.add(where + " is " + value);
                }
            }
            case "integer" -> {
                if (!value.isIntegralNumber()) {
                    wrong.add(where + " is " + value);
                }
            }
            case "number" -> {
                if (!value.isNumber()) {
                    wrong.add(where + " is " + value);
                }
            }
            default -> wrong.add(where + " is of no kind");
        }
    }

    @Test
    void whatIsWrongIsSeen() {
        List<String> wrong = new ArrayList<>();
        check(read("{\"worker\":7,\"role\":\"KING\",\"crown\":1}"), SCHEMA.at("/$defs/worker-enrolled"), "", wrong);
        assertThat(wrong).containsExactly(" lacks at", "/worker is 7", "/role is \"KING\"", " has crown");
    }
}
