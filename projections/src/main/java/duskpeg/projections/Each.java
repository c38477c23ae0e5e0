package duskpeg.projections;

import java.io.IOException;

/**
 * Something that is done with each, where they are too many to be had at once.
 *
 * @param <T> what they are
 */
@FunctionalInterface
public interface Each<T> {

    /**
     * Takes the next.
     *
     * @throws IOException if it can't be written where it goes
     */
    void take(T one) throws IOException;
}
