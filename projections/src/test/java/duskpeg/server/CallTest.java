package duskpeg.server;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.act.TextId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.text.Texts;
import duskpeg.core.text.Texts.Known;
import java.net.http.HttpResponse;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Calls, step by step: what is said, what is kept, and what can go wrong on the line. */
@OnBothEngines
class CallTest {

    private static final String EVENING = "2026-11-25T17:10:00+02:00";
    private static final String MORNING = "2026-11-26";
    private static final String CONFIRM = "Press 1 if that is right, 0 if it is wrong.";
    private static final String NEXT = "Key the next report, then hash. Or hang up.";

    private static TestFarm farm;

    @BeforeAll
    static void open() {
        farm = new TestFarm(Engine.asked()).at(EVENING);
    }

    @AfterAll
    static void close() {
        farm.close();
    }

    private static Optional<Known> stored(TestCall call, int report) {
        return farm.bean(Texts.class).known(new TextId(new FarmId("marrowfield"), call.sid() + "-" + report));
    }

    /** How many lines of the message somebody should look at. */
    private static int unread(TestCall call, int report) {
        return farm.bean(JdbcClient.class)
                .sql("select unread from field_text where text_id = ?")
                .param(call.sid() + "-" + report)
                .query(Integer.class)
                .single();
    }

    @Test
    void aReportIsReadBackConfirmedAndAnswered() {
        TestCall call = farm.call("Nomsa");
        assertThat(call.said()).isEqualTo("Duskpeg. Key your report, then hash.");
        assertThat(call.attribute("Gather", "finishOnKey")).isEqualTo("#");
        assertThat(call.attribute("Gather", "numDigits")).isEmpty();
        assertThat(call.attribute("Say", "language")).isEqualTo("en-ZA");

        assertThat(call.keys("1*12*14*28").said()).isEqualTo("Pegged, row 1 2, 14 flowers, 28 males. " + CONFIRM);
        assertThat(farm.row(MORNING, "12").get("pegged").asInt()).isZero();

        assertThat(call.key("1").said()).isEqualTo("Row 12: 14 pegged for 26 Nov. Males 28 of 28. " + NEXT);
        assertThat(farm.counts(MORNING, "12"))
                .isEqualTo("pegged 14, males 28, opened 0, pollinated 0, bagged 0, tied 0, lost 0, left 14");

        assertThat(call.keys("9").said()).startsWith("26 Nov, left: row 12 14. ");
        assertThat(call.reports("0")).isEqualTo("Taken back: row 12: 14 pegged. " + NEXT);
        assertThat(farm.row(MORNING, "12").get("pegged").asInt()).isZero();
        assertThat(unread(call, 1)).isZero();
        assertThat(stored(call, 1).orElseThrow().text().orElseThrow().words()).isEqualTo("1 12 14 28");
    }

    @Test
    void aWebhookThatComesAgainChangesNothing() {
        TestCall call = farm.call("Pieter");
        String readBack = TestCall.said(call.step("1*13*9*18", "#"));
        assertThat(call.keys("1*13*9*18").said()).isEqualTo(readBack);

        String answer = TestCall.said(call.step("1", ""));
        assertThat(TestCall.said(call.step("1", ""))).isEqualTo(answer);
        // Confirmed is confirmed: a no that comes late is answered with what was noted.
        assertThat(call.key("0").said()).isEqualTo(answer);
        assertThat(farm.row(MORNING, "13").get("pegged").asInt()).isEqualTo(9);
    }

    @Test
    void aReportThatComesAgainAfterItWasConfirmedIsAnsweredAsBefore() {
        TestCall call = farm.call("Pieter");
        var action = call.attribute("Gather", "action");
        String answer = call.reports("1*14*5*10");

        HttpResponse<String> again = farm.post(
                action, Map.of("CallSid", call.sid(), "From", TestFarm.PHONES.get("Pieter"), "Digits", "1*14*5*10"));

        assertThat(TestCall.said(TestCall.parse(again.body()))).isEqualTo(answer);
        assertThat(farm.row(MORNING, "14").get("pegged").asInt()).isEqualTo(5);
    }

    @Test
    void aCallCutBeforeItWasConfirmedLeavesAnUnreadMessage() {
        TestCall call = farm.call("Nomsa").keys("1*16*14*28");

        farm.post("/field/voice", Map.of("CallSid", call.sid(), "CallStatus", "completed"));

        assertThat(farm.row(MORNING, "16").get("pegged").asInt()).isZero();
        assertThat(unread(call, 1)).isEqualTo(1);
        Known kept = stored(call, 1).orElseThrow();
        assertThat(kept.text().orElseThrow().words()).isEqualTo("1 16 14 28");
        assertThat(kept.reply()).isEmpty();
    }

    @Test
    void aCallCutAfterItWasConfirmedLeavesTheReport() {
        TestCall call = farm.call("Nomsa").keys("1*17*4*8");
        call.step("1", "");

        assertThat(farm.row(MORNING, "17").get("pegged").asInt()).isEqualTo(4);
        assertThat(unread(call, 1)).isZero();
    }

    @Test
    void aCallGoesOnAfterARestart() {
        TestCall call = farm.call("Lerato").keys("1*18*6*12");

        farm.restart();

        assertThat(call.key("1").said()).startsWith("Row 18: 6 pegged");
        assertThat(call.reports("1*18*1*2")).startsWith("Row 18: 1 more pegged, 7 for 26 Nov.");
    }

    @Test
    void whatIsWrongIsKeyedAgainAndLeavesNothingToLookAt() {
        TestCall call = farm.call("Ruth").keys("1*19*41*28");

        assertThat(call.key("0").said()).isEqualTo("Not noted. Key it again, then hash.");
        assertThat(unread(call, 1)).isZero();
        assertThat(call.reports("1*19*14*28")).startsWith("Row 19: 14 pegged");
        assertThat(farm.row(MORNING, "19").get("pegged").asInt()).isEqualTo(14);
    }

