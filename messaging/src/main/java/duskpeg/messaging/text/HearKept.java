package duskpeg.messaging.text;

import duskpeg.core.act.TextId;

/**
 * Hear a message that was kept, now that its sender has confirmed it: a command. From here on it is a message like any
 * other, heard when it was kept.
 *
 * @param language the code of the language to answer in
 */
public record HearKept(TextId id, String language) {}
