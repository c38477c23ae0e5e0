package duskpeg.projections;

import java.util.Collection;
import java.util.Collections;
import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/**
 * Values that a query looks for, as a table that is joined. Where an index has another column first, H2 finds each of
 * them at once so; through {@code in (…)} it looks at everything that has the first.
 *
 * @param values the values, in order, so that what lies together is read once
 */
public record Wanted(List<String> values) {

    /** Fewer than any database's limit on the values of a query. */
    private static final int AT_ONCE = 500;

    public Wanted {
        values = List.copyOf(values);
    }

    /** As many at once as a query may have. */
    public static Stream<Wanted> of(Collection<String> values) {
        List<String> all = values.stream().sorted().toList();
        return IntStream.iterate(0, from -> from < all.size(), from -> from + AT_ONCE)
                .mapToObj(from -> new Wanted(all.subList(from, Math.min(from + AT_ONCE, all.size()))));
    }

    /** The table; its parameters are the values. */
    public String as(String column) {
        return "(values " + String.join(", ", Collections.nCopies(values.size(), "(cast(? as varchar))")) + ") wanted ("
                + column + ")";
    }

    /** The parameters of a query that begins with the table: the values, and what comes behind it. */
    public List<Object> and(Object... more) {
        return Stream.concat(values.stream(), Stream.of(more)).toList();
    }
}
