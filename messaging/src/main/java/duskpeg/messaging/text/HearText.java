package duskpeg.messaging.text;

import duskpeg.core.text.Texts.Text;

/**
 * Hear a message: store it, write down what it says, and answer.
 *
 * @param text the message
 * @param optOutType what the carrier says it took it for: STOP, START, HELP, or nothing
 */
public record HearText(Text text, String optOutType) {

    /** A message of which the carrier said nothing more. */
    public HearText(Text text) {
        this(text, "");
    }
}
