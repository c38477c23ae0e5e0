package duskpeg.core.crew;

import duskpeg.core.fruit.Numbering;
import duskpeg.core.fruit.TieNumber;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * A strip of ties numbered one after the other, or a part of one.
 *
 * @param first the first number
 * @param last the last number, of the same width and not before the first
 * @param numbering how its numbers follow each other; strips stored before there was a word on it are plain
 */
public record Strip(TieNumber first, TieNumber last, Numbering numbering) {

    private static final int RADIX = 10;

    /**
     * @throws IllegalArgumentException if the widths differ, the last comes before the first, or one of them has a
     *     wrong check digit
     */
    public Strip(TieNumber first, TieNumber last, @Nullable Numbering numbering) {
        this.first = first;
        this.last = last;
        this.numbering = numbering == null ? Numbering.PLAIN : numbering;
        if (first.digits().length() != last.digits().length() || first.compareTo(last) > 0) {
            throw new IllegalArgumentException("not a strip: " + first + "-" + last);
        }
        if (!this.numbering.has(first) || !this.numbering.has(last)) {
            throw new IllegalArgumentException("wrong check digit: " + first + "-" + last);
        }
    }

    /** A strip of plain numbers, as they are bought. */
    public Strip(TieNumber first, TieNumber last) {
        this(first, last, Numbering.PLAIN);
    }

    /** The numbers on the strip, in order. */
    public Stream<TieNumber> ties() {
        return IntStream.range(0, size()).mapToObj(steps -> numbering.after(first, steps));
    }

    /** How many ties it has. */
    public int size() {
        return numbering.serial(last) - numbering.serial(first) + 1;
    }

    /** Whether that tie is on it. */
    public boolean has(TieNumber tie) {
        return spans(tie) && numbering.has(tie);
    }

    /** Whether that number lies on it, be its check digit right or wrong. */
    public boolean spans(TieNumber tie) {
        return tie.digits().length() == first.digits().length()
                && tie.compareTo(spanFirst()) >= 0
                && tie.compareTo(spanLast()) <= 0;
    }

    /** Whether a number can lie on both. */
    public boolean overlaps(Strip other) {
        return spanFirst().compareTo(other.spanLast()) <= 0 && spanLast().compareTo(other.spanFirst()) >= 0;
    }

    /** The lowest number that could be misread for one of its ties. */
    public TieNumber spanFirst() {
        return numbering == Numbering.PLAIN ? first : withLastDigit(first, 0);
    }

    /** The highest number that could be misread for one of its ties. */
    public TieNumber spanLast() {
        return numbering == Numbering.PLAIN ? last : withLastDigit(last, RADIX - 1);
    }

    private static TieNumber withLastDigit(TieNumber tie, int digit) {
        return TieNumber.of(
                (long) tie.value() / RADIX * RADIX + digit, tie.digits().length());
    }

    /** Its part from that tie on. */
    Strip from(TieNumber tie) {
        return new Strip(tie, last, numbering);
    }

    /** Its part up to that tie. */
    Strip upTo(TieNumber tie) {
        return new Strip(first, tie, numbering);
    }

    /** As people write it: {@code 004700-004749}, or the number alone where it has one tie. */
    @Override
    public String toString() {
        return first.equals(last) ? first.digits() : first + "-" + last;
    }
}
