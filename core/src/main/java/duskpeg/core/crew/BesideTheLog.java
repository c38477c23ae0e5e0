package duskpeg.core.crew;

import java.util.Set;

/** Keeps something of people beside the log, and can erase it. */
public interface BesideTheLog {

    /**
     * Erases what is kept of a worker, for good. Must be called inside a transaction; a second time it changes nothing.
     *
     * @param phones the numbers she is known to have had, in E.164 form; one that somebody else of a farm has now is that
     *     person's there
     */
    void erase(WorkerId worker, Set<String> phones);
}
