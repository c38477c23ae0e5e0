package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import java.math.BigInteger;
import java.net.http.HttpResponse;
import java.nio.ByteBuffer;
import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.springframework.jdbc.core.simple.JdbcClient;

/** A second factor, being asked once more, and what is noted of it all. */
class SecondFactorTest {

    private static final Map<String, String> NOTHING = Map.of();
    private static final Pattern SECRET = Pattern.compile("<code class=\"code\">((?:[A-Z2-7]{4} ?){8})</code>");

    /** What an app would show, reckoned here apart from the server (RFC 4226, 5.3, and RFC 6238, 4.2). */
    private static String app(String secret, Instant now) {
        try {
            BigInteger key = BigInteger.ZERO;
            for (char sign : secret.toCharArray()) {
                key = key.multiply(BigInteger.valueOf(32))
                        .add(BigInteger.valueOf("ABCDEFGHIJKLMNOPQRSTUVWXYZ234567".indexOf(sign)));
            }
            byte[] bytes = new byte[20];
            for (int i = 19; i >= 0; i--, key = key.shiftRight(8)) {
                bytes[i] = key.byteValue();
            }
            Mac mac = Mac.getInstance("HmacSHA1");
            mac.init(new SecretKeySpec(bytes, "RAW"));
            byte[] hash = mac.doFinal(
                    ByteBuffer.allocate(8).putLong(now.getEpochSecond() / 30).array());
            int offset = hash[19] & 15;
            int number = ((hash[offset] & 127) << 24)
                    | ((hash[offset + 1] & 255) << 16)
                    | ((hash[offset + 2] & 255) << 8)
                    | (hash[offset + 3] & 255);
            return String.format("%06d", number % 1_000_000);
        } catch (java.security.GeneralSecurityException e) {
            throw new AssertionError(e);
        }
    }

    private static String begin(SignInFarm farm, String cookie) {
        assertThat(farm.post(cookie, "/second/begin", NOTHING).statusCode()).isEqualTo(302);
        Matcher secret = SECRET.matcher(farm.get(cookie, "/second").body());
        assertThat(secret.find()).isTrue();
        return secret.group(1).replace(" ", "");
    }

    private static String next(SignInFarm farm, String secret) {
        farm.clock.move(Duration.ofSeconds(30));
        return app(secret, farm.clock.instant());
    }

    private static HttpResponse<String> signIn(SignInFarm farm, String login, String code) {
        return farm.post("", "/signin", Map.of("login", login, "password", SignInFarm.password(login), "code", code));
    }

    private static long count(SignInFarm farm, String table) {
        return farm.farm
                .bean(JdbcClient.class)
                .sql("select count(*) from " + table)
                .query(Long.class)
                .single();
    }