    @Test
    void wrongKeysAreAskedAgainTwiceAndThenTheReportIsKept() {
        TestCall call = farm.call("Ruth").keys("1*20*3*6");
        String readBack = call.said();
        assertThat(call.key("2").said()).isEqualTo(readBack);
        assertThat(call.waits().said()).isEqualTo(readBack);

        assertThat(call.key("#").said())
                .isEqualTo("You did not confirm it, so it is not noted. It is kept for the supervisor. Goodbye.");

        assertThat(call.has("Gather")).isFalse();
        assertThat(call.has("Hangup")).isTrue();
        assertThat(unread(call, 1)).isEqualTo(1);
        assertThat(farm.row(MORNING, "20").get("pegged").asInt()).isZero();
    }

    @Test
    void silenceIsAskedAgainTwice() {
        TestCall call = farm.call("Ruth");
        assertThat(call.waits().said()).startsWith("I heard nothing. Key the act, star, the row");
        assertThat(call.waits().said()).startsWith("I heard nothing. Key the act");

        assertThat(call.waits().said())
                .isEqualTo("I heard nothing. Nothing was lost: what you confirmed is noted. Goodbye.");

        assertThat(call.has("Hangup")).isTrue();
        assertThat(stored(call, 1)).isEmpty();
    }

    @Test
    void aHashAloneRepeatsHowToKeyAndIsNoSilence() {
        TestCall call = farm.call("Ruth");
        for (int i = 0; i < 5; i++) {
            assertThat(call.keys("").said()).startsWith("Key the act, star, the row");
        }
        assertThat(call.keys("**").said()).startsWith("Key the act, star, the row");
        assertThat(call.reports("1*21*2*4")).startsWith("Row 21: 2 pegged");
    }

    @Test
    void whatCannotBeReadIsSaidAndKept() {
        TestCall call = farm.call("Ruth");

        assertThat(call.keys("1*22").said()).startsWith("Not noted: the count is missing. Key the act, star");
        assertThat(unread(call, 1)).isEqualTo(1);
        assertThat(call.keys("12*6").said()).startsWith("Not noted: those acts can't be done in one go.");
        assertThat(call.keys("1*22*0").said()).startsWith("Not noted: a row or a count can't be 0.");
        assertThat(call.reports("1*22*2*4")).startsWith("Row 22: 2 pegged");
    }

    @Test
    void aRowThatIsNotThereIsAnsweredAsInAText() {
        TestCall call = farm.call("Ruth");

        assertThat(call.reports("1*31*2*4"))
                .isEqualTo("No row 31 on this farm. Not noted: send it again with the right row. " + NEXT);
        assertThat(unread(call, 1)).isEqualTo(1);
    }

    @Test
    void hostileKeysAreOnlyKeys() {
        TestCall call = farm.call("Ruth");
        for (String digits : new String[] {
            "9".repeat(10_000),
            "x".repeat(10_000),
            "<Hangup/>",
            "ABCD",
            "\u0000\u0001\uD83C",
            "0-0",
            "1*23*2*4&step=confirm"
        }) {
            assertThat(call.keys(digits).said()).isNotBlank();
            if (call.attribute("Gather", "numDigits").equals("1")) {
                call.key("0");
            }
        }
        assertThat(call.said()).hasSizeLessThan(1000);
        assertThat(call.reports("1*23*2*4")).startsWith("Row 23: 2 pegged");
    }

    @Test
    void stepsThatNobodySentAreAnswered() {
        for (String query : new String[] {
            "?step=confirm", "?step=confirm&report=77&tries=9", "?step=report&report=x&tries=-1", "?step=nothing"
        }) {
            HttpResponse<String> answer =
                    farm.post("/field/voice" + query, Map.of("From", "+15555550101", "Digits", "1"));
            assertThat(answer.statusCode()).isEqualTo(200);
            assertThat(TestCall.said(TestCall.parse(answer.body()))).isNotBlank();
        }
        assertThat(farm.post("/field/voice", Map.of()).statusCode()).isEqualTo(200);
    }

    @Test
    void aStrangerIsToldAndHerKeysAreKept() {
        TestCall call = farm.call("+15555550199");
        assertThat(call.said()).startsWith("This number is not on the crew list, so nothing is noted.");

        assertThat(call.keys("1*24*2*4").said()).startsWith("This number is not on the crew list");

        assertThat(unread(call, 1)).isEqualTo(1);
        assertThat(stored(call, 1).orElseThrow().text().orElseThrow().words()).isEqualTo("1 24 2 4");
        assertThat(farm.row(MORNING, "24").get("pegged").asInt()).isZero();
    }

    @Test
    void aCallIsHeldInHerLanguageAsFarAsTheCarrierCanSpeakIt() {
        farm.text("+15555550105", "lang af");
        farm.text("+15555550106", "lang zu");

        TestCall afrikaans = farm.call("+15555550105");
        assertThat(afrikaans.said()).isEqualTo("Duskpeg. Sleutel jou berig in, en dan huts.");
        assertThat(afrikaans.attribute("Say", "language")).isEqualTo("af-ZA");
        assertThat(afrikaans.reports("1*1*2*4")).startsWith("Ry 1: 2 geknyp vir 26 Nov.");

        TestCall zulu = farm.call("+15555550106");
        assertThat(zulu.said()).isEqualTo("Duskpeg. Key your report, then hash.");
        assertThat(zulu.attribute("Say", "language")).isEqualTo("en-ZA");
        assertThat(zulu.reports("1*2*2*4")).startsWith("Row 2: 2 pegged for 26 Nov.");
    }
}
