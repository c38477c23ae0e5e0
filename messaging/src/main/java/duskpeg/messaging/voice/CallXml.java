package duskpeg.messaging.voice;

import com.twilio.http.HttpMethod;
import com.twilio.twiml.VoiceResponse;
import com.twilio.twiml.voice.Gather;
import com.twilio.twiml.voice.Hangup;
import com.twilio.twiml.voice.Play;
import com.twilio.twiml.voice.Reject;
import com.twilio.twiml.voice.Say;

/** Writes what is said as the carrier reads it. */
final class CallXml {

    /** How long nothing is keyed until a report is taken for ended, in seconds: long enough to look at a tie. */
    private static final int REPORT_SECONDS = 10;

    private static final int CONFIRM_SECONDS = 8;

    private final String base;

    /**
     * @param base the address the carrier calls, up to the path; empty where it may stay relative
     */
    CallXml(String base) {
        this.base = base;
    }

    String write(Turn turn) {
        VoiceResponse.Builder response = new VoiceResponse.Builder();
        if (turn instanceof Turn.Busy) {
            response.reject(new Reject.Builder().reason(Reject.Reason.BUSY).build());
        } else if (turn instanceof Turn.Say say) {
            write(say, response);
        }
        return response.build().toXml();
    }

    private void write(Turn.Say say, VoiceResponse.Builder response) {
        Step then = say.then();
        if (then != null) {
            response.gather(gather(say, then));
            return;
        }
        for (Turn.Prompt prompt : say.said()) {
            if (prompt.recording() == null) {
                response.say(spoken(prompt, say));
            } else {
                response.play(recorded(prompt));
            }
        }
        response.hangup(new Hangup.Builder().build());
    }

    /** What is said inside may be cut short by the first key. */
    private Gather gather(Turn.Say say, Step then) {
        Gather.Builder gather = new Gather.Builder()
                .inputs(Gather.Input.DTMF)
                .method(HttpMethod.POST)
                .action(base + VoiceController.PATH + "?" + then.query())
                .actionOnEmptyResult(true);
        if (then.stage() == Step.Stage.CONFIRM) {
            gather.numDigits(1).finishOnKey("").timeout(CONFIRM_SECONDS);
        } else {
            gather.finishOnKey("#").timeout(REPORT_SECONDS);
        }
        for (Turn.Prompt prompt : say.said()) {
            if (prompt.recording() == null) {
                gather.say(spoken(prompt, say));
            } else {
                gather.play(recorded(prompt));
            }
        }
        return gather.build();
    }

    private static Say spoken(Turn.Prompt prompt, Turn.Say say) {
        return new Say.Builder(prompt.text()).option("language", say.tag()).build();
    }

    private Play recorded(Turn.Prompt prompt) {
        return new Play.Builder(base + prompt.recording()).build();
    }
}
