package duskpeg.messaging.language;

import duskpeg.core.fruit.TieNumber;

/**
 * A word, a number or a dash of a line.
 *
 * @param kind which of them
 * @param text the word without diacritics, the number in digits 0 to 9, or two numbers with a dot between
 * @param at where it begins in the whole text
 * @param end where it ends, exclusive
 * @param glued whether nothing stands between it and the one before
 * @param plus whether a plus or ampersand stands between it and the one before
 */
record Token(Kind kind, String text, int at, int end, boolean glued, boolean plus) {

    enum Kind {
        WORD,
        NUMBER,
        /** Numbers with a dot between. */
        PLANT,
        DASH
    }

    boolean is(Kind other) {
        return kind == other;
    }

    /** Another word or number in its place. */
    Token as(Kind other, String said) {
        return new Token(other, said, at, end, glued, plus);
    }

    /** Whether it is a number too short for a tie. */
    boolean isShort() {
        return kind == Kind.NUMBER && text.length() < TieNumber.MIN_WIDTH;
    }
}
