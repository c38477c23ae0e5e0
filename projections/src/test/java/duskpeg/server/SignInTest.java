package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Erasure;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.slf4j.LoggerFactory;
import org.springframework.jdbc.core.simple.JdbcClient;

/** A farm that is no demo: its first account, signing in, and what a session is good for. */
class SignInTest {

    private static final Map<String, String> NOTHING = Map.of();

    @ParameterizedTest
    @EnumSource
    void thePrintedCodeMakesOneOwnerOnce(Engine engine) {
        try (SignInFarm farm = new SignInFarm(engine)) {
            String voided = SignInFarm.code(farm.printed());
            farm.restart();
            String code = SignInFarm.code(farm.printed());
            Map<String, String> form = Map.of("code", code, "login", "Owner", "password", SignInFarm.password("owner"));

            assertThat(first(farm, voided, "owner", SignInFarm.password("owner"))
                            .statusCode())
                    .isEqualTo(422);
            assertThat(first(farm, code, "owner", "too short").statusCode()).isEqualTo(422);
            assertThat(first(farm, code, "o w", SignInFarm.password("owner")).statusCode())
                    .isEqualTo(422);
            farm.clock.move(Duration.ofHours(25));
            assertThat(farm.post("", "/first", form).statusCode()).isEqualTo(422);
            farm.clock.move(Duration.ofHours(-25));
            assertThat(farm.post("", "/first", form).statusCode()).isEqualTo(302);
            assertThat(farm.post("", "/first", form).statusCode()).isEqualTo(422);

            assertThat(farm.farm
                            .bean(JdbcClient.class)
                            .sql("select login, password from account")
                            .query((row, number) -> row.getString(1) + " " + row.getString(2))
                            .single())
                    .startsWith("owner {pbkdf2-sha256-600k}")
                    .doesNotContain(SignInFarm.password("owner"));
            farm.restart();
            assertThat(farm.printed()).doesNotContain("/first");
            assertThat(farm.trySignIn("OWNER ", SignInFarm.password("owner")).statusCode())
                    .isEqualTo(302);
        }
    }

    private static HttpResponse<String> first(SignInFarm farm, String code, String login, String password) {
        return farm.post("", "/first", Map.of("code", code, "login", login, "password", password));
    }

    @Test
    void whoSignsInAndForHowLong() {
        try (SignInFarm farm = new SignInFarm(Engine.H2).withAccounts()) {
            aStrangerIsLedToTheSignInPageAndBack(farm);
            aSessionIsBegunAnewAndItsCookieIsKept(farm);
            anUnknownLoginIsAnsweredAsAWrongPassword(farm);
            aSessionEnds(farm);
            tryingOnIsSlowed(farm);
        }
    }

    private static void aStrangerIsLedToTheSignInPageAndBack(SignInFarm farm) {
        HttpResponse<String> led = farm.get("", "/fruit/4711?farm=marrowfield", "Accept", "text/html");
        assertThat(led.statusCode()).isEqualTo(303);
        assertThat(led.headers().firstValue("Location").orElseThrow())
                .isEqualTo("/signin?to=%2Ffruit%2F4711%3Ffarm%3Dmarrowfield");
        assertThat(farm.get("", led.headers().firstValue("Location").orElseThrow())
                        .body())
                .contains("value=\"/fruit/4711?farm=marrowfield\"");
        HttpResponse<String> in = farm.post(
                "", "/signin", Map.of("login", "owner", "password", SignInFarm.password("owner"), "to", "/fruit/4711"));
        assertThat(in.headers().firstValue("Location").orElseThrow()).endsWith("/fruit/4711");
        HttpResponse<String> machine = farm.get("", "/api/fruit/4711", "Accept", "application/json");
        assertThat(machine.statusCode()).isEqualTo(401);
        assertThat(machine.headers().firstValue("WWW-Authenticate")).isPresent();
        assertThat(farm.get("", "/board.js").statusCode()).isEqualTo(200);
        assertThat(farm.get("", "/auditor/00000000000000000000000000000000").statusCode())
                .isEqualTo(404);
        assertThat(farm.farm.text("Nomsa", "9 12")).isNotEmpty();
    }

