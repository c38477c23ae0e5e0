package duskpeg.messaging.text;

import duskpeg.core.text.Texts.Text;

/**
 * Hear a message: store it, write down what it says, and answer.
 *
 * @param text the message
 */
public record HearText(Text text) {}
