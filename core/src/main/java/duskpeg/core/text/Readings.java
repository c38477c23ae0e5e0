package duskpeg.core.text;

import duskpeg.core.text.WaitingTexts.Waiting;
import java.util.List;

/** What somebody who knows the field language says of a text that waits. It writes nothing down. */
public interface Readings {

    /**
     * A way to read a line.
     *
     * @param words the line as it should have been
     * @param says what it would write down, in plain English
     */
    record Suggestion(String words, String says) {}

    /**
     * What can be said of a line.
     *
     * @param problem why nothing was made of it, one sentence of plain English
     * @param suggestions how it may have been meant, likeliest first, at most three; nobody applies them by themselves
     */
    record Explained(String problem, List<Suggestion> suggestions) {
        public Explained {
            suggestions = List.copyOf(suggestions);
        }
    }

    /** Explains a line that waits. */
    Explained explain(Waiting waiting);

    /** Why these words could not be read in its place, one sentence of plain English. */
    String problemWith(Waiting waiting, String words);
}
