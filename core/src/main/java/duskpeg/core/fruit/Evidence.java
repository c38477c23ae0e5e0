package duskpeg.core.fruit;

import duskpeg.core.act.Act;
import duskpeg.core.act.Worded;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

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
     * so are bags that were taken off its row's fruit after it was tied.
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
        Act.only(Act.Unbagged.class, Act.standing(rounds))
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
