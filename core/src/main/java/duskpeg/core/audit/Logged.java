package duskpeg.core.audit;

import duskpeg.core.act.FieldEvent;

/**
 * An event of the log.
 *
 * @param leaf which leaf of its farm's tree it is, from 0
 * @param id its id
 * @param stream the stream it is stored in, named after its subject
 * @param sequence its number in that stream, from 0
 * @param event what it says
 */
public record Logged(long leaf, String id, String stream, long sequence, FieldEvent event) {

    /** Reads leaves, which are JSON. */
    @FunctionalInterface
    public interface Reader {

        /**
         * Reads a leaf.
         *
         * @param leaf which leaf it is
         * @param text its text
         * @throws IllegalArgumentException if it is no event
         */
        Logged read(long leaf, String text);
    }
}
