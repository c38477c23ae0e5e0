package duskpeg.server;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.springframework.core.io.ClassPathResource;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;

/** {@code openapi.json}, which describes what machines may ask for, as a page for people. */
@Controller
class ApiPage {

    private static final String FILE = "static/openapi.json";

    private final List<Operation> operations = new ArrayList<>();

    ApiPage(ObjectMapper json) throws IOException {
        try (InputStream file = new ClassPathResource(FILE).getInputStream()) {
            json.readTree(file)
                    .get("paths")
                    .properties()
                    .forEach(path -> path.getValue()
                            .properties()
                            .forEach(one -> operations.add(Operation.of(path.getKey(), one.getKey(), one.getValue()))));
        }
    }

    /** A line of the page. */
    record Operation(String method, String path, String summary, String parameters, String roles) {

        static Operation of(String path, String method, JsonNode one) {
            List<String> parameters = new ArrayList<>();
            one.path("parameters").forEach(parameter -> {
                if (parameter.get("in").asText().equals("query")) {
                    String name = parameter.get("name").asText();
                    parameters.add(parameter.path("required").asBoolean() ? name : "[" + name + "]");
                }
            });
            List<String> roles = new ArrayList<>();
            one.get("x-roles").forEach(role -> roles.add(role.asText()));
            return new Operation(
                    method.toUpperCase(Locale.ROOT),
                    path,
                    one.get("summary").asText(),
                    String.join(", ", parameters),
                    String.join(", ", roles));
        }
    }

    @GetMapping("/api")
    String page(Model model) {
        model.addAttribute("operations", operations);
        return "api";
    }
}
