package duskpeg.messaging.language;

/**
 * What counts of the line behind its acts.
 *
 * @param kind what it is
 * @param token the word or number
 * @param last the number a range ends with; elsewhere the token again
 */
record Item(Kind kind, Token token, Token last) {

    enum Kind {
        /** A number too short for a tie. */
        NUMBER,
        /** A tie number, or a range of them. */
        TIES,
        ROW_WORD,
        PLANT_WORD,
        /** A plant whose males were used. */
        SIRE,
        COUNT_WORD,
        MALES_WORD,
        TIE_WORD
    }

    Item(Kind kind, Token token) {
        this(kind, token, token);
    }

    boolean is(Kind other) {
        return kind == other;
    }

    boolean isRange() {
        return !token.equals(last);
    }
}
