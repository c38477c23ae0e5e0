package duskpeg.messaging.text;

import java.util.List;

/**
 * Hear several messages in one transaction, one after the other, as {@link HearText} for each: all of them are kept, or
 * none.
 *
 * @param texts in the order in which they came; no message twice
 */
public record HearTexts(List<HearText> texts) {

    public HearTexts {
        texts = List.copyOf(texts);
    }
}