    private static void aSessionIsBegunAnewAndItsCookieIsKept(SignInFarm farm) {
        String given = "duskpeg=0123456789ABCDEF0123456789ABCDEF";
        Map<String, String> form = Map.of("login", "owner", "password", SignInFarm.password("owner"));
        HttpResponse<String> in = farm.post(given, "/signin", form);
        assertThat(in.headers().firstValue("Set-Cookie").orElseThrow())
                .startsWith("duskpeg=")
                .contains("HttpOnly", "SameSite=Lax", "Path=/")
                .doesNotContain("Secure")
                .doesNotContain(given);
        String once = SignInFarm.cookie(in);
        String again = SignInFarm.cookie(farm.post(once, "/signin", form));
        assertThat(again).startsWith("duskpeg=").isNotEqualTo(once);
        assertThat(farm.get(once, "/").statusCode()).isEqualTo(401);
        assertThat(farm.get(again, "/").statusCode()).isEqualTo(200);
        assertThat(farm.get(again, "/").headers().firstValue("Cache-Control").orElseThrow())
                .contains("no-store");
        assertThat(farm.post(again, "/signout", NOTHING).statusCode()).isEqualTo(302);
        assertThat(farm.get(again, "/").statusCode()).isEqualTo(401);
    }

    private static void anUnknownLoginIsAnsweredAsAWrongPassword(SignInFarm farm) {
        HttpResponse<String> wrong = farm.trySignIn("worker", "this is not her password");
        HttpResponse<String> unknown = farm.trySignIn("nobody", "this is not her password");
        assertThat(wrong.statusCode()).isEqualTo(422);
        assertThat(unknown.statusCode()).isEqualTo(422);
        assertThat(unknown.body()).isEqualTo(wrong.body()).doesNotContain("this is not her password");
    }

    private static void aSessionEnds(SignInFarm farm) {
        String idle = farm.signIn("supervisor");
        farm.clock.move(Duration.ofMinutes(119));
        assertThat(farm.get(idle, "/api/inbox/waiting").statusCode()).isEqualTo(200);
        farm.clock.move(Duration.ofMinutes(2));
        // What a page asks for by itself doesn't show that anybody is there.
        assertThat(farm.get(idle, "/").statusCode()).isEqualTo(401);

        String busy = farm.signIn("supervisor");
        for (int i = 0; i < 11; i++) {
            farm.clock.move(Duration.ofHours(1));
            assertThat(farm.get(busy, "/board").statusCode()).isEqualTo(200);
        }
        farm.clock.move(Duration.ofMinutes(61));
        assertThat(farm.get(busy, "/board").statusCode()).isEqualTo(401);
    }

    private static void tryingOnIsSlowed(SignInFarm farm) {
        for (int i = 0; i < 10; i++) {
            assertThat(farm.trySignIn("auditor", "wrong password " + i).statusCode())
                    .isEqualTo(422);
            if (i < 9) {
                farm.clock.move(Duration.ofSeconds(30));
            }
        }
        HttpResponse<String> slowed = farm.trySignIn("auditor", SignInFarm.password("auditor"));
        assertThat(slowed.statusCode()).isEqualTo(429);
        assertThat(slowed.headers().firstValue("Retry-After")).isPresent();
        // After the tenth failure the pause is 2^5 s, and right and wrong are answered alike within it.
        assertThat(farm.trySignIn("auditor", "wrong").statusCode()).isEqualTo(429);
        farm.clock.move(Duration.ofSeconds(33));
        farm.signIn("auditor");
    }

    @Test
    void whoActsIsWhoSignedInAndOnHerOwnFarm() {
        try (SignInFarm farm = new SignInFarm(Engine.H2).withAccounts()) {
            String supervisor = farm.signIn("supervisor");
            String owner = farm.signIn("owner");
            Map<String, String> strip = Map.of("worker", "w1", "first", "6000", "last", "6049");

            assertThat(issue(farm, supervisor, strip, "by", "w7").statusCode()).isEqualTo(403);
            assertThat(farm.post(supervisor, "/strips/issue?by=w7", strip).statusCode())
                    .isEqualTo(403);
            assertThat(farm.post(supervisor, "/strips/issue?by=w8&by=w7", strip).statusCode())
                    .isEqualTo(403);
            assertThat(issue(farm, owner, strip, "by", "w8").statusCode()).isEqualTo(403);
            assertThat(issue(farm, supervisor, strip, "farm", "another").statusCode())
                    .isEqualTo(403);
            assertThat(farm.get(supervisor, "/api/board?farm=another").statusCode())
                    .isEqualTo(403);
            assertThat(farm.get(supervisor, "/api/board?farm=marrowfield&farm=another")
                            .statusCode())
                    .isEqualTo(403);
            assertThat(givenOut(farm)).isZero();

            // Said or not, it is written down in her name.
            assertThat(farm.post(supervisor, "/strips/issue", strip).statusCode())
                    .isEqualTo(302);
            assertThat(givenOut(farm)).isEqualTo(1);
            assertThat(farm.get(supervisor, "/api/strips/6000").body()).contains("\"by\":\"w8\"");
            assertThat(farm.get(supervisor, "/strips").body())
                    .contains("<option value=\"w8\"")
                    .containsOnlyOnce("value=\"w8\">Ruth");

            assertThat(farm.post(owner, "/accounts/1/worker", Map.of("worker", "w7"))
                            .statusCode())
                    .isEqualTo(422);
        }
    }

