package duskpeg.messaging.language;

/** Why a line could not be read. */
public enum Problem {
    /** The text has nothing in it that could be read. */
    EMPTY,
    /** The line does not begin with an act. */
    NO_ACT,
    /** Acts that cannot be told in one line, as {@code 12 6}, which begins with the acts 1 and 2. */
    MIXED_ACTS,
    /** The row is missing. */
    NO_ROW,
    /** The count is missing. */
    NO_COUNT,
    /** A word that is not known or has no place here. */
    NOT_A_NUMBER,
    /** A number with more digits than the farm's ties have, or a tie number where a row or a count must be. */
    TOO_LONG,
    /** The count is not the number of ties named. */
    COUNT_AND_TIES_DIFFER,
    /** A range that does not rise, has an end that is no tie number, or is too long. */
    BAD_RANGE,
    /** The same tie twice in one line. */
    TIE_TWICE,
    /** A number that could be more than one of row, count and tie. */
    UNCLEAR,
    /** Something is left over. */
    TOO_MUCH,
    /** A plant's name, as {@code 12.7}, where there can be none, or that is none. */
    PLANT,
    /** Row or count 0. */
    ZERO,
    /** The last digit of a printed tag's number does not check the others. */
    CHECK_DIGIT,
    /** The ties are missing. */
    NO_TIE,
    /** The person is missing. */
    NO_NAME,
    /** Words of a time that are none, or that are not at the end. */
    BAD_TIME
}