    @ParameterizedTest
    @EnumSource
    void aCodeOfTheAppIsAskedForAndWorksOnce(Engine engine) {
        try (SignInFarm farm = new SignInFarm(engine).withAccounts()) {
            String elsewhere = farm.signIn("supervisor");
            String here = farm.signIn("supervisor");
            String secret = begin(farm, here);
            // Only begun, it is not asked for.
            assertThat(farm.trySignIn("supervisor", SignInFarm.password("supervisor"))
                            .statusCode())
                    .isEqualTo(302);
            assertThat(farm.post(here, "/second/confirm", Map.of("code", "000000 "))
                            .statusCode())
                    .isEqualTo(422);
            HttpResponse<String> on =
                    farm.post(here, "/second/confirm", Map.of("code", app(secret, farm.clock.instant())));
            assertThat(on.statusCode()).as(on.body()).isEqualTo(200);
            List<String> codes = Pattern.compile("[0-9A-Z]{5}(-[0-9A-Z]{5}){3}")
                    .matcher(on.body())
                    .results()
                    .map(code -> code.group())
                    .toList();
            assertThat(codes).hasSize(10).doesNotHaveDuplicates();
            assertThat(farm.get(elsewhere, "/").statusCode()).isEqualTo(401);
            String now = SignInFarm.cookie(on);
            assertThat(farm.get(now, "/second").body()).doesNotContain(secret.substring(0, 4));

            HttpResponse<String> without = farm.trySignIn("supervisor", SignInFarm.password("supervisor"));
            assertThat(without.statusCode()).isEqualTo(422);
            // Who guesses is not told which of the two was right.
            assertThat(farm.trySignIn("supervisor", "not her password").body()).isEqualTo(without.body());
            String code = next(farm, secret);
            assertThat(signIn(farm, "supervisor", code).statusCode()).isEqualTo(302);
            assertThat(signIn(farm, "supervisor", code).statusCode()).isEqualTo(422);
            assertThat(signIn(farm, "supervisor", codes.get(3).toLowerCase().replace("-", " "))
                            .statusCode())
                    .isEqualTo(302);
            assertThat(signIn(farm, "supervisor", codes.get(3)).statusCode()).isEqualTo(422);
            assertThat(farm.get(now, "/second").body()).contains("<b>9</b>").contains("recovery code used");
            // Another's codes are none.
            assertThat(signIn(farm, "owner", codes.get(4)).statusCode()).isEqualTo(302);
            assertThat(count(farm, "recovery_code")).isEqualTo(9);

            farm.restart();
            assertThat(signIn(farm, "supervisor", "").statusCode()).isEqualTo(422);
            String owner = farm.signIn("owner");
            long id = farm.farm
                    .bean(JdbcClient.class)
                    .sql("select id from account where login = 'supervisor'")
                    .query(Long.class)
                    .single();
            assertThat(farm.post(owner, "/accounts/" + id + "/second", NOTHING).statusCode())
                    .isEqualTo(302);
            assertThat(farm.trySignIn("supervisor", SignInFarm.password("supervisor"))
                            .statusCode())
                    .isEqualTo(302);
        }
    }

    @Test
    void aSecondFactorCanBeWantedAndTakenAwayAndIsErased() {
        try (SignInFarm farm = new SignInFarm(Engine.H2, "--duskpeg.second-factor-of=worker").withAccounts()) {
            String worker = farm.signIn("worker");
            HttpResponse<String> led = farm.get(worker, "/board", "Accept", "text/html");
            assertThat(led.statusCode()).isEqualTo(302);
            assertThat(led.headers().firstValue("Location").orElseThrow()).endsWith("/second");
            assertThat(farm.get(worker, "/api/board").statusCode()).isEqualTo(403);
            assertThat(farm.get(worker, "/duskpeg.css").statusCode()).isEqualTo(200);
            assertThat(farm.get(farm.signIn("auditor"), "/lots").statusCode()).isEqualTo(200);

            String secret = begin(farm, worker);
            String signed = SignInFarm.cookie(
                    farm.post(worker, "/second/confirm", Map.of("code", app(secret, farm.clock.instant()))));
            assertThat(farm.get(signed, "/api/board").statusCode()).isEqualTo(200);
            assertThat(farm.post(signed, "/second/end", Map.of("code", "000000"))
                            .statusCode())
                    .isEqualTo(422);
            HttpResponse<String> ended = farm.post(signed, "/second/end", Map.of("code", next(farm, secret)));
            assertThat(ended.statusCode()).isEqualTo(200);
            assertThat(count(farm, "second_factor") + count(farm, "recovery_code"))
                    .isZero();
            String again = SignInFarm.cookie(ended);
            assertThat(farm.get(again, "/api/board").statusCode()).isEqualTo(403);

            begin(farm, again);
            duskpeg.core.farm.FarmId marrowfield = new duskpeg.core.farm.FarmId("marrowfield");
            farm.farm
                    .bean(CommandGateway.class)
                    .sendAndWait(new duskpeg.core.fieldbook.Erasure.Erase(
                            new duskpeg.core.crew.WorkerId(marrowfield, "w1"),
                            new duskpeg.core.crew.WorkerId(marrowfield, "w8"),
                            Set.of(),
                            Instant.parse("2027-01-01T00:00:00Z")));
            assertThat(count(farm, "second_factor")).isZero();
            assertThat(farm.get(farm.signIn("owner"), "/accounts/notes").body()).doesNotContain(">worker</td>");
        }
    }