    private static HttpResponse<String> issue(
            SignInFarm farm, String cookie, Map<String, String> form, String name, String value) {
        Map<String, String> more = new java.util.HashMap<>(form);
        more.put(name, value);
        return farm.post(cookie, "/strips/issue", more);
    }

    private static long givenOut(SignInFarm farm) {
        return farm
                .farm
                .bean(JdbcClient.class)
                .sql("select payload from event")
                .query((row, number) -> new String(row.getBytes(1), java.nio.charset.StandardCharsets.UTF_8))
                .list()
                .stream()
                .filter(event -> event.contains("006000"))
                .count();
    }

    @Test
    void anAccountCanBeTakenAwayAtOnce() {
        try (SignInFarm farm = new SignInFarm(Engine.H2).withAccounts()) {
            String owner = farm.signIn("owner");
            String auditor = farm.signIn("auditor");
            long id = id(farm, "auditor");

            String code = SignInFarm.code(
                    farm.post(owner, "/accounts/" + id + "/code", NOTHING).body());
            assertThat(farm.get(auditor, "/").statusCode()).isEqualTo(200);
            Map<String, String> form = Map.of("code", code, "password", "quite another password");
            assertThat(farm.post("", "/password", form).statusCode()).isEqualTo(302);
            assertThat(farm.get(auditor, "/").statusCode()).isEqualTo(401);
            assertThat(farm.post("", "/password", form).statusCode()).isEqualTo(422);
            assertThat(farm.trySignIn("auditor", SignInFarm.password("auditor")).statusCode())
                    .isEqualTo(422);
            String changed = SignInFarm.cookie(farm.trySignIn("auditor", "quite another password"));
            Map<String, String> wrong = Map.of("old", "not this one", "password", "a third password");
            assertThat(farm.post(changed, "/password", wrong).statusCode()).isEqualTo(422);
            Map<String, String> right = Map.of("old", "quite another password", "password", "a third password");
            changed = SignInFarm.cookie(farm.post(changed, "/password", right));
            assertThat(farm.get(changed, "/").statusCode()).isEqualTo(200);

            assertThat(farm.post(owner, "/accounts/" + id + "/disable", NOTHING).statusCode())
                    .isEqualTo(302);
            assertThat(farm.get(changed, "/").statusCode()).isEqualTo(401);
            assertThat(farm.trySignIn("auditor", "a third password").statusCode())
                    .isEqualTo(422);
            assertThat(farm.post(owner, "/accounts/" + id(farm, "owner") + "/disable", NOTHING)
                            .statusCode())
                    .isEqualTo(422);
            assertThat(farm.get(owner, "/accounts").statusCode()).isEqualTo(200);

            String worker = farm.signIn("worker");
            FarmId marrowfield = new FarmId("marrowfield");
            farm.farm
                    .bean(CommandGateway.class)
                    .sendAndWait(new Erasure.Erase(
                            new WorkerId(marrowfield, "w1"),
                            new WorkerId(marrowfield, "w8"),
                            Set.of(),
                            Instant.parse("2027-01-01T00:00:00Z")));
            assertThat(farm.get(worker, "/board").statusCode()).isEqualTo(401);
            assertThat(farm.get(owner, "/accounts").body()).doesNotContain(">worker</th>");
        }
    }

    private static long id(SignInFarm farm, String login) {
        return farm.farm
                .bean(JdbcClient.class)
                .sql("select id from account where login = ?")
                .param(login)
                .query(Long.class)
                .single();
    }

