package duskpeg.core.csv;

import java.util.List;
import java.util.stream.Collectors;

/**
 * What became of a text that was brought along. Either every row was taken or none.
 *
 * @param <T> what a row says
 */
public sealed interface Import<T> {

    /**
     * Everything was read.
     *
     * @param rows what the rows say, in their order
     */
    record Taken<T>(List<T> rows) implements Import<T> {

        public Taken {
            rows = List.copyOf(rows);
        }
    }

    /**
     * Something could not be read, so nothing was taken.
     *
     * @param problems every problem that was found, by line
     */
    record Refused<T>(List<Problem> problems) implements Import<T> {

        public Refused {
            problems = List.copyOf(problems);
        }
    }

    /**
     * What is wrong with a line.
     *
     * @param line its number, from 1, the header's included
     * @param what what is wrong with it, in plain English
     */
    record Problem(int line, String what) {

        @Override
        public String toString() {
            return "line " + line + ": " + what;
        }
    }

    /**
     * The rows.
     *
     * @param name what the text is called in the message
     * @throws IllegalArgumentException if it was refused; the message has every problem with its line
     */
    default List<T> orThrow(String name) {
        if (this instanceof Refused<T> refused) {
            throw new IllegalArgumentException(refused.problems().stream()
                    .map(problem -> name + " " + problem)
                    .collect(Collectors.joining("; ")));
        }
        return ((Taken<T>) this).rows();
    }
}
