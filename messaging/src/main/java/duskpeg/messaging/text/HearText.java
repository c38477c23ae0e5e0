package duskpeg.messaging.text;

import duskpeg.core.text.Texts.Text;
import org.jspecify.annotations.Nullable;

/**
 * Hear a message: store it, write down what it says, and answer.
 *
 * @param text the message
 * @param language the code of the language to answer in; null for the sender's own
 */
public record HearText(Text text, @Nullable String language) {

    /** Answered in the sender's own language. */
    public HearText(Text text) {
        this(text, null);
    }
}
