package duskpeg.core.fruit;

import java.util.Locale;

/**
 * The number on a cable tie: fixed-width text, because leading zeros count.
 *
 * @param digits four to nine digits; a farm uses one width only
 */
public record TieNumber(String digits) implements Comparable<TieNumber> {

    /** Fewest digits a tie number may have, so that it can't be taken for a row or a count (at most three). */
    public static final int MIN_WIDTH = 4;

    /** Most digits a tie number may have. */
    public static final int MAX_WIDTH = 9;

    /**
     * @throws IllegalArgumentException if there are other characters than 0-9, or too few or too many
     */
    public TieNumber {
        if (!digits.matches("[0-9]{" + MIN_WIDTH + "," + MAX_WIDTH + "}")) {
            throw new IllegalArgumentException("not a tie number: " + digits);
        }
    }

    /**
     * The tie number of the given value, padded with zeros to the width.
     *
     * @throws IllegalArgumentException if the width has no room for the value
     */
    public static TieNumber of(long value, int width) {
        String digits = String.format(Locale.ROOT, "%0" + width + "d", value);
        if (value < 0 || digits.length() > width) {
            throw new IllegalArgumentException("no tie number of " + width + " digits: " + value);
        }
        return new TieNumber(digits);
    }

    /** The number as a value. How values follow each other along a strip is its {@link Numbering}'s to say. */
    public int value() {
        return Integer.parseInt(digits);
    }

    @Override
    public int compareTo(TieNumber other) {
        return digits.compareTo(other.digits);
    }

    @Override
    public String toString() {
        return digits;
    }
}
