package duskpeg.core.audit;

import duskpeg.core.act.Worded;

/**
 * One thing that was looked at.
 *
 * @param what what it was
 * @param result what came of it
 * @param sentence one sentence in plain English
 */
public record Check(What what, Result result, String sentence) {

    /** What is looked at, in this order. */
    public enum What implements Worded {
        /** That the file is written as such files are. */
        CONTAINER,
        /** Whose key it is. */
        KEY,
        /** That the files are those that were signed. */
        SEAL,
        /** That the checkpoint is signed. */
        CHECKPOINT,
        /** That a witness saw it. */
        WITNESSED,
        /** That earlier checkpoints tell of the same log. */
        EARLIER,
        /** That the checkpoint that the auditor kept does. */
        KEPT,
        /** That each event is in the log. */
        EVENTS,
        /** That none was left out. */
        COMPLETE,
        /** That the verdict follows from the events. */
        VERDICT
    }

    /** What can come of it. */
    public enum Result implements Worded {
        HOLDS,
        /** It is not as it must be. */
        FAILS,
        /** It can't be looked at with what is at hand. */
        CANNOT,
        /** Nothing is wrong, but this must be known. */
        NOTE
    }
}
