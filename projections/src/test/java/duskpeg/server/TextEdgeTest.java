package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import com.twilio.security.RequestValidator;
import java.io.IOException;
import java.net.Socket;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;
import org.axonframework.commandhandling.CommandBus;
import org.axonframework.common.Registration;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Who is answered at {@code /field/text}, and what an empty farm and a demo do differently. */
class TextEdgeTest {

    private static final String TOKEN = "12345";
    private static final String FORM_TYPE = "application/x-www-form-urlencoded";
    private static final Map<String, String> FORM = Map.of(
            "From", "+15555550101", "To", "+15555550100", "Body", "1 12 14 m 28", "MessageSid", "SM0123456789abcdef");

    @Test
    void withATokenOnlySignedRequestsAreAnswered() throws Exception {
        try (TestFarm farm = new TestFarm(Engine.H2, "--TWILIO_AUTH_TOKEN=" + TOKEN)) {
            String address = farm.address("/field/text");

            assertThat(post(address, "").statusCode()).isEqualTo(403);
            assertThat(post(address, "0123456789abcdefghijklmnopq=").statusCode())
                    .isEqualTo(403);

            HttpResponse<String> signed = post(address, signature(address));
            assertThat(signed.statusCode()).isEqualTo(200);
            assertThat(TestFarm.message(signed.body())).startsWith("Row 12: 14 pegged");
        }
    }

    /** Whatever goes wrong with a text: it is answered in words, nothing of it is kept, and it may come again. */
    @ParameterizedTest
    @EnumSource
    void anErrorOfTheJvmIsAnsweredInWordsAndTheTextMayComeAgain(Engine engine) {
        try (TestFarm farm = new TestFarm(engine)) {
            farm.at("2026-11-25T17:10:00+02:00");
            Registration deep = farm.bean(CommandBus.class).registerHandlerInterceptor((unit, chain) -> {
                // After all of it was written, and before it is kept.
                Object answer = chain.proceed();
                if (unit.getMessage().getPayload().toString().contains("SMdeep")) {
                    throw new StackOverflowError("too deep");
                }
                return answer;
            });
            assertThat(farm.text("Nomsa", "1 12 14 m 28", "SMdeep")).startsWith("Not noted, something went wrong");
            assertThat(farm.text("Nomsa", "1 13 9 m 16")).startsWith("Row 13: 9 pegged");
            deep.cancel();
            assertThat(farm.text("Nomsa", "1 12 14 m 28", "SMdeep")).startsWith("Row 12: 14 pegged");
            assertThat(farm.counts("2026-11-26", "12")).startsWith("pegged 14,");
        }
    }

    /** Each is delivered twice at once, and a stranger's and one that can't be read are among them. */
    @ParameterizedTest
    @EnumSource
    void textsThatComeAtOnceAreEachKeptOnceAndAnsweredAlike(Engine engine) throws Exception {
        try (TestFarm farm = new TestFarm(engine)) {
            farm.at("2026-11-26T06:00:00+02:00");
            ExecutorService carriers = Executors.newFixedThreadPool(32);
            List<Future<String>> answers = new ArrayList<>();
            for (int text = 0; text < 40; text++) {
                String sid = TestFarm.newSid();
                String who = text % 10 == 9
                        ? "+15555550199"
                        : List.of("Nomsa", "Pieter", "Lerato").get(text % 3);
                String words = text % 10 == 8 ? "zzz" : "2 " + (12 + text % 4) + " 1";
                for (int time = 0; time < 2; time++) {
                    answers.add(carriers.submit(() -> farm.text(who, words, sid)));
                }
            }
            for (int text = 0; text < 40; text++) {
                String answer = answers.get(2 * text).get();
                assertThat(answer).isEqualTo(answers.get(2 * text + 1).get());
                assertThat(answer.startsWith("Row ")).isEqualTo(text % 10 < 8);
            }
            carriers.shutdown();

            int opened = 0;
            for (int row = 12; row < 16; row++) {
                String counts = farm.counts("2026-11-26", String.valueOf(row));
                opened += Integer.parseInt(counts.replaceAll(".*opened ([0-9]+),.*", "$1"));
            }
            assertThat(opened).isEqualTo(32);
        }
    }

    @Test
    void whatIsPeggedAndLostInOneTextOfTheEveningIsOfOneRound() {
        try (TestFarm farm = new TestFarm(Engine.H2)) {
            String answer = farm.at("2026-11-25T18:30:00+02:00").text("Nomsa", "1 22 12 m 24\n8 22 4");

            assertThat(answer).contains("Row 22: 12 pegged").doesNotContain("something went wrong");
            assertThat(farm.counts("2026-11-26", "22"))
                    .isEqualTo("pegged 12, males 24, opened 0, pollinated 0, bagged 0, tied 0, lost 4, left 8");
            assertThat(farm.text("Pieter", "8 23 2\n1 23 5 m 10")).doesNotContain("something went wrong");
            assertThat(farm.counts("2026-11-26", "23")).contains("pegged 5").contains("lost 2");
        }
    }

    @Test
    void behindAProxyTheAddressThatTheCarrierCallsIsWhatIsSigned() throws Exception {
        try (TestFarm farm = new TestFarm(
                Engine.H2, "--TWILIO_AUTH_TOKEN=" + TOKEN, "--duskpeg.public-url=https://farm.example.org")) {
            assertThat(post(farm.address("/field/text"), signature("https://farm.example.org/field/text"))
                            .statusCode())
                    .isEqualTo(200);
        }
    }

