package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.io.UncheckedIOException;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/** A farm that is no demo: with the demo's crew, and one account of each role. */
final class SignInFarm implements AutoCloseable {

    static final Map<String, String> ROLES = Map.of("worker", "w1", "supervisor", "w8", "auditor", "", "owner", "");

    private static final Pattern CODE = Pattern.compile("[0-9A-Z]{5}(-[0-9A-Z]{5}){3}");

    /** The system's clock, moved on. */
    static final class MovedClock extends Clock {
        private volatile Duration by = Duration.ZERO;

        void move(Duration further) {
            by = by.plus(further);
        }

        @Override
        public Instant instant() {
            return Instant.now().plus(by);
        }

        @Override
        public ZoneId getZone() {
            return ZoneOffset.UTC;
        }

        @Override
        public Clock withZone(ZoneId zone) {
            throw new UnsupportedOperationException();
        }
    }

    final MovedClock clock = new MovedClock();
    final TestFarm farm;
    private String printed;
    private final HttpClient http = HttpClient.newHttpClient();

    SignInFarm(Engine engine, String... more) {
        this(engine.settings(), more);
    }

    /**
     * @param database settings that lead to its database
     */
    SignInFarm(List<String> database, String... more) {
        List<String> settings = new ArrayList<>(List.of(more));
        settings.add("--duskpeg.demo=false");
        if (settings.stream().noneMatch(one -> one.startsWith("--duskpeg.farm-file"))) {
            settings.add("--duskpeg.farm-file=classpath:demo-farm.json");
            settings.add("--duskpeg.phone=true");
        }
        TestFarm[] started = new TestFarm[1];
        printed = printing(() -> started[0] = new TestFarm(
                database,
                server -> server.registerBean(
                        "movedClock", Clock.class, () -> clock, definition -> definition.setPrimary(true)),
                List.of(),
                settings.toArray(String[]::new)));
        farm = started[0];
    }

    private static String printing(Runnable doing) {
        PrintStream console = System.out;
        ByteArrayOutputStream caught = new ByteArrayOutputStream();
        System.setOut(new PrintStream(caught, true, StandardCharsets.UTF_8));
        try {
            doing.run();
        } finally {
            System.setOut(console);
        }
        return caught.toString(StandardCharsets.UTF_8);
    }

    void restart() {
        printed = printing(farm::restart);
    }

    /** What the server printed when it started. */
    String printed() {
        return printed;
    }

    static String code(String text) {
        Matcher code = CODE.matcher(text);
        assertThat(code.find()).as(text).isTrue();
        return code.group();
    }

    static String password(String login) {
        return "a long walk with " + login;
    }

    /** Makes the owner and gives the cookie by which she is signed in. */
    String makeOwner() {
        HttpResponse<String> made =
                post("", "/first", Map.of("code", code(printed), "login", "owner", "password", password("owner")));
        assertThat(made.statusCode()).as(made.body()).isEqualTo(302);
        return cookie(made);
    }

    /** Makes the owner and, by her, the others. */
    SignInFarm withAccounts() {
        String owner = makeOwner();
        ROLES.forEach((role, worker) -> {
            if (!role.equals("owner")) {
                HttpResponse<String> answer =
                        post(owner, "/accounts", Map.of("login", role, "role", role, "worker", worker));
                assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
                HttpResponse<String> set =
                        post("", "/password", Map.of("code", code(answer.body()), "password", password(role)));
                assertThat(set.statusCode()).as(set.body()).isEqualTo(302);
            }
        });
        return this;
    }

    static String cookie(HttpResponse<?> response) {
        return response.headers().firstValue("Set-Cookie").orElse("").replaceAll(";.*", "");
    }

    HttpResponse<String> trySignIn(String login, String password) {
        return post("", "/signin", Map.of("login", login, "password", password));
    }

    /** Signs in and gives the cookie. */
    String signIn(String login) {
        HttpResponse<String> answer = trySignIn(login, password(login));
        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(302);
        return cookie(answer);
    }

    HttpResponse<String> get(String cookie, String path, String... headers) {
        return text(send(cookie, "GET", path, "", headers));
    }

    HttpResponse<String> post(String cookie, String path, Map<String, String> form, String... headers) {
        return text(send(cookie, "POST", path, body(form), headers));
    }

    static String body(Map<String, String> form) {
        return form.entrySet().stream()
                .map(field -> field.getKey() + "=" + URLEncoder.encode(field.getValue(), StandardCharsets.UTF_8))
                .collect(Collectors.joining("&"));
    }

    private HttpResponse<String> text(HttpRequest request) {
        try {
            return http.send(request, BodyHandlers.ofString());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } catch (InterruptedException e) {
            throw new IllegalStateException(e);
        }
    }

    /** The answer without its body, which may have no end. */
    HttpResponse<InputStream> head(String cookie, String method, String path, String accept) {
        try {
            HttpResponse<InputStream> answer =
                    http.send(send(cookie, method, path, "", "Accept", accept), BodyHandlers.ofInputStream());
            answer.body().close();
            return answer;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } catch (InterruptedException e) {
            throw new IllegalStateException(e);
        }
    }

    private HttpRequest send(String cookie, String method, String path, String body, String... headers) {
        HttpRequest.Builder request =
                HttpRequest.newBuilder(URI.create(farm.address(path))).timeout(Duration.ofSeconds(60));
        if (method.equals("POST")) {
            request.header("Content-Type", "application/x-www-form-urlencoded")
                    .POST(HttpRequest.BodyPublishers.ofString(body));
        } else {
            request.method(method, HttpRequest.BodyPublishers.noBody());
        }
        if (!cookie.isEmpty()) {
            request.header("Cookie", cookie);
        }
        if (headers.length > 0) {
            request.headers(headers);
        }
        return request.build();
    }

    @Override
    public void close() {
        farm.close();
    }
}
