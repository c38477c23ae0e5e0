package duskpeg.core.crew;

import duskpeg.core.fruit.TieNumber;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/**
 * A strip, or what is left of one, in a worker's hands.
 *
 * @param strip her ties of it
 * @param next the next number; empty where it is used up
 * @param damaged the ties of it that were reported damaged
 */
public record StripInHand(Strip strip, Optional<TieNumber> next, Set<TieNumber> damaged) {

    public StripInHand {
        damaged = Set.copyOf(damaged);
    }

    /**
     * Finds the next number.
     *
     * @param lastUsed the highest number of it that was put on; empty where none was
     */
    public static StripInHand of(Strip strip, Optional<TieNumber> lastUsed, Set<TieNumber> damaged) {
        Stream<TieNumber> unused = lastUsed.isEmpty()
                ? strip.ties()
                : lastUsed.filter(tie -> tie.compareTo(strip.last()) < 0).stream()
                        .map(tie -> strip.numbering().after(tie, 1))
                        .flatMap(first -> strip.from(first).ties());
        return new StripInHand(
                strip, unused.filter(tie -> !damaged.contains(tie)).findFirst(), damaged);
    }

    /** The ties that can still be put on, in order. */
    public Stream<TieNumber> unused() {
        return next.stream().flatMap(first -> strip.from(first).ties()).filter(tie -> !damaged.contains(tie));
    }

    /** What is left of it, from its next number on; empty where it is used up. */
    public Optional<Strip> left() {
        return next.map(strip::from);
    }
}
