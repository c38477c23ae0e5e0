package duskpeg.core.text;

import duskpeg.core.crew.WorkerId;
import java.time.Instant;
import java.util.Map;

/**
 * Tell a worker something, by a text in her language. A command: it is said once for each {@code once}, however often
 * it is sent. Its result is whether there was somebody to tell: a person whose name and number were erased is not told.
 * It fails with an {@link IllegalArgumentException} where there is no such phrase, or where it would not fit one
 * segment: nothing is cut.
 *
 * @param worker who is told
 * @param phrase the key of the phrase in the replies' files
 * @param values what the phrase needs, by the names it uses; an ISO date is told as a day in her language
 * @param once names this telling; telling again under the same name does nothing. 1 to 120 characters
 * @param urgent whether it is said in the farm's quiet hours too
 * @param at when it is said
 */
public record Tell(
        WorkerId worker, String phrase, Map<String, String> values, String once, boolean urgent, Instant at) {

    public Tell {
        values = Map.copyOf(values);
    }

    /** Tells what can wait for the end of quiet hours. */
    public Tell(WorkerId worker, String phrase, Map<String, String> values, String once, Instant at) {
        this(worker, phrase, values, once, false, at);
    }
}
