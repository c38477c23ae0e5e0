package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.twilio.security.RequestValidator;
import duskpeg.messaging.voice.CallBack;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.springframework.context.annotation.Bean;
import org.w3c.dom.Element;

/** Who is answered at {@code /field/voice}, who is called back, and the farm's own recordings. */
class CallEdgeTest {

    private static final String TOKEN = "12345";

    /** The numbers that were called back. */
    private static final BlockingQueue<String> CALLED = new LinkedBlockingQueue<>();

    /** Without an annotation, so that no other test's server finds it. */
    static class CallBacks {
        @Bean
        CallBack callBack() {
            return (farm, number) -> {
                CALLED.add(number);
                throw new IllegalStateException("nobody knows whether that was placed");
            };
        }
    }

    @Test
    void withATokenOnlySignedRequestsAreAnsweredAndTheQueryIsSigned() throws Exception {
        String publicUrl = "https://farm.example.org";
        try (TestFarm farm =
                new TestFarm(Engine.H2, "--TWILIO_AUTH_TOKEN=" + TOKEN, "--duskpeg.public-url=" + publicUrl)) {
            Map<String, String> form = new TreeMap<>(Map.of("CallSid", "CA1", "From", "+15555550101"));
            assertThat(post(farm, "/field/voice", form, "").statusCode()).isEqualTo(403);
            assertThat(post(farm, "/field/voice", form, "0123456789abcdefghijklmnopq=")
                            .statusCode())
                    .isEqualTo(403);

            HttpResponse<String> begun = post(farm, "/field/voice", form, signature(publicUrl + "/field/voice", form));
            assertThat(begun.statusCode()).isEqualTo(200);
            String action = ((Element) TestCall.parse(begun.body())
                            .getElementsByTagName("Gather")
                            .item(0))
                    .getAttribute("action");
            assertThat(action).startsWith(publicUrl + "/field/voice?step=report&report=1");

            form.put("Digits", "1*12*14*28");
            form.put("FinishedOnKey", "#");
            String path = action.substring(publicUrl.length());
            HttpResponse<String> readBack = post(farm, path, form, signature(action, form));
            assertThat(readBack.statusCode()).isEqualTo(200);
            assertThat(readBack.body()).contains("Pegged, row 1 2, 14 flowers, 28 males.");
            // A step that the server did not say is not the carrier's.
            assertThat(post(farm, path.replace("report=1", "report=2"), form, signature(action, form))
                            .statusCode())
                    .isEqualTo(403);
        }
    }

    /**
     * The provider's rule, written out once more and on its own: the address with its query and the sorted form,
     * HMAC-SHA1 with the token, Base64. The SDK's validator must agree with it.
     */
    private static String signature(String address, Map<String, String> form) throws Exception {
        StringBuilder signed = new StringBuilder(address);
        new TreeMap<>(form).forEach((name, value) -> signed.append(name).append(value));
        Mac mac = Mac.getInstance("HmacSHA1");
        mac.init(new SecretKeySpec(TOKEN.getBytes(StandardCharsets.UTF_8), "HmacSHA1"));
        String signature =
                Base64.getEncoder().encodeToString(mac.doFinal(signed.toString().getBytes(StandardCharsets.UTF_8)));
        assertThat(new RequestValidator(TOKEN).validate(address, form, signature))
                .isTrue();
        return signature;
    }

    private static HttpResponse<String> post(TestFarm farm, String path, Map<String, String> form, String signature)
            throws Exception {
        StringBuilder body = new StringBuilder();
        form.forEach((name, value) -> body.append(name)
                .append('=')
                .append(URLEncoder.encode(value, StandardCharsets.UTF_8))
                .append('&'));
        return HttpClient.newHttpClient()
                .send(
                        HttpRequest.newBuilder(URI.create(farm.address(path)))
                                .header("Content-Type", "application/x-www-form-urlencoded")
                                .header("X-Twilio-Signature", signature)
                                .POST(HttpRequest.BodyPublishers.ofString(body.toString()))
                                .build(),
                        BodyHandlers.ofString());
    }

