package duskpeg.messaging.language;

import java.util.List;

/**
 * A line of a text and what it was read as.
 *
 * @param number which line it is, from 1; lines with nothing in them are not counted
 * @param at where it begins in the text, as a UTF-16 index
 * @param words the line as it was sent, without its line break
 * @param reading what it was read as
 * @param forgiven the words that had to be taken for others, to read it
 */
public record Line(int number, int at, String words, Reading reading, List<Forgiven> forgiven) {

    public Line {
        forgiven = List.copyOf(forgiven);
    }

    /** A line in which every word was known, or that could not be read. */
    public Line(int number, int at, String words, Reading reading) {
        this(number, at, words, reading, List.of());
    }
}
