package duskpeg.messaging.voice;

import duskpeg.messaging.reply.Phrases;
import duskpeg.messaging.reply.ReadBack;
import duskpeg.messaging.reply.Speech;
import duskpeg.messaging.text.Languages;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Speaks to one caller. What always has the same words is played in her own language where the farm has recorded it;
 * all else is said in the language that the carrier has a voice for.
 */
final class Speaker {

    private final Recordings recordings;
    private final String own;
    private final String spoken;
    private final Phrases phrases;
    private final List<Turn.Prompt> said = new ArrayList<>();

    /**
     * @param own the code of the caller's own language
     */
    Speaker(Languages languages, Recordings recordings, String own) {
        this.recordings = recordings;
        this.own = own;
        this.spoken = languages.of(own).phrases().say("voice.in");
        this.phrases = languages.of(spoken).phrases();
    }

    /** The code of the language that is spoken. */
    String language() {
        return spoken;
    }

    /** Says a phrase that always has the same words. */
    Speaker phrase(String key) {
        said.add(new Turn.Prompt(phrases.say(key), recordings.of(own, key).orElse(null)));
        return this;
    }

    /** Says an answer that was written to be read. */
    Speaker answer(String reply) {
        return text(new Speech(phrases).of(reply));
    }

    /** Says a text. */
    Speaker text(String text) {
        said.add(new Turn.Prompt(text, null));
        return this;
    }

    ReadBack readBack() {
        return new ReadBack(phrases);
    }

    String wording(String key) {
        return phrases.say(key);
    }

    /** That is all; then those keys are waited for, or, for null, the call is ended. */
    Turn then(@Nullable Step next) {
        return new Turn.Say(spoken, phrases.say("voice.language"), said, next);
    }
}
