package duskpeg.messaging.text;

import duskpeg.core.act.TextId;

/**
 * Note that a message that was kept is not what its sender meant: a command. The words stay.
 *
 * @param reply what she is told
 */
public record DropKept(TextId id, String reply) {}