    /** In a demo as elsewhere: forms from other sites, too long ones, and what browsers are told. */
    @Test
    void formsComeFromTheFarmsOwnPagesOnly() {
        try (SignInFarm farm = new SignInFarm(Engine.H2, "--server.forward-headers-strategy=native").withAccounts();
                TestFarm demo = new TestFarm(Engine.H2)) {
            String owner = farm.signIn("owner");
            String here = farm.farm.address("");
            assertThat(farm.post(owner, "/alerts/look", NOTHING, "Sec-Fetch-Site", "cross-site")
                            .statusCode())
                    .isEqualTo(403);
            assertThat(farm.post(owner, "/alerts/look", NOTHING, "Sec-Fetch-Site", "same-site")
                            .statusCode())
                    .isEqualTo(403);
            assertThat(farm.post(owner, "/alerts/look", NOTHING, "Origin", "https://evil.invalid")
                            .statusCode())
                    .isEqualTo(403);
            assertThat(farm.post(owner, "/alerts/look", NOTHING, "Origin", "null")
                            .statusCode())
                    .isEqualTo(403);
            assertThat(farm.post(owner, "/alerts/look", NOTHING, "Origin", here).statusCode())
                    .isNotEqualTo(403);
            assertThat(farm.post(owner, "/alerts/look", NOTHING, "Sec-Fetch-Site", "same-origin")
                            .statusCode())
                    .isNotEqualTo(403);
            assertThat(farm.post(owner, "/figures/file", Map.of("text", "x".repeat(1 << 20)))
                            .statusCode())
                    .isEqualTo(413);

            for (HttpResponse<String> page : List.of(farm.get("", "/signin"), farm.get(owner, "/"), demo.get("/"))) {
                Map<String, List<String>> headers = page.headers().map();
                assertThat(headers.get("content-security-policy").get(0))
                        .contains("default-src 'self'", "frame-ancestors 'none'")
                        .doesNotContain("unsafe");
                assertThat(headers.get("x-content-type-options")).containsExactly("nosniff");
                assertThat(headers.get("x-frame-options")).containsExactly("DENY");
                assertThat(headers.get("referrer-policy")).containsExactly("same-origin");
                assertThat(headers).containsKey("permissions-policy").doesNotContainKey("strict-transport-security");
                assertThat(page.body()).doesNotContain("<style", " style=", "onclick=");
            }
            assertThat(demo.get("/").body()).contains("nobody is asked to sign in");
            assertThat(farm.get(owner, "/").body()).doesNotContain("nobody is asked to sign in");

            // Behind a proxy that ends TLS.
            HttpResponse<String> in = farm.post(
                    "",
                    "/signin",
                    Map.of("login", "owner", "password", SignInFarm.password("owner")),
                    "X-Forwarded-Proto",
                    "https",
                    "X-Forwarded-For",
                    "203.0.113.7");
            assertThat(in.headers().firstValue("Set-Cookie").orElseThrow()).contains("Secure");
            assertThat(in.headers().firstValue("Strict-Transport-Security")).isPresent();
        }
    }

    @Test
    void strangersSendSoManyFormsAMinute() {
        try (SignInFarm farm = new SignInFarm(Engine.H2)) {
            int taken = 0;
            while (farm.post("", "/error", NOTHING).statusCode() != 429) {
                assertThat(++taken).isLessThan(40);
            }
            assertThat(taken).isEqualTo(30);
            assertThat(farm.farm.text("Nomsa", "9 12")).isNotEmpty();
            farm.clock.move(Duration.ofSeconds(61));
            assertThat(farm.post("", "/error", NOTHING).statusCode()).isNotEqualTo(429);
        }
    }

    @Test
    void noPasswordAndNoCodeIsLogged() {
        Logger root = (Logger) LoggerFactory.getLogger(org.slf4j.Logger.ROOT_LOGGER_NAME);
        ListAppender<ILoggingEvent> log = new ListAppender<>();
        try (SignInFarm farm = new SignInFarm(Engine.H2)) {
            log.start();
            root.addAppender(log);
            List.of("duskpeg", "org.springframework")
                    .forEach(name -> ((Logger) LoggerFactory.getLogger(name)).setLevel(Level.DEBUG));
            String printed = SignInFarm.code(farm.printed());
            first(farm, printed, "owner", "short 1");
            String owner = SignInFarm.cookie(first(farm, printed, "owner", SignInFarm.password("owner")));
            String made = SignInFarm.code(farm.post(owner, "/accounts", Map.of("login", "eve", "role", "auditor"))
                    .body());
            String again = SignInFarm.code(farm.post(owner, "/accounts/" + id(farm, "eve") + "/code", NOTHING)
                    .body());
            farm.post("", "/password", Map.of("code", made, "password", "never taken 1"));
            farm.post("", "/password", Map.of("code", again, "password", "taken at last 1"));
            farm.trySignIn("eve", "taken at last 1");
            farm.trySignIn("eve", "mistyped at last 1");
            String all = List.copyOf(log.list).stream()
                    .map(event -> event.getLoggerName() + " " + event.getFormattedMessage())
                    .collect(Collectors.joining("\n"));

            assertThat(all).contains("POST \"/signin\"");
            assertThat(all)
                    .doesNotContain(
                            printed,
                            made,
                            again,
                            "short 1",
                            "never taken 1",
                            "taken at last 1",
                            "mistyped at last 1",
                            SignInFarm.password("owner"),
                            owner.substring("duskpeg=".length()));
        } finally {
            root.detachAppender(log);
            ((Logger) LoggerFactory.getLogger("duskpeg")).setLevel(Level.INFO);
            ((Logger) LoggerFactory.getLogger("org.springframework")).setLevel(null);
        }
    }
}
