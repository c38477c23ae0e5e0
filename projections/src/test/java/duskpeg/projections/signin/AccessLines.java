package duskpeg.projections.signin;

import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** The table's lines as the tests write endpoints. */
public final class AccessLines {

    private AccessLines() {}

    /** Who may ask for an endpoint, {@code GET /board}; {@code anybody} where nobody need be signed in. */
    public static Set<String> roles(String endpoint) {
        return Access.table().stream()
                .filter(line -> (line.method() + " " + line.pattern().getPatternString()).equals(endpoint))
                .flatMap(line -> line.roles().isEmpty()
                        ? Stream.of("anybody")
                        : line.roles().stream().map(AccountRole::word))
                .collect(Collectors.toCollection(TreeSet::new));
    }

    /** The acts before which the password is asked for again. */
    public static List<String> serious() {
        return Access.serious();
    }

    /** Every line, {@code GET /board}. */
    public static Set<String> all() {
        return Access.table().stream()
                .map(line -> line.method() + " " + line.pattern().getPatternString())
                .collect(Collectors.toCollection(TreeSet::new));
    }
}
