package duskpeg.core.text;

import duskpeg.core.farm.FarmId;
import java.time.Instant;

/** Texts that go out by themselves, not as the answer to one. They are stored first and sent after the commit. */
public interface Outbox {

    /**
     * Stores a text to be sent. Call it inside the transaction of what it tells of: then both are kept, or neither.
     *
     * @param recipient the number it goes to, in E.164 form
     * @param words one segment
     * @param once names it on its farm, 1 to 120 characters; a second text of the same name is not stored
     * @param made when it was made
     */
    void post(FarmId farm, String recipient, String words, String once, Instant made);
}
