package duskpeg.messaging.text;

import duskpeg.core.text.Texts.Text;

/**
 * Hear what somebody on the crew list keyed on a call and need not confirm: a command.
 *
 * @param language the code of the language to answer in
 */
public record HearKeyed(Text text, String language) {}
