package duskpeg.core.text;

import duskpeg.core.crew.WorkerId;
import java.time.Instant;
import java.util.Map;

/**
 * Tell a worker something, by a text in her language. A command: it is said once for each {@code once}, however often
 * it is sent.
 *
 * @param worker who is told
 * @param phrase the key of the phrase in the replies' files
 * @param values what the phrase needs, by the names it uses
 * @param once names this telling; telling again under the same name does nothing. 1 to 120 characters
 * @param at when it is said
 */
public record Tell(WorkerId worker, String phrase, Map<String, String> values, String once, Instant at) {

    public Tell {
        values = Map.copyOf(values);
    }
}
