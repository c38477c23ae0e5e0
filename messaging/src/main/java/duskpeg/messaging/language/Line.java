package duskpeg.messaging.language;

/**
 * A line of a text and what it was read as.
 *
 * @param number which line it is, from 1; lines with nothing in them are not counted
 * @param at where it begins in the text, as a UTF-16 index
 * @param words the line as it was sent, without its line break
 * @param reading what it was read as
 */
public record Line(int number, int at, String words, Reading reading) {}
