package duskpeg.messaging.language;

import duskpeg.core.report.Statement;
import duskpeg.core.report.When;

/** What a line was read as. Offsets are UTF-16 indexes into the whole text. */
public sealed interface Reading {

    /**
     * Something was done.
     *
     * @param statement what
     * @param when when, as it says
     * @param at where it begins
     * @param end where it ends, exclusive
     */
    record Said(Statement statement, When when, int at, int end) implements Reading {}

    /**
     * Something was asked.
     *
     * @param ask what
     */
    record Asked(Ask ask) implements Reading {}

    /**
     * Something was said or asked of ties before they are put on.
     *
     * @param line what
     */
    record OfStrip(StripLine line) implements Reading {}

    /**
     * The line could not be read.
     *
     * @param problem why
     * @param at where the word stands that could not be read, or where something is missing
     * @param word that word as it was sent; empty where something is missing
     */
    record Unread(Problem problem, int at, String word) implements Reading {}
}
