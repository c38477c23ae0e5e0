package duskpeg.messaging.text;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.text.Texts.Text;

/**
 * Keep a message that its sender has still to confirm: a command. Nothing of it is written down until {@link HearKept};
 * until then it is shown as unread.
 *
 * @param worker who sent it
 */
public record KeepText(Text text, WorkerId worker) {}
