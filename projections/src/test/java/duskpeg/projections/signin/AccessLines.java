package duskpeg.projections.signin;

import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;

/** The table's lines as the tests write endpoints. */
public final class AccessLines {

    private AccessLines() {}

    /** Every line, {@code GET /board}. */
    public static Set<String> all() {
        return Access.table().stream()
                .map(line -> line.method() + " " + line.pattern().getPatternString())
                .collect(Collectors.toCollection(TreeSet::new));
    }
}
