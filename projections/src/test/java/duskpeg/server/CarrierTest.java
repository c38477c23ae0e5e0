package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

import com.fasterxml.jackson.databind.JsonNode;
import com.twilio.http.HttpClient;
import com.twilio.http.Request;
import com.twilio.http.Response;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.text.Tell;
import java.io.IOException;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.stream.Collectors;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** The assembled server with an account of the carrier, whose API is played here. */
@OnBothEngines
class CarrierTest {

    private static final String TOKEN = "12345";
    private static final String PUBLIC = "https://farm.example.org";
    private static final FarmId FARM = new FarmId("marrowfield");
    private static final PlayedCarrier API = new PlayedCarrier();

    private static TestFarm farm;

    @BeforeAll
    static void open() {
        farm = new TestFarm(
                Engine.asked(),
                server -> server.registerBean(
                        "playedCarrier", HttpClient.class, () -> API, definition -> definition.setPrimary(true)),
                "--TWILIO_ACCOUNT_SID=AC00000000000000000000000000000000",
                "--TWILIO_AUTH_TOKEN=" + TOKEN,
                "--duskpeg.public-url=" + PUBLIC,
                "--duskpeg.quiet-hours=");
    }

    @AfterAll
    static void close() {
        farm.close();
    }

    private static void tell(String worker, String words) {
        farm.bean(CommandGateway.class)
                .sendAndWait(new Tell(
                        new WorkerId(FARM, worker),
                        "told.from",
                        Map.of("name", "Ruth", "words", words),
                        words,
                        Instant.parse("2026-11-26T05:30:00Z")));
    }

    private static JsonNode outgoing(String words, String state) {
        Instant patience = Instant.now().plus(Duration.ofSeconds(20));
        JsonNode found = null;
        while (Instant.now().isBefore(patience)) {
            for (JsonNode text : farm.json("/api/outbox")) {
                if (text.get("words").asText().equals("Ruth: " + words)) {
                    found = text;
                    if (text.get("state").asText().equals(state)) {
                        return text;
                    }
                }
            }
        }
        throw new AssertionError(words + " is not " + state + ": " + found);
    }

    @Test
    void aTextGoesToTheCarrierAndItsCallbackSettlesIt() throws Exception {
        tell("w1", "row 12 is yours");

        assertThat(outgoing("row 12 is yours", "sent").get("to").asText()).isEqualTo("Nomsa");
        Map<String, List<String>> form = API.requests.stream()
                .map(Request::getPostParams)
                .filter(posted -> posted.get("Body").contains("Ruth: row 12 is yours"))
                .findFirst()
                .orElseThrow();
        String callback = form.get("StatusCallback").get(0);
        assertThat(callback).startsWith(PUBLIC + "/field/status?text=");
        String path = callback.substring(PUBLIC.length());
        String sid = API.sid("Ruth: row 12 is yours");

        assertThat(callBack(path, Map.of("MessageSid", sid, "MessageStatus", "delivered"), "forged")
                        .statusCode())
                .isEqualTo(403);
        assertThat(callBack(path, Map.of("MessageSid", "SMnobody", "MessageStatus", "delivered"))
                        .statusCode())
                .isEqualTo(200);
        outgoing("row 12 is yours", "sent");
        assertThat(callBack(path, Map.of("MessageSid", sid, "MessageStatus", "delivered"))
                        .statusCode())
                .isEqualTo(200);
        outgoing("row 12 is yours", "delivered");
        assertThat(callBack(path, Map.of("MessageSid", sid, "MessageStatus", "sent"))
                        .statusCode())
                .isEqualTo(200);
        assertThat(callBack(path, Map.of("MessageSid", sid, "MessageStatus", "no such word"))
                        .statusCode())
                .isEqualTo(200);
        assertThat(callBack("/field/status?text=x&try=99999999999", Map.of()).statusCode())
                .isEqualTo(200);
        outgoing("row 12 is yours", "delivered");
    }

    @Test
    void whatTheCarrierNeverAnsweredIsSettledByItsCallback() throws Exception {
        tell("w3", "no answer 503");
        JsonNode unknown = outgoing("no answer 503", "unknown");
        assertThat(unknown.get("toDecide").asBoolean()).isTrue();
        assertThat(farm.get("/outbox").body()).contains("no answer 503", "Send again", "Drop");

        assertThat(callBack(
                                "/field/status?text=" + unknown.get("id").asLong() + "&try=1",
                                Map.of(
                                        "MessageSid", "SMlate",
                                        "MessageStatus", "undelivered",
                                        "ErrorCode", "30003",
                                        "To", TestFarm.PHONES.get("Lerato")))
                        .statusCode())
                .isEqualTo(200);

        assertThat(outgoing("no answer 503", "failed").get("error").asInt()).isEqualTo(30003);
    }

