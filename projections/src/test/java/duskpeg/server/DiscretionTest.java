package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.Appender;
import ch.qos.logback.core.read.ListAppender;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.slf4j.LoggerFactory;

/** What is in the log: nothing secret even with everything switched on; and, for machines, which text a line is about. */
class DiscretionTest {

    private static final Map<String, String> NOTHING = Map.of();

    @AfterEach
    void asItWas() {
        // Boot hands it to the log in this way, and leaves it there for whatever is started next in the same JVM.
        System.clearProperty("CONSOLE_LOG_STRUCTURED_FORMAT");
        LoggerContext context = (LoggerContext) LoggerFactory.getILoggerFactory();
        context.getLoggerList()
                .forEach(logger -> logger.setLevel(logger.getName().equals("ROOT") ? Level.WARN : null));
        context.getLogger("duskpeg").setLevel(Level.INFO);
    }

    @Test
    void withEverythingSwitchedOnNoSecretIsLogged() {
        String token = "8d1f0c5b2a7e4963";
        String database = "hush.hush.hush";
        try (SignInFarm farm = new SignInFarm(
                Engine.H2,
                "--logging.level.root=trace",
                "--logging.level.duskpeg=trace",
                "--spring.datasource.username=sa",
                "--spring.datasource.password=" + database,
                "--TWILIO_AUTH_TOKEN=" + token)) {
            // While it was started, on the console.
            assertThat(farm.printed()).contains(" DEBUG ").doesNotContain(token, database);
            String first =
                    SignInFarm.code(farm.printed().substring(farm.printed().indexOf("/first within")));
            LoggerContext context = (LoggerContext) LoggerFactory.getILoggerFactory();
            Logger root = context.getLogger("ROOT");
            Appender<ILoggingEvent> console = root.getAppender("CONSOLE");
            root.detachAppender(console);
            ListAppender<ILoggingEvent> log = new ListAppender<>();
            log.start();
            root.addAppender(log);
            context.getLoggerList()
                    .forEach(logger -> logger.setLevel(logger.getName().equals("ROOT") ? Level.TRACE : null));
            List<String> secrets = new ArrayList<>(List.of(token, database, first));
            try {
                use(farm, first, secrets);
            } finally {
                root.detachAppender(log);
                root.addAppender(console);
            }
            List<ILoggingEvent> all = List.copyOf(log.list);
            assertThat(all).anyMatch(line -> line.getLevel() == Level.DEBUG);
            String text = all.stream()
                    .map(line -> line.getLoggerName() + " " + line.getFormattedMessage() + " "
                            + (line.getThrowableProxy() == null
                                    ? ""
                                    : line.getThrowableProxy().getMessage()))
                    .collect(Collectors.joining("\n"));
            for (String secret : secrets) {
                assertThat(text.lines().filter(line -> line.contains(secret)).limit(3))
                        .as(secret)
                        .isEmpty();
            }
        }
    }

    private static void use(SignInFarm farm, String first, List<String> secrets) {
        String password = SignInFarm.password("owner");
        HttpResponse<String> made =
                farm.post("", "/first", Map.of("code", first, "login", "owner", "password", password));
        String owner = SignInFarm.cookie(made);
        farm.trySignIn("owner", "mistyped at last 1");
        farm.post("", "/signin", Map.of("login", "owner", "password", password, "code", "918273"));
        String code = SignInFarm.code(farm.post(owner, "/accounts", Map.of("login", "eve", "role", "auditor"))
                .body());
        farm.post("", "/password", Map.of("code", code, "password", "taken at last 1"));
        farm.post(owner, "/second/begin", NOTHING);
        String page = farm.get(owner, "/second").body();
        String secret =
                page.substring(page.indexOf("<code class=\"code\">") + 19).substring(0, 39);
        farm.post(owner, "/second/confirm", Map.of("code", "564738"));
        farm.farm.post(Map.of("From", "+15555550101", "Body", "words that nobody may see", "MessageSid", "SMtrace"));
        secrets.addAll(List.of(
                password,
                "mistyped at last 1",
                "taken at last 1",
                code,
                secret,
                secret.replace(" ", ""),
                "918273",
                "564738",
                owner.substring("duskpeg=".length()),
                "words that nobody may see",
                "+15555550101"));
    }

    /** The Elastic Common Schema's names (from memory); ours are beside them. */
    @Test
    void aTextCanBeFollowedThroughTheLogOfMachines() throws Exception {
        PrintStream console = System.out;
        ByteArrayOutputStream caught = new ByteArrayOutputStream();
        System.setOut(new PrintStream(caught, true, StandardCharsets.UTF_8));
        String position;
        String event;
        try (TestFarm farm =
                new TestFarm(Engine.H2, "--logging.structured.format.console=ecs", "--logging.level.duskpeg=debug")) {
            farm.at("2026-11-25T17:10:00+02:00");
            farm.text("Nomsa", "1 12 14 m 28", "SMfollowed");
            farm.awaitProjections();
            position = farm.bean(org.springframework.jdbc.core.simple.JdbcClient.class)
                    .sql("select max(position) from event where event_type like 'pegged%'")
                    .query(String.class)
                    .single();
            event = farm.bean(org.springframework.jdbc.core.simple.JdbcClient.class)
                    .sql("select event_id from event where position = ?")
                    .param(Long.valueOf(position))
                    .query(String.class)
                    .single();
            try (java.io.InputStream stream = java.net
                    .URI
                    .create(farm.address("/api/board/stream?morning=2026-11-26"))
                    .toURL()
                    .openStream()) {
                assertThat(stream.read()).isEqualTo('i');
            }
        } finally {
            System.setOut(console);
        }
        List<JsonNode> lines = new ArrayList<>();
        for (String line : caught.toString(StandardCharsets.UTF_8).lines().toList()) {
            if (line.startsWith("{")) {
                lines.add(new ObjectMapper().readTree(line));
            }
        }
        assertThat(lines)
                .allSatisfy(line -> assertThat(line.hasNonNull("@timestamp")).isTrue());
        JsonNode copied = lines.stream()
                .filter(line -> line.path("text").asText().equals("SMfollowed")
                        && line.path("message").asText().startsWith("On the board"))
                .findFirst()
                .orElseThrow(() -> new AssertionError(caught.toString(StandardCharsets.UTF_8)));
        assertThat(copied.path("event").asText()).isEqualTo(event);
        assertThat(lines)
                .anyMatch(line -> line.path("message").asText().startsWith("Board 2026-11-26 of marrowfield")
                        && line.path("message").asText().contains("position " + position + ","));
    }
}
