package duskpeg.messaging.carrier;

import static duskpeg.messaging.carrier.LoopbackCarrier.answer;
import static duskpeg.messaging.carrier.LoopbackCarrier.silence;
import static org.assertj.core.api.Assertions.assertThat;

import com.twilio.http.TwilioRestClient;
import duskpeg.core.farm.FarmId;
import duskpeg.core.text.Outgoing;
import duskpeg.core.text.Outgoing.State;
import duskpeg.messaging.carrier.Carrier.Answer;
import duskpeg.messaging.carrier.Carrier.Known;
import duskpeg.messaging.carrier.LoopbackCarrier.Seen;
import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.time.Duration;
import java.time.Instant;
import java.util.Map;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The carrier's SDK against a server on this machine; the forms of the answers are those of the carrier's API pages. */
class TwilioCarrierTest {

    private static final String FARM_NUMBER = "+15555550100";
    private static final String NOMSA = "+15555550101";
    private static final String MESSAGES = "/2010-04-01/Accounts/" + LoopbackCarrier.ACCOUNT + "/Messages.json";
    private static final Instant NOON = Instant.parse("2026-11-26T10:00:00Z");

    private final LoopbackCarrier server = new LoopbackCarrier();

    @AfterEach
    void close() {
        server.close();
    }

    private static TwilioCarrier carrier(OnceHttpClient http, String publicUrl) {
        TwilioRestClient client = new TwilioRestClient.Builder(LoopbackCarrier.ACCOUNT, "token")
                .httpClient(http)
                .build();
        return new TwilioCarrier(() -> client, farm -> FARM_NUMBER, publicUrl);
    }

    private Answer send() {
        return carrier(server.client(Duration.ofSeconds(5)), "https://farm.example.org")
                .send(text());
    }

    private static Outgoing text() {
        return new Outgoing(
                12,
                new FarmId("hill"),
                "once",
                NOMSA,
                "Row 12 is yours.",
                true,
                false,
                NOON,
                NOON,
                State.SENDING,
                null,
                3,
                NOON,
                null,
                null,
                null,
                null,
                null);
    }

    private static String message(String sid, String status, String body) {
        return """
                {"sid": "%s", "status": "%s", "body": "%s", "to": "%s", "from": "%s", "direction": "outbound-api",
                 "date_created": "Thu, 26 Nov 2026 10:00:01 +0000", "date_sent": null, "error_code": null,
                 "price": "-0.0079", "price_unit": "USD", "num_segments": "1"}""".formatted(sid, status, body, NOMSA, FARM_NUMBER);
    }

    @Test
    void aTextIsHandedOverWithTheAddressThatWillTellOfIt() {
        server.will(answer(201, message("SM1", "queued", "Row 12 is yours.")));

        assertThat(send()).isEqualTo(new Answer.Taken("SM1", State.SENT, "-0.0079 USD"));
        assertThat(server.seen())
                .containsExactly(new Seen(
                        "POST",
                        MESSAGES,
                        Map.of(
                                "To",
                                NOMSA,
                                "From",
                                FARM_NUMBER,
                                "Body",
                                "Row 12 is yours.",
                                "StatusCallback",
                                "https://farm.example.org/field/status?text=12&try=3")));
    }

    @Test
    void withoutAnAddressNoneIsAskedToCall() {
        server.will(answer(201, message("SM1", "queued", "Row 12 is yours.")));

        carrier(server.client(Duration.ofSeconds(5)), "").send(text());

        assertThat(server.seen().get(0).values()).doesNotContainKey("StatusCallback");
    }

    @Test
    void tooMuchAtOnceIsTriedLater() {
        server.will(answer(429, "{\"code\": 20429, \"status\": 429}", "Retry-After", "7"));

        assertThat(send()).isEqualTo(new Answer.NotNow(20429, Duration.ofSeconds(7)));
        assertThat(server.seen()).hasSize(1);
    }

    @Test
    void aDateToTryAgainIsNotHeeded() {
        server.will(answer(429, "", "Retry-After", "Thu, 26 Nov 2026 10:00:00 GMT"));

        assertThat(send()).isEqualTo(new Answer.NotNow(null, null));
    }

    /** The SDK's own client would repeat a 5xx, and the HTTP library a 503: the worker could get three texts. */
    @ParameterizedTest
    @ValueSource(ints = {500, 502, 503, 504, 408})
    void aServerThatFailedMayHaveTakenItAndIsAskedOnce(int status) {
        server.will(answer(status, "{\"code\": 20500, \"status\": " + status + "}"));

        assertThat(send()).isInstanceOf(Answer.Nothing.class);
        assertThat(server.seen()).hasSize(1);
    }

    @ParameterizedTest
    @CsvSource({
        "400, 21211",
        "400, 21610",
        "401, 20003",
        "404, 20404",
    })
    void whatIsRefusedIsRefusedWithItsCode(int status, int code) {
        server.will(answer(status, "{\"code\": " + code + ", \"message\": \"no\", \"status\": " + status + "}"));

        assertThat(send()).isEqualTo(new Answer.Refused(code));
    }

    @Test
    void aRefusalThatIsNoJsonIsOneAllTheSame() {
        server.will(answer(403, "<html>proxy</html>"));

        assertThat(send()).isEqualTo(new Answer.Refused(403));
    }

    @Test
    void aSuccessThatCannotBeReadIsUnknown() {
        server.will(answer(201, "{\"sid\": "));

        assertThat(send()).isInstanceOf(Answer.Nothing.class);
    }

    @Test
    void noAnswerInTimeIsUnknown() {
        server.will(silence(Duration.ofSeconds(3)));

        assertThat(carrier(server.client(Duration.ofMillis(300)), "").send(text()))
                .isInstanceOf(Answer.Nothing.class);
        assertThat(server.seen()).hasSize(1);
    }

    @Test
    void aLineCutAfterTheRequestIsUnknown() {
        server.will(silence(Duration.ZERO));

        assertThat(send()).isInstanceOf(Answer.Nothing.class);
        assertThat(server.seen()).hasSize(1);
    }

    @Test
    void aConnectionRefusedIsTriedLater() throws IOException {
        int closed;
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            closed = socket.getLocalPort();
        }

        assertThat(carrier(LoopbackCarrier.client(closed, Duration.ofSeconds(2)), "")
                        .send(text()))
                .isEqualTo(new Answer.NotNow(null, null));
    }

    @Test
    void whatTheCarrierGotSinceIsLookedUp() {
        server.will(answer(
                200,
                "{\"messages\": [" + message("SM2", "delivered", "Row 12 is yours.") + ", "
                        + message("SM1", "sent", "older").replace("10:00:01", "09:00:00") + ", "
                        + message("SM0", "sent", "an answer").replace("outbound-api", "outbound-reply")
                        + "], \"page\": 0, \"page_size\": 50, \"next_page_uri\": null}"));

        assertThat(carrier(server.client(Duration.ofSeconds(5)), "").sentTo(new FarmId("hill"), NOMSA, NOON))
                .containsExactly(new Known(
                        "SM2",
                        "Row 12 is yours.",
                        Instant.parse("2026-11-26T10:00:01Z"),
                        State.DELIVERED,
                        null,
                        "-0.0079 USD"));
        assertThat(server.seen())
                .containsExactly(new Seen("GET", MESSAGES, Map.of("To", NOMSA, "From", FARM_NUMBER, "PageSize", "50")));
    }
}
