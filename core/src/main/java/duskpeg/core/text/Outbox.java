package duskpeg.core.text;

import duskpeg.core.farm.FarmId;
import java.time.Instant;

/** Texts that go out by themselves, not as the answer to one. They are stored first and sent after the commit. */
public interface Outbox {

    /** Texts were posted and their transaction is committed; published on the node that posted them. */
    record Posted() {}

    /**
     * Stores a text to be sent. Call it inside the transaction of what it tells of: then both are kept, or neither.
     * Call it from command handlers only, never from an event's handler: events are told again when a projection is
     * rebuilt, and people are not.
     *
     * @param recipient the number it goes to, in E.164 form
     * @param words one segment
     * @param once names it on its farm, 1 to 120 characters; a second text of the same name is not stored
     * @param urgent whether it goes out in the farm's quiet hours too, as what a worker herself asked for does
     * @param made when it was made
     */
    void post(FarmId farm, String recipient, String words, String once, boolean urgent, Instant made);

    /** Stores a text that waits for the end of quiet hours; see {@link #post(FarmId, String, String, String, boolean, Instant)}. */
    default void post(FarmId farm, String recipient, String words, String once, Instant made) {
        post(farm, recipient, words, once, false, made);
    }
}
