package duskpeg.core.crew;

import duskpeg.core.fruit.TieNumber;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/**
 * A strip of consecutively numbered ties, as handed to one worker.
 *
 * @param first the first number
 * @param last the last number, of the same width and not before the first
 */
public record Strip(TieNumber first, TieNumber last) {

    /**
     * @throws IllegalArgumentException if the widths differ or the last comes before the first
     */
    public Strip {
        if (first.digits().length() != last.digits().length() || first.compareTo(last) > 0) {
            throw new IllegalArgumentException("not a strip: " + first + "-" + last);
        }
    }

    /** The numbers on the strip, in order. */
    public Stream<TieNumber> ties() {
        return IntStream.rangeClosed(0, last.value() - first.value()).mapToObj(first::plus);
    }
}
