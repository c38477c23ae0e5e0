package duskpeg.core.settle;

import duskpeg.core.act.Worded;

/** How something was settled. The names are stored: they are never changed. */
public enum How implements Worded {
    /** The line was meant so: what it says was written down for the worker. */
    READ_SO,
    /** The text came from that worker: it was read as hers. */
    SAID_BY,
    /** Nothing to record: she has sent it again. */
    SENT_AGAIN,
    /** Nothing to record: thanks, or a greeting. */
    THANKS,
    /** Nothing to record: it is of no work, and nobody else's business. */
    PRIVATE,
    /** Nothing to record: not from anybody of the farm, or an advertisement. */
    SPAM,
    /** What is questioned was looked at, and is as it was reported. */
    AS_REPORTED;

    /** Whether it says of a text that there is nothing in it to record. */
    public boolean recordsNothing() {
        return switch (this) {
            case SENT_AGAIN, THANKS, PRIVATE, SPAM -> true;
            case READ_SO, SAID_BY, AS_REPORTED -> false;
        };
    }

    /**
     * Whether the worker is told. One who has sent her text again would think that a third time is wanted; and to spam
     * nothing is ever answered.
     */
    public boolean told() {
        return switch (this) {
            case READ_SO, SAID_BY, THANKS, PRIVATE -> true;
            case SENT_AGAIN, SPAM, AS_REPORTED -> false;
        };
    }
}
