package duskpeg.core.fruit;

import duskpeg.core.act.Act;
import duskpeg.core.act.Subject;
import duskpeg.core.act.Worded;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/**
 * An act in the history of a fruit, and how near it comes to that fruit.
 *
 * @param act the act
 * @param grade whether it is about this fruit or about its row that night
 */
public record Evidence(Act act, Grade grade) {

    /** How fine a fact is. */
    public enum Grade implements Worded {
        /** Said of this fruit. */
        FRUIT,
        /** Said of a number of flowers in its row; this one may or may not be among them. */
        ROW;
    }

    /**
     * The history of a fruit, by when things were done.
     *
     * <p>An act on its row's flowers is of grade {@code FRUIT} where it was reported in the same line as the fruit's
     * own tie ({@code 2345 12 6}: those six flowers had all four acts). It is left out where its line names the ties
     * of other fruit only, or another plant than the one it hangs on. All else in the round is of grade {@code ROW}, and
     * so are bags that were taken off its row's fruit after it was tied and before it was cut or brought in.
     *
     * @param fruit the fruit
     * @param rounds the acts of every round in which its tie was put on, and of their rows
     */
    public static List<Evidence> of(Fruit fruit, List<? extends Act> rounds) {
        List<Act.OnFlowers> standing =
                Act.only(Act.OnFlowers.class, Act.standing(rounds)).toList();
        List<Act.Tied> tyings = Act.only(Act.Tied.class, standing).toList();
        List<Evidence> history = new ArrayList<>();
        for (Act.OnFlowers act : standing) {
            List<Act.Tied> sameLine = tyings.stream()
                    .filter(tied -> tied.told().sameLine(act.told()))
                    .toList();
            if (sameLine.stream()
                    .anyMatch(tied -> tied.ties().contains(fruit.id().tie()))) {
                history.add(new Evidence(act, Grade.FRUIT));
            } else if (sameLine.stream().noneMatch(Evidence::isNumbered) && canBeOf(fruit, act)) {
                history.add(new Evidence(act, Grade.ROW));
            }
        }
        Instant gone = Act.only(Act.OnFruit.class, fruit.acts())
                .filter(act -> !(act instanceof Act.Unbagged))
                .map(act -> act.told().done())
                .max(Comparator.naturalOrder())
                .orElse(Instant.MAX);
        Act.only(Act.Unbagged.class, Act.standing(rounds))
                .filter(act -> !act.told().done().isAfter(gone))
                .filter(act -> fruit.tying()
                        .filter(tied -> tied.round().row().equals(act.subject())
                                && !act.told().done().isBefore(tied.told().done()))
                        .isPresent())
                .forEach(act -> history.add(new Evidence(act, Grade.ROW)));
        Act.only(Act.OnFruit.class, fruit.acts()).forEach(act -> history.add(new Evidence(act, Grade.FRUIT)));
        // The sort is stable: acts done at once stay in the order they were said, which is the order of the work.
        history.sort(Comparator.comparing(evidence -> evidence.act().told().done()));
        return List.copyOf(history);
    }

    /**
     * Those of some acts that were known of a fruit at a time: on itself, and on the rounds, and their rows, of which a report
     * that was heard by then says that its tie was put on, be it taken back or not.
     *
     * @param acts acts on the fruit, on rounds and on rows
     * @param at what was heard later is left out
     */
    public static List<Act> known(FruitId fruit, List<? extends Act> acts, Instant at) {
        List<Act> heard = acts.stream()
                .filter(act -> !act.told().heard().isAfter(at))
                .<Act>map(act -> act)
                .toList();
        Set<Subject> subjects = new HashSet<>(Set.of(fruit));
        Act.only(Act.Tied.class, heard)
                .filter(tied -> tied.ties().contains(fruit.tie()))
                .forEach(tied -> {
                    subjects.add(tied.round());
                    subjects.add(tied.round().row());
                });
        return heard.stream().filter(act -> subjects.contains(act.subject())).toList();
    }

    private static boolean canBeOf(Fruit fruit, Act.OnFlowers act) {
        Integer plant = act.plant();
        return plant == null
                || fruit.plant()
                        .filter(own -> own.row().equals(act.round().row()) && own.number() != plant)
                        .isEmpty();
    }

    private static boolean isNumbered(Act.Tied tied) {
        return tied.ties().size() == tied.count();
    }
}
