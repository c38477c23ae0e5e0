package duskpeg.messaging.voice;

import java.util.List;
import org.jspecify.annotations.Nullable;

/** What a call is answered with. */
sealed interface Turn {

    /**
     * Something is said.
     *
     * @param language the code of the language it is said in
     * @param tag the tag of the voice that can say it
     * @param said in order
     * @param then which keys are waited for; null to hang up
     */
    record Say(
            String language,
            String tag,
            List<Prompt> said,
            @Nullable Step then) implements Turn {
        public Say {
            said = List.copyOf(said);
        }
    }

    /**
     * One thing that is said.
     *
     * @param recording where a recording of it is; null for none
     */
    record Prompt(String text, @Nullable String recording) {}

    /** The call is not taken, so that it costs the caller nothing. */
    record Busy() implements Turn {}

    /** The call is over, so there is nobody to say anything to. */
    record Over() implements Turn {}
}