    @Test
    void whatCantBeUndoneAsksForThePasswordAgain() {
        try (SignInFarm farm = new SignInFarm(Engine.H2).withAccounts()) {
            String owner = farm.signIn("owner");
            Map<String, String> eve = Map.of("login", "eve", "role", "auditor", "worker", "");
            farm.clock.move(Duration.ofMinutes(11));
            for (String serious : duskpeg.projections.signin.AccessLines.serious()) {
                String path = serious.replaceAll("\\{(id|lot|worker)}", "1").replace("{what}", "code");
                HttpResponse<String> asked = farm.post(owner, path, Map.of("name", "\"><script>"));
                assertThat(asked.statusCode()).as(path).isEqualTo(403);
                assertThat(asked.body())
                        .as(path)
                        .contains("Is it you?", "action=\"" + path + "\"", "value=\"&quot;&gt;&lt;script&gt;\"")
                        .doesNotContain("<script>\"");
            }
            // What is done all day asks nothing.
            assertThat(farm.post(owner, "/alerts/look", NOTHING).body()).doesNotContain("Is it you?");

            long before = count(farm, "account");
            Map<String, String> wrong = new HashMap<>(eve);
            wrong.put("proof-password", "not hers");
            HttpResponse<String> refused = farm.post(owner, "/accounts", wrong);
            assertThat(refused.statusCode()).isEqualTo(403);
            assertThat(refused.body())
                    .contains("that is not right", "name=\"login\" value=\"eve\"")
                    .doesNotContain("not hers");
            assertThat(count(farm, "account")).isEqualTo(before);
            Map<String, String> right = new HashMap<>(eve);
            right.put("proof-password", SignInFarm.password("owner"));
            assertThat(farm.post(owner, "/accounts", right).statusCode()).isEqualTo(200);
            assertThat(count(farm, "account")).isEqualTo(before + 1);
            // Then it is not asked for again, for a while.
            farm.clock.move(Duration.ofMinutes(9));
            Map<String, String> ann = Map.of("login", "ann", "role", "auditor", "worker", "");
            assertThat(farm.post(owner, "/accounts", ann).statusCode()).isEqualTo(200);
            farm.clock.move(Duration.ofMinutes(2));
            assertThat(farm.post(owner, "/accounts", NOTHING).statusCode()).isEqualTo(403);
            // A clock that is set back proves nothing.
            farm.clock.move(Duration.ofHours(-5));
            assertThat(farm.post(owner, "/accounts", NOTHING).body()).contains("Is it you?");
            assertThat(farm.post(owner, "/confirm", NOTHING).statusCode()).isEqualTo(302);
        }
    }

    @Test
    void anOwnerSeesWhoSignedInAndWhoTriedTo() {
        try (SignInFarm farm = new SignInFarm(Engine.H2).withAccounts()) {
            farm.trySignIn("supervisor", "not hers at all");
            farm.trySignIn("my secret by mistake", "x");
            String supervisor = farm.signIn("supervisor");
            farm.post(supervisor, "/signout", NOTHING);
            String owner = farm.signIn("owner");
            String page = farm.get(owner, "/accounts/notes").body();
            assertThat(page)
                    .contains(
                            "not let in", "signed in", "signed out", "password set", "made", "127.0.0.0/24", "nobody’s")
                    .contains(", by owner")
                    .doesNotContain("my secret by mistake", "127.0.0.1");
            assertThat(farm.get(farm.signIn("supervisor"), "/second").body()).contains("not let in");

            farm.clock.move(Duration.ofDays(91));
            farm.signIn("auditor");
            assertThat(count(farm, "account_note")).isEqualTo(1);
        }
    }
}