    /**
     * The provider's rule, written out here once more and on its own: the address and the sorted form, HMAC-SHA1 with
     * the token, Base64. The SDK's validator must agree with it.
     */
    private static String signature(String address) throws Exception {
        StringBuilder signed = new StringBuilder(address);
        new TreeMap<>(FORM).forEach((name, value) -> signed.append(name).append(value));
        Mac mac = Mac.getInstance("HmacSHA1");
        mac.init(new SecretKeySpec(TOKEN.getBytes(StandardCharsets.UTF_8), "HmacSHA1"));
        String signature =
                Base64.getEncoder().encodeToString(mac.doFinal(signed.toString().getBytes(StandardCharsets.UTF_8)));
        assertThat(new RequestValidator(TOKEN).validate(address, FORM, signature))
                .isTrue();
        return signature;
    }

    private static HttpResponse<String> post(String address, String signature)
            throws IOException, InterruptedException {
        StringBuilder body = new StringBuilder();
        FORM.forEach((name, value) -> body.append(name)
                .append('=')
                .append(URLEncoder.encode(value, StandardCharsets.UTF_8))
                .append('&'));
        return HttpClient.newHttpClient()
                .send(
                        HttpRequest.newBuilder(URI.create(address))
                                .header("Content-Type", "application/x-www-form-urlencoded")
                                .header("X-Twilio-Signature", signature)
                                .POST(HttpRequest.BodyPublishers.ofString(body.toString()))
                                .build(),
                        BodyHandlers.ofString());
    }

    @Test
    void whatIsNoFormIsAnsweredAndNotKept() throws Exception {
        try (TestFarm farm = new TestFarm(Engine.H2)) {
            for (String type : List.of("application/json", "multipart/form-data; boundary=b", "banana")) {
                assertThat(TestFarm.message(post(farm, type, "{}").body())).startsWith("Nothing to read.");
            }
            assertThat(TestFarm.message(post(farm, FORM_TYPE, "").body())).startsWith("Nothing to read.");
            assertThat(farm.bean(JdbcClient.class)
                            .sql("select count(*) from field_text")
                            .query(Integer.class)
                            .single())
                    .isZero();
        }
    }

    @Test
    void aFormLongerThanTheServerReadsIsAnsweredAllTheSame() throws Exception {
        try (TestFarm farm = new TestFarm(Engine.H2)) {
            String form = "MessageSid=SMlong1&From=%2B15555550101&Body=1+12+14&Pad=";

            assertThat(TestFarm.message(
                            post(farm, FORM_TYPE, form + "9".repeat(3 << 20)).body()))
                    .startsWith("Row 12: 14 pegged");
            assertThat(TestFarm.message(
                            post(farm, FORM_TYPE, form + "9".repeat(20 << 20)).body()))
                    .startsWith("Nothing to read.");
        }
    }

    @Test
    void aRequestThatIsNoHttpIsRefusedWithoutShowingTheServersInside() throws Exception {
        try (TestFarm farm = new TestFarm(Engine.H2);
                Socket socket =
                        new Socket("localhost", URI.create(farm.address("")).getPort())) {
            socket.getOutputStream().write("BANANA\r\n\r\n".getBytes(StandardCharsets.US_ASCII));

            assertThat(new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8))
                    .startsWith("HTTP/1.1 400")
                    .doesNotContain("Exception", "Tomcat");
        }
    }

    private static HttpResponse<String> post(TestFarm farm, String type, String body) throws Exception {
        return HttpClient.newHttpClient()
                .send(
                        HttpRequest.newBuilder(URI.create(farm.address("/field/text")))
                                .header("Content-Type", type)
                                .POST(HttpRequest.BodyPublishers.ofString(body))
                                .build(),
                        BodyHandlers.ofString());
    }

    @Test
    void withoutTheDemoTheFarmIsEmptyAndTheClockIsReal() {
        try (SignInFarm farm = new SignInFarm(Engine.H2, "--duskpeg.farm-file=classpath:empty-farm.json")) {
            String owner = farm.makeOwner();
            String board = farm.get(owner, "/api/board", "X-Duskpeg-Now", "2001-01-01T07:00:00+02:00")
                    .body();

            assertThat(board).contains("\"rows\":[]").doesNotContain("\"now\":\"2001");
            assertThat(farm.get(owner, "/api/farm").statusCode()).isEqualTo(404);
            assertThat(farm.get(owner, "/phone").statusCode()).isEqualTo(404);
            assertThat(farm.farm.text("+15555550101", "1 12 14")).startsWith("This number is not on the crew list");
        }
    }

    @Test
    void inTheDemoATimeThatIsNoTimeIsRefused() {
        try (TestFarm farm = new TestFarm(Engine.H2)) {
            assertThat(farm.at("-999999999-01-01T00:00:00Z").get("/api/board").statusCode())
                    .isEqualTo(400);
            assertThat(farm.at("tomorrow").get("/api/board").statusCode()).isEqualTo(400);
            assertThat(farm.at("2026-11-25T17:10:00+02:00")
                            .get("/api/board?morning=soon")
                            .statusCode())
                    .isEqualTo(400);
        }
    }
}
