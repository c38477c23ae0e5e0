package duskpeg.core.moves;

import duskpeg.core.moves.Field.Hand;
import duskpeg.core.moves.Field.Load;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;

/** Finds who should do what: exactly where there are few parts, by {@link Search} where there are many. */
public final class Mover {

    /** So many parts are assigned exactly: 3^n steps for each hand. */
    public static final int EXACT = 10;

    private Mover() {}

    /** The best assignment that is found. */
    public static Assignment best(Field field) {
        return field.parts().size() <= EXACT ? exact(field) : polished(Search.from(oneByOne(field)));
    }

    /** As long as it helps, shares the work of the hand that is worst off and of one other anew, exactly. */
    static Assignment polished(Assignment start) {
        Assignment best = start;
        for (int round = 0; round < start.field().hands().size(); round++) {
            int worst = best.worstOff();
            Assignment better = best;
            for (int other = 0; other < best.field().hands().size(); other++) {
                if (other != worst) {
                    Assignment shared = shared(best, worst, other);
                    better = shared.worth() > better.worth() ? shared : better;
                }
            }
            if (better.worth() <= best.worth()) {
                return best;
            }
            best = better;
        }
        return best;
    }

    private static Assignment shared(Assignment all, int one, int other) {
        List<Integer> parts = IntStream.range(0, all.doneBy().size())
                .filter(part -> all.doneBy().get(part) == one || all.doneBy().get(part) == other)
                .boxed()
                .toList();
        if (parts.size() > EXACT) {
            return all;
        }
        Field field = all.field();
        Assignment two = exact(new Field(
                parts.stream().map(field.parts()::get).toList(),
                List.of(field.hands().get(one), field.hands().get(other)),
                field.hoursLeft(),
                field.walk()));
        List<Integer> doneBy = new ArrayList<>(all.doneBy());
        for (int i = 0; i < parts.size(); i++) {
            doneBy.set(parts.get(i), two.doneBy().get(i) == 0 ? one : other);
        }
        return new Assignment(field, doneBy);
    }

    /**
     * The best of all: for each hand in turn, every set of parts that she might take of every set that those so far
     * might do together.
     */
    static Assignment exact(Field field) {
        int parts = field.parts().size();
        int sets = 1 << parts;
        int hands = field.hands().size();
        int[][] taken = new int[hands][sets];
        // The first does whatever is left to her, and of the last only the whole is asked.
        double[] best = worths(field, field.hands().get(0));
        Arrays.setAll(taken[0], set -> set);
        for (int hand = 1; hand < hands; hand++) {
            double[] worth = worths(field, field.hands().get(hand));
            double[] with = new double[sets];
            for (int set = hand == hands - 1 ? sets - 1 : 0; set < sets; set++) {
                double most = Double.NEGATIVE_INFINITY;
                for (int own = set; ; own = (own - 1) & set) {
                    double together = best[set ^ own] + worth[own];
                    if (together > most) {
                        most = together;
                        taken[hand][set] = own;
                    }
                    if (own == 0) {
                        break;
                    }
                }
                with[set] = most;
            }
            best = with;
        }
        Integer[] doneBy = new Integer[parts];
        int set = sets - 1;
        for (int hand = hands - 1; hand >= 0; hand--) {
            int own = taken[hand][set];
            for (int part = 0; part < parts; part++) {
                if ((own & (1 << part)) != 0) {
                    doneBy[part] = hand;
                }
            }
            set ^= own;
        }
        return new Assignment(field, List.of(doneBy));
    }

    private static double[] worths(Field field, Hand hand) {
        double[] worths = new double[1 << field.parts().size()];
        for (int set = 0; set < worths.length; set++) {
            Load load = new Load(hand);
            for (int part = 0; part < field.parts().size(); part++) {
                if ((set & (1 << part)) != 0) {
                    load.add(field.parts().get(part), hand);
                }
            }
            worths[set] = field.worth(hand, load);
        }
        return worths;
    }

    /** A fair beginning: the largest parts first, each to whoever would be through first with it. */
    static Assignment oneByOne(Field field) {
        List<List<Integer>> own = new ArrayList<>();
        field.hands().forEach(hand -> own.add(new ArrayList<>()));
        Integer[] doneBy = new Integer[field.parts().size()];
        IntStream.range(0, doneBy.length)
                .boxed()
                .sorted(Comparator.comparingDouble(
                                (Integer part) -> field.parts().get(part).flowers())
                        .reversed())
                .forEach(part -> {
                    int hand = soonest(field, own, part);
                    own.get(hand).add(part);
                    doneBy[part] = hand;
                });
        return new Assignment(field, List.of(doneBy));
    }

    private static int soonest(Field field, List<List<Integer>> own, int part) {
        int soonest = 0;
        double least = Double.POSITIVE_INFINITY;
        for (int i = 0; i < own.size(); i++) {
            Hand hand = field.hands().get(i);
            if (hand.barred().contains(field.parts().get(part).row())) {
                continue;
            }
            Load load = new Load(hand);
            own.get(i).forEach(one -> load.add(field.parts().get(one), hand));
            load.add(field.parts().get(part), hand);
            double hours = field.hours(hand, load);
            if (hours < least) {
                least = hours;
                soonest = i;
            }
        }
        return soonest;
    }
}
