package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import duskpeg.projections.rebuild.CatchUp;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.locks.ReentrantLock;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.boot.context.event.ApplicationContextInitializedEvent;
import org.springframework.boot.context.event.ApplicationFailedEvent;
import org.springframework.boot.context.event.ApplicationStartingEvent;
import org.springframework.boot.web.servlet.context.ServletWebServerApplicationContext;
import org.springframework.context.ApplicationContextInitializer;
import org.springframework.context.ApplicationEvent;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.context.support.GenericApplicationContext;

/** The demo farm on a real server, spoken to over HTTP only, as a stranger would. */
final class TestFarm implements AutoCloseable {

    /** Servers in one JVM have one logging, which two that begin at once can't set up both at the same time. */
    private static final ReentrantLock LOGGING = new ReentrantLock();

    /** The names of the demo crew, by the last digits of their phones. */
    static final Map<String, String> PHONES = Map.of(
            "Nomsa", "+15555550101",
            "Pieter", "+15555550102",
            "Lerato", "+15555550103",
            "Ruth", "+15555550108");

    private static final Pattern MESSAGE = Pattern.compile("<Message>(.*)</Message>", Pattern.DOTALL);
    private static final ObjectMapper JSON = new ObjectMapper();
    private static final AtomicInteger SIDS = new AtomicInteger();

    private final HttpClient http = HttpClient.newHttpClient();
    private final List<String> settings;
    private final ApplicationContextInitializer<GenericApplicationContext> parts;
    private final List<Class<?>> sources = new ArrayList<>();
    private static final String SCHEDULE = "--duskpeg.schedule=";
    private static final String SEASON = "--duskpeg.demo-season=";

    private ConfigurableApplicationContext server;
    private String now = "2026-11-25T17:00:00+02:00";

    TestFarm(Engine engine, String... more) {
        this(engine.settings(), server -> {}, List.of(), more);
    }

    /**
     * @param database settings that lead to its database
     */
    TestFarm(List<String> database, String... more) {
        this(database, server -> {}, List.of(), more);
    }

    /**
     * @param parts puts parts of the test's own into the server
     */
    TestFarm(Engine engine, ApplicationContextInitializer<GenericApplicationContext> parts, String... more) {
        this(engine.settings(), parts, List.of(), more);
    }

    /**
     * @param instead configurations whose beans take the place of the server's own
     */
    TestFarm(Engine engine, List<Class<?>> instead, String... more) {
        this(engine.settings(), server -> {}, instead, more);
    }

    /**
     * @param database settings that lead to its database
     * @param parts puts parts of the test's own into the server
     * @param instead configurations whose beans take the place of the server's own
     */
    TestFarm(
            List<String> database,
            ApplicationContextInitializer<GenericApplicationContext> parts,
            List<Class<?>> instead,
            String... more) {
        this.parts = parts;
        sources.addAll(instead);
        sources.add(Duskpeg.class);
        settings = new ArrayList<>(database);
        settings.add("--server.port=0");
        settings.addAll(List.of(more));
        // What a test sees does not depend on the day on which it runs.
        if (settings.stream().noneMatch(setting -> setting.startsWith(SCHEDULE))) {
            settings.add(SCHEDULE + false);
        }
        if (settings.stream().noneMatch(setting -> setting.startsWith(SEASON))) {
            settings.add(SEASON + false);
        }
        start();
    }

    /** Stops the server and starts it again on the same data. */
    void restart() {
        server.close();
        start();
    }

    private void start() {
        server = new SpringApplicationBuilder(sources.toArray(Class<?>[]::new))
                .initializers(parts)
                .listeners(TestFarm::inTurn)
                .run(settings.toArray(String[]::new));
    }

    private static void inTurn(ApplicationEvent event) {
        if (event instanceof ApplicationStartingEvent) {
            LOGGING.lock();
        } else if (LOGGING.isHeldByCurrentThread()
                && (event instanceof ApplicationContextInitializedEvent || event instanceof ApplicationFailedEvent)) {
            LOGGING.unlock();
        }
    }

    <T> T bean(Class<T> type) {
        return server.getBean(type);
    }

    String address(String path) {
        return "http://localhost:"
                + ((ServletWebServerApplicationContext) server).getWebServer().getPort() + path;
    }

