package duskpeg.core.moves;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.moves.Field.Hand;
import duskpeg.core.moves.Field.Load;
import duskpeg.core.moves.Field.Part;
import duskpeg.core.planting.RowId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;

/**
 * Who does what.
 *
 * @param field the question
 * @param doneBy for each part, which hand does it
 */
public record Assignment(Field field, List<Integer> doneBy) {

    /**
     * @throws IllegalArgumentException if a part has no hand of that field
     */
    public Assignment {
        doneBy = List.copyOf(doneBy);
        if (doneBy.size() != field.parts().size()
                || doneBy.stream()
                        .anyMatch(hand -> hand < 0 || hand >= field.hands().size())) {
            throw new IllegalArgumentException("not an assignment of that field");
        }
    }

    private List<Load> loads() {
        List<Load> loads = new ArrayList<>();
        field.hands().forEach(hand -> loads.add(new Load(hand)));
        for (int part = 0; part < doneBy.size(); part++) {
            int hand = doneBy.get(part);
            loads.get(hand).add(field.parts().get(part), field.hands().get(hand));
        }
        return loads;
    }

    /** The sum of what the hands' loads are worth. */
    public double worth() {
        List<Load> loads = loads();
        double worth = 0;
        for (int hand = 0; hand < loads.size(); hand++) {
            worth += field.worth(field.hands().get(hand), loads.get(hand));
        }
        return worth;
    }

    /** The chance that all are through by the limit, each on her own. */
    public double chance() {
        List<Load> loads = loads();
        double chance = 1;
        for (int hand = 0; hand < loads.size(); hand++) {
            chance *= field.chance(field.hands().get(hand), loads.get(hand));
        }
        return chance;
    }

    /** The hand whose load is worth least. */
    int worstOff() {
        List<Load> loads = loads();
        return IntStream.range(0, loads.size())
                .boxed()
                .min(Comparator.comparingDouble(
                        hand -> field.worth(field.hands().get(hand), loads.get(hand))))
                .orElseThrow();
    }

    /** The row in which each should go on: the nearest of hers. Who has nothing to do is left out. */
    public Map<WorkerId, RowId> firstRows() {
        Map<WorkerId, RowId> first = new LinkedHashMap<>();
        for (int hand = 0; hand < field.hands().size(); hand++) {
            Hand who = field.hands().get(hand);
            nearest(hand, who.place()).ifPresent(part -> first.put(who.worker(), part.row()));
        }
        return first;
    }

    private Optional<Part> nearest(int hand, int place) {
        List<Part> own = new ArrayList<>();
        for (int part = 0; part < doneBy.size(); part++) {
            if (doneBy.get(part) == hand) {
                own.add(field.parts().get(part));
            }
        }
        return own.stream()
                .min(Comparator.<Part>comparingInt(part -> Math.abs(part.place() - place))
                        .thenComparing(Comparator.comparingDouble(Part::flowers).reversed())
                        .thenComparingInt(Part::place));
    }
}
