package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.boot.ApplicationArguments;
import org.springframework.boot.ApplicationRunner;
import org.springframework.boot.web.context.WebServerApplicationContext;
import org.springframework.core.Ordered;

/** What is answered in the moment in which the server listens already and there is no farm yet. */
class StartingTest {

    private static final String HTML = "text/html, */*;q=0.1";

    @ParameterizedTest
    @ValueSource(booleans = {true, false})
    void beforeThereIsAFarmItSaysThatThereIsNone(boolean demo) {
        Map<String, Integer> answers = new ConcurrentHashMap<>();
        Map<String, String> said = new ConcurrentHashMap<>();
        try (TestFarm farm = new TestFarm(
                Engine.H2,
                server -> server.registerBean(
                        "early",
                        ApplicationRunner.class,
                        () -> new Early(
                                answers,
                                said,
                                () -> ((WebServerApplicationContext) server)
                                        .getWebServer()
                                        .getPort())),
                "--duskpeg.demo=" + demo,
                "--duskpeg.farm-file=classpath:demo-farm.json")) {
            assertThat(answers)
                    .containsEntry("GET /duskpeg.css", 200)
                    .containsEntry("GET /health", 200)
                    .containsEntry("GET /signin", demo ? 404 : 503)
                    .containsEntry("POST /field/text", 503)
                    .containsEntry("GET /", demo ? 503 : 303)
                    .containsEntry("GET /board", demo ? 503 : 303);
            assertThat(said.get(demo ? "GET /" : "GET /signin")).contains("The farm is being set up");
            assertThat(farm.get(demo ? "/" : "/signin").statusCode()).isIn(200, 406);
        }
    }

    /** Asks before the first farm is set up. */
    private static final class Early implements ApplicationRunner, Ordered {

        private final Map<String, Integer> answers;
        private final Map<String, String> said;
        private final java.util.function.IntSupplier port;

        Early(Map<String, Integer> answers, Map<String, String> said, java.util.function.IntSupplier port) {
            this.answers = answers;
            this.said = said;
            this.port = port;
        }

        @Override
        public int getOrder() {
            return HIGHEST_PRECEDENCE;
        }

        @Override
        public void run(ApplicationArguments arguments) throws Exception {
            for (String path : new String[] {"/", "/board", "/signin", "/health", "/duskpeg.css"}) {
                ask("GET", path);
            }
            ask("POST", "/field/text");
        }

        private void ask(String method, String path) throws Exception {
            HttpRequest request = HttpRequest.newBuilder(URI.create("http://localhost:" + port.getAsInt() + path))
                    .header("Accept", HTML)
                    .header("Content-Type", "application/x-www-form-urlencoded")
                    .method(method, HttpRequest.BodyPublishers.ofString("From=%2B15555550101&Body=1&MessageSid=SM1"))
                    .build();
            var answer = HttpClient.newHttpClient().send(request, BodyHandlers.ofString());
            answers.put(method + " " + path, answer.statusCode());
            said.put(method + " " + path, answer.body());
        }
    }
}