    @Test
    void stopIsKeptAndAnsweredByTheCarrierAndStartUndoesIt() throws Exception {
        assertThat(text("Pieter", "Stop", Map.of()).body()).doesNotContain("<Message>");
        tell("w2", "row 13 is yours");
        assertThat(outgoing("row 13 is yours", "held").get("why").asText()).contains("START");
        assertThat(TestFarm.message(text("Pieter", "1 20 5 m 10", Map.of()).body()))
                .startsWith("Row 20: 5 pegged");

        assertThat(TestFarm.message(text("Pieter", "unstop", Map.of()).body())).startsWith("You get texts");
        tell("w2", "row 14 is yours");
        outgoing("row 14 is yours", "sent");

        // A word of the carrier's own service, in another language.
        assertThat(text("Pieter", "alto", Map.of("OptOutType", "STOP")).body()).doesNotContain("<Message>");
        tell("w2", "row 15 is yours");
        outgoing("row 15 is yours", "held");
        assertThat(TestFarm.message(
                        text("Pieter", "HELP", Map.of("OptOutType", "HELP")).body()))
                .startsWith("1 peg 2 open");
    }

    @Test
    void anAccountWithoutItsTokenDoesNotStart() {
        assertThatExceptionOfType(RuntimeException.class)
                .isThrownBy(() -> new TestFarm(Engine.asked(), "--TWILIO_ACCOUNT_SID=AC1").close())
                .havingRootCause()
                .withMessageContaining("TWILIO_AUTH_TOKEN is not");
    }

    private static HttpResponse<String> text(String who, String words, Map<String, String> more) throws Exception {
        Map<String, String> form = new TreeMap<>(more);
        form.putAll(Map.of(
                "From",
                TestFarm.PHONES.get(who),
                "To",
                "+15555550100",
                "Body",
                words,
                "MessageSid",
                TestFarm.newSid()));
        return callBack("/field/text", form);
    }

    private static HttpResponse<String> callBack(String path, Map<String, String> form) throws Exception {
        StringBuilder signed = new StringBuilder(PUBLIC + path);
        new TreeMap<>(form).forEach((name, value) -> signed.append(name).append(value));
        Mac mac = Mac.getInstance("HmacSHA1");
        mac.init(new SecretKeySpec(TOKEN.getBytes(StandardCharsets.UTF_8), "HmacSHA1"));
        return callBack(
                path,
                form,
                Base64.getEncoder().encodeToString(mac.doFinal(signed.toString().getBytes(StandardCharsets.UTF_8))));
    }

    private static HttpResponse<String> callBack(String path, Map<String, String> form, String signature)
            throws IOException, InterruptedException {
        String body = form.entrySet().stream()
                .map(value -> value.getKey() + "=" + URLEncoder.encode(value.getValue(), StandardCharsets.UTF_8))
                .collect(Collectors.joining("&"));
        return java.net.http.HttpClient.newHttpClient()
                .send(
                        HttpRequest.newBuilder(URI.create(farm.address(path)))
                                .header("Content-Type", "application/x-www-form-urlencoded")
                                .header("X-Twilio-Signature", signature)
                                .POST(HttpRequest.BodyPublishers.ofString(body))
                                .build(),
                        BodyHandlers.ofString());
    }

    /** Takes every text; one that speaks of a 503 is answered with it. */
    private static final class PlayedCarrier extends HttpClient {

        private final List<Request> requests = new CopyOnWriteArrayList<>();

        String sid(String words) {
            return "SM" + Integer.toHexString(words.hashCode());
        }

        @Override
        public Response reliableRequest(Request request) {
            return makeRequest(request);
        }

        @Override
        public Response makeRequest(Request request) {
            requests.add(request);
            String words =
                    request.getPostParams().getOrDefault("Body", List.of("")).get(0);
            return words.contains("503")
                    ? new Response("{\"status\": 503}", 503)
                    : new Response("{\"sid\": \"" + sid(words) + "\", \"status\": \"queued\"}", 201);
        }
    }
}
