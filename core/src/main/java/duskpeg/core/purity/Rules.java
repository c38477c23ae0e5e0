package duskpeg.core.purity;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * A set of rules.
 *
 * @param version its name, kept forever
 * @param since the first opening morning that is judged by it
 * @param rules the rules, in the order of the work
 */
public record Rules(String version, LocalDate since, List<Rule> rules) {

    /** Every set there ever was, oldest first. A set is never changed; a new one is added behind it. */
    public static final List<Rules> ALL = List.of(
            new Rules(
                    "1",
                    LocalDate.EPOCH,
                    Arrays.stream(Rule.values())
                            .filter(rule -> rule != Rule.NEIGHBOURS_FAR_OR_BAGGED)
                            .toList()),
            new Rules("2", LocalDate.of(2026, 12, 1), List.of(Rule.values())));

    public Rules {
        rules = List.copyOf(rules);
    }

    /** The set of that version. */
    public static Optional<Rules> of(String version) {
        return ALL.stream().filter(rules -> rules.version().equals(version)).findFirst();
    }

    /** The set of that day. */
    public static Rules on(LocalDate day) {
        return ALL.stream()
                .filter(rules -> !rules.since().isAfter(day))
                .max(Comparator.comparing(Rules::since))
                .orElse(ALL.get(0));
    }

    /** The set of today: the last. */
    public static Rules latest() {
        return ALL.get(ALL.size() - 1);
    }

    /** Judges a case. */
    public Verdict judge(Case fruit) {
        return Verdict.of(version, rules.stream().map(rule -> rule.look(fruit)).toList());
    }
}
