package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.io.InputStream;
import java.lang.reflect.Method;
import java.lang.reflect.Parameter;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMethod;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ValueConstants;
import org.springframework.web.servlet.mvc.method.RequestMappingInfo;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;

/** The description of what machines may ask for, held against the endpoints, the table of roles, and OpenAPI's own schema. */
class OpenApiTest {

    private static final ObjectMapper JSON = new ObjectMapper();

    /** What machines ask for; pages are not described. */
    private static boolean isForMachines(String path) {
        return path.matches("/(api|field|witness)/.*|/health|/metrics|.*\\.json") && !path.contains("{*path}");
    }

    private static JsonNode description() throws IOException {
        try (InputStream file = OpenApiTest.class.getResourceAsStream("/static/openapi.json")) {
            return JSON.readTree(file);
        }
    }

    private static void endpoints(TestFarm server, Map<String, Set<String>> all) {
        server.bean(RequestMappingHandlerMapping.class)
                .getHandlerMethods()
                .forEach((mapping, handler) -> endpoints(mapping, handler.getMethod(), all));
    }

    private static void endpoints(RequestMappingInfo mapping, Method method, Map<String, Set<String>> all) {
        Set<String> parameters = new TreeSet<>();
        for (Parameter parameter : method.getParameters()) {
            RequestParam asked = parameter.getAnnotation(RequestParam.class);
            PathVariable inPath = parameter.getAnnotation(PathVariable.class);
            if (asked != null && !Map.class.isAssignableFrom(parameter.getType())) {
                boolean required = asked.required() && asked.defaultValue().equals(ValueConstants.DEFAULT_NONE);
                parameters.add("query " + name(asked.name(), asked.value(), parameter) + (required ? " !" : ""));
            } else if (inPath != null) {
                parameters.add("path " + name(inPath.name(), inPath.value(), parameter) + " !");
            }
        }
        for (String path : mapping.getPatternValues()) {
            for (RequestMethod verb : mapping.getMethodsCondition().getMethods()) {
                if (isForMachines(path)) {
                    all.put(verb + " " + path, parameters);
                }
            }
        }
    }

    private static String name(String name, String value, Parameter parameter) {
        return !name.isEmpty() ? name : !value.isEmpty() ? value : parameter.getName();
    }

    private static void described(String key, JsonNode operation, Map<String, Set<String>> all) {
        Set<String> parameters = new TreeSet<>();
        operation
                .path("parameters")
                .forEach(parameter -> parameters.add(parameter.get("in").asText() + " "
                        + parameter.get("name").asText()
                        + (parameter.path("required").asBoolean() ? " !" : "")));
        all.put(key, parameters);
    }

    @Test
    void everyEndpointForMachinesIsDescribedAndNothingElse() throws IOException {
        Map<String, Set<String>> there = new TreeMap<>();
        try (TestFarm demo = new TestFarm(Engine.H2)) {
            endpoints(demo, there);
            assertThat(demo.get("/openapi.json").body()).contains("\"openapi\": \"3.1.0\"");
            assertThat(demo.get("/api").body()).contains("/api/board/stream", "supervisor");
        }
        Map<String, Set<String>> written = new TreeMap<>();
        List<String> wrongRoles = new ArrayList<>();
        description()
                .get("paths")
                .fields()
                .forEachRemaining(path -> path.getValue().fields().forEachRemaining(operation -> {
                    String key = operation.getKey().toUpperCase() + " " + path.getKey();
                    described(key, operation.getValue(), written);
                    Set<String> roles = new TreeSet<>();
                    operation.getValue().get("x-roles").forEach(role -> roles.add(role.asText()));
                    if (!roles.equals(duskpeg.projections.signin.AccessLines.roles(key))) {
                        wrongRoles.add(key + " " + roles);
                    }
                }));
        assertThat(written).isEqualTo(there);
        assertThat(wrongRoles).isEmpty();
    }

    /** The schema of OpenAPI 3.1 of 2021-04-15, as the OpenAPI Initiative publishes it (Apache-2.0). */
    @Test
    void theDescriptionIsOneOfOpenApi() throws IOException {
        try (InputStream schema = OpenApiTest.class.getResourceAsStream("/openapi-3.1-schema.json")) {
            String text = new String(schema.readAllBytes(), StandardCharsets.UTF_8);
            var validator = SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                    .getSchema(text, InputFormat.JSON);
            assertThat(validator.validate(description())).isEmpty();
            assertThat(validator.validate(JSON.readTree("{\"openapi\":\"3.1.0\",\"paths\":{}}")))
                    .isNotEmpty();
        }
    }
}
