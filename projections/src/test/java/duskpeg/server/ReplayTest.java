package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Erasure;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Base64;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.w3c.dom.Element;

/**
 * The carrier's signature covers the address and the form, and no time: who once saw a signed request can send it again for
 * ever. It changes nothing, however late it comes, in whatever order, and also after its sender was erased.
 */
class ReplayTest {

    private static final String TOKEN = "12345";
    private static final String EVENING = "2026-11-25T17:10:00+02:00";
    private static final String MORNING = "2026-11-26T07:10:00+02:00";
    private static final String MUCH_LATER = "2028-02-29T07:10:00+02:00";

    /** A signed request that somebody saw. */
    private record Seen(String path, Map<String, String> form, String signature) {}

    private final List<Seen> seen = new ArrayList<>();

    private String send(TestFarm farm, String now, String path, Map<String, String> more) throws Exception {
        Map<String, String> form = new TreeMap<>(Map.of("From", TestFarm.PHONES.get("Nomsa"), "To", "+15555550100"));
        form.putAll(more);
        StringBuilder signed = new StringBuilder(farm.address(path));
        form.forEach((name, value) -> signed.append(name).append(value));
        Mac mac = Mac.getInstance("HmacSHA1");
        mac.init(new SecretKeySpec(TOKEN.getBytes(StandardCharsets.UTF_8), "HmacSHA1"));
        Seen one = new Seen(
                path,
                form,
                Base64.getEncoder().encodeToString(mac.doFinal(signed.toString().getBytes(StandardCharsets.UTF_8))));
        seen.add(one);
        return send(farm, now, one);
    }

    private static String send(TestFarm farm, String now, Seen one) throws Exception {
        HttpResponse<String> answer = HttpClient.newHttpClient()
                .send(
                        HttpRequest.newBuilder(URI.create(farm.address(one.path())))
                                .header("Content-Type", "application/x-www-form-urlencoded")
                                .header("X-Twilio-Signature", one.signature())
                                .header("X-Duskpeg-Now", now)
                                .POST(HttpRequest.BodyPublishers.ofString(SignInFarm.body(one.form())))
                                .build(),
                        BodyHandlers.ofString());
        assertThat(answer.statusCode()).as(one.path() + " " + one.form()).isEqualTo(200);
        return answer.body();
    }

    /** Everything that a replay could change. */
    private static String state(TestFarm farm) {
        farm.awaitProjections();
        JdbcClient jdbc = farm.bean(JdbcClient.class);
        StringBuilder state = new StringBuilder();
        for (String table : List.of(
                "event",
                "field_text",
                "unread_line",
                "outgoing",
                "person",
                "enrolled",
                "board_act_1",
                "history_tie_1",
                "opted_out",
                "call_back")) {
            state.append(table)
                    .append(' ')
                    .append(jdbc.sql("select count(*) from " + table)
                            .query(Long.class)
                            .single())
                    .append('\n');
        }
        return state
                + farm.get("/api/board?morning=2026-11-26&at=2026-11-26T09:00").body()
                + farm.get("/api/strips").body();
    }

    @ParameterizedTest
    @EnumSource
    void whatIsSentAgainChangesNothing(Engine engine) throws Exception {
        try (TestFarm farm = new TestFarm(engine, "--TWILIO_AUTH_TOKEN=" + TOKEN)) {
            List<String> answers = new ArrayList<>();
            answers.add(send(farm, EVENING, "/field/text", Map.of("Body", "1 12 14 m 28", "MessageSid", "SM1")));
            answers.add(send(farm, MORNING, "/field/text", Map.of("Body", "2345 12 6", "MessageSid", "SM2")));
            answers.add(send(farm, MORNING, "/field/text", Map.of("Body", "the gate is shut", "MessageSid", "SM3")));
            answers.add(send(farm, MORNING, "/field/text", Map.of("Body", "0", "MessageSid", "SM4")));
            answers.add(send(farm, MORNING, "/field/text", Map.of("Body", "2345 12 3", "MessageSid", "SM5")));
            answers.add(send(farm, MORNING, "/field/text", Map.of("Body", "STOP", "MessageSid", "SM6")));
            answers.add(send(farm, MORNING, "/field/text", Map.of("Body", "START", "MessageSid", "SM7")));
            int texts = seen.size();
            String next = action(
                    farm,
                    send(
                            farm,
                            MORNING,
                            "/field/voice",
                            Map.of("CallSid", "CA1", "CallStatus", "ringing", "Direction", "inbound")));
            Map<String, String> call = Map.of("CallSid", "CA1", "CallStatus", "in-progress", "Direction", "inbound");
            next = action(farm, send(farm, MORNING, next, with(call, "Digits", "2*12*2", "FinishedOnKey", "#")));
            send(farm, MORNING, next, with(call, "Digits", "1", "FinishedOnKey", ""));
            send(farm, MORNING, "/field/status", Map.of("MessageSid", "SMout", "MessageStatus", "delivered"));

            farm.at(MUCH_LATER);
            String before = state(farm);
            for (int i = 0; i < texts; i++) {
                assertThat(send(farm, MUCH_LATER, seen.get(i))).isEqualTo(answers.get(i));
            }
            List<Seen> jumbled = new ArrayList<>(seen);
            Collections.reverse(jumbled);
            for (Seen one : jumbled) {
                send(farm, MUCH_LATER, one);
            }
            assertThat(state(farm)).isEqualTo(before);

            FarmId marrowfield = new FarmId("marrowfield");
            farm.bean(CommandGateway.class)
                    .sendAndWait(new Erasure.Erase(
                            new WorkerId(marrowfield, "w1"),
                            new WorkerId(marrowfield, "w8"),
                            Set.of(),
                            Instant.parse("2028-03-01T00:00:00Z")));
            String erased = state(farm);
            for (Seen one : seen) {
                assertThat(send(farm, MUCH_LATER, one)).doesNotContain("6 tied", TestFarm.PHONES.get("Nomsa"));
            }
            assertThat(state(farm)).isEqualTo(erased);
        }
    }

    private static Map<String, String> with(Map<String, String> form, String... more) {
        Map<String, String> all = new TreeMap<>(form);
        for (int i = 0; i < more.length; i += 2) {
            all.put(more[i], more[i + 1]);
        }
        return all;
    }

    private static String action(TestFarm farm, String answer) {
        String address =
                ((Element) TestCall.parse(answer).getElementsByTagName("Gather").item(0)).getAttribute("action");
        return address.startsWith("http") ? address.substring(farm.address("").length()) : address;
    }
}