    @Test
    void aMissedCallIsCalledBackOnceAMinuteAndNeverAStranger() throws Exception {
        try (TestFarm farm = new TestFarm(
                Engine.H2, List.of(CallBacks.class), "--duskpeg.call-back=true", "--duskpeg.call-back-after=PT0S")) {
            TestCall missed = farm.at("2026-11-26T06:40:00+02:00").call("Nomsa");
            assertThat(missed.attribute("Reject", "reason")).isEqualTo("busy");
            assertThat(CALLED.poll(10, TimeUnit.SECONDS)).isEqualTo("+15555550101");

            // The same call told of again, and another within the minute; what failed is not tried again either.
            farm.post("/field/voice", Map.of("CallSid", missed.sid(), "From", "+15555550101"));
            assertThat(farm.at("2026-11-26T06:40:59+02:00").call("Nomsa").has("Reject"))
                    .isTrue();
            assertThat(farm.call("+15555550199").said()).startsWith("This number is not on the crew list");
            assertThat(CALLED.poll(1, TimeUnit.SECONDS)).isNull();

            farm.call("Pieter");
            assertThat(CALLED.poll(10, TimeUnit.SECONDS)).isEqualTo("+15555550102");
            farm.at("2026-11-26T06:41:00+02:00").call("Nomsa");
            assertThat(CALLED.poll(10, TimeUnit.SECONDS)).isEqualTo("+15555550101");

            // The call that was placed then is led like any other; her number is the one that was called.
            String placed = farm.post(
                            "/field/voice",
                            Map.of(
                                    "CallSid",
                                    "CAback",
                                    "From",
                                    "+15555550100",
                                    "To",
                                    "+15555550101",
                                    "Direction",
                                    "outbound-api",
                                    "CallStatus",
                                    "in-progress"))
                    .body();
            assertThat(placed).contains("<Gather").contains("Key your report");
        }
    }

    @Test
    void withoutAnAccountThereIsNoCallingBack() {
        assertThatThrownBy(() -> new TestFarm(Engine.H2, "--duskpeg.call-back=true").close())
                .hasStackTraceContaining("duskpeg.call-back=true needs TWILIO_ACCOUNT_SID");
    }

    @Test
    void theFarmsOwnRecordingsArePlayed(@TempDir Path recordings) throws Exception {
        Files.createDirectories(recordings.resolve("zu"));
        Files.writeString(recordings.resolve("zu").resolve("greeting.mp3"), "sound");
        Files.writeString(recordings.resolve("zu").resolve("notes.txt"), "not sound");
        Files.writeString(recordings.resolve("secret.mp3"), "elsewhere");
        try (TestFarm farm = new TestFarm(Engine.H2, "--duskpeg.recordings-dir=" + recordings)) {
            farm.text("Nomsa", "lang zu");

            TestCall call = farm.call("Nomsa");

            assertThat(call.has("Say")).isFalse();
            assertThat(call.said()).isEqualTo("/field/voice/recordings/zu/greeting.mp3");
            HttpResponse<String> sound = farm.get(call.said());
            assertThat(sound.body()).isEqualTo("sound");
            assertThat(sound.headers().firstValue("Content-Type")).hasValue("audio/mpeg");
            // What nobody recorded, and what is never twice the same, is said in the language there is a voice for.
            assertThat(call.keys("1*12*14*28").said()).startsWith("Pegged, row 1 2, 14 flowers");
            for (String path : List.of("zu/notes.txt", "zu/help.mp3", "zu/..%2Fsecret.mp3", "./secret.mp3")) {
                assertThat(farm.get("/field/voice/recordings/" + path).statusCode())
                        .as(path)
                        .isBetween(400, 404);
            }
        }
    }
}