    /** From here on it is this time, {@code 2026-11-25T17:00:00+02:00}. */
    TestFarm at(String time) {
        now = time;
        return this;
    }

    static String newSid() {
        return "SMtest" + SIDS.incrementAndGet();
    }

    /** Sends a text and gives the answer. */
    String text(String who, String words) {
        return text(who, words, newSid());
    }

    String text(String who, String words, String sid) {
        HttpResponse<String> response = post(
                Map.of("From", PHONES.getOrDefault(who, who), "To", "+15555550100", "Body", words, "MessageSid", sid));
        assertThat(response.statusCode()).isEqualTo(200);
        return message(response.body());
    }

    /** Calls the farm. */
    TestCall call(String who) {
        return new TestCall(this, PHONES.getOrDefault(who, who));
    }

    static String message(String twiml) {
        Matcher message = MESSAGE.matcher(twiml);
        assertThat(message.find()).as(twiml).isTrue();
        return message.group(1)
                .replace("&lt;", "<")
                .replace("&gt;", ">")
                .replace("&quot;", "\"")
                .replace("&amp;", "&");
    }

    HttpResponse<String> post(Map<String, String> form) {
        return post("/field/text", form);
    }

    /** Sends a form. */
    HttpResponse<String> post(String path, Map<String, String> form) {
        StringBuilder body = new StringBuilder();
        form.forEach((name, value) -> body.append(body.length() == 0 ? "" : "&")
                .append(name)
                .append('=')
                .append(URLEncoder.encode(value, StandardCharsets.UTF_8)));
        return send(HttpRequest.newBuilder(URI.create(address(path)))
                .header("Content-Type", "application/x-www-form-urlencoded")
                .POST(HttpRequest.BodyPublishers.ofString(body.toString())));
    }

    /** Sends a plain text. */
    HttpResponse<String> post(String path, String body) {
        return send(HttpRequest.newBuilder(URI.create(address(path)))
                .header("Content-Type", "text/plain; charset=utf-8")
                .POST(HttpRequest.BodyPublishers.ofString(body)));
    }

    /** What is downloaded, byte by byte. */
    byte[] download(String path) {
        HttpResponse<byte[]> response =
                send(HttpRequest.newBuilder(URI.create(address(path))), BodyHandlers.ofByteArray());
        assertThat(response.statusCode()).as(path).isEqualTo(200);
        return response.body();
    }

    HttpResponse<String> get(String path) {
        return send(HttpRequest.newBuilder(URI.create(address(path))).header("Accept", "application/json"));
    }

    private HttpResponse<String> send(HttpRequest.Builder request) {
        return send(request, BodyHandlers.ofString());
    }

    private <T> HttpResponse<T> send(HttpRequest.Builder request, HttpResponse.BodyHandler<T> handler) {
        try {
            return http.send(
                    request.header("X-Duskpeg-Now", now)
                            .timeout(Duration.ofSeconds(30))
                            .build(),
                    handler);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException(e);
        }
    }

    JsonNode json(String path) {
        try {
            return JSON.readTree(get(path).body());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** A row of the board, once the board has caught up with the log. */
    JsonNode row(String morning, String row) {
        awaitProjections();
        for (JsonNode one : json("/api/board?morning=" + morning).get("rows")) {
            if (one.get("row").asText().equals(row)) {
                return one;
            }
        }
        throw new AssertionError("no row " + row);
    }

    JsonNode fruit(String tie) {
        awaitProjections();
        return json("/api/fruit/" + tie);
    }

    /** Every count of a row of the board, in one line. */
    String counts(String morning, String row) {
        JsonNode one = row(morning, row);
        return Stream.of("pegged", "males", "opened", "pollinated", "bagged", "tied", "lost", "left")
                .map(name -> name + " " + one.get(name).asInt())
                .collect(Collectors.joining(", "));
    }

    /** The kinds of questions asked about a row. */
    List<String> questions(String morning, String row) {
        return row(morning, row).get("questions").findValuesAsText("kind");
    }

    /** Waits until every projection has seen every event. */
    void awaitProjections() {
        bean(CatchUp.class).await(Duration.ofSeconds(30));
    }

    @Override
    public void close() {
        server.close();
    }
}
