package duskpeg.core.moves;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.planting.RowId;
import java.util.List;
import java.util.Set;
import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * The work that is left and the people there are for it.
 *
 * @param parts the work, in parts that one person does each; a long row is several parts
 * @param hands the people
 * @param hoursLeft until the limit; below 0 once it is past
 * @param walk hours it takes from one row to the next
 */
public record Field(List<Part> parts, List<Hand> hands, double hoursLeft, double walk) {

    private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);

    /** How much an even load counts beside the chance of finishing: only between answers that are equally good. */
    private static final double EVEN = 1e-4;

    /** Less than that chance is as good as none; it keeps the worth finite. */
    private static final double NO_CHANCE = 1e-30;

    /** How far work may take longer or shorter than expected, as a share: our own number, no source. */
    private static final double WORK_SPREAD = 0.25;

    /**
     * @throws IllegalArgumentException if there is nobody
     */
    public Field {
        parts = List.copyOf(parts);
        hands = List.copyOf(hands);
        if (hands.isEmpty()) {
            throw new IllegalArgumentException("nobody to work");
        }
    }

    /**
     * Work in a row.
     *
     * @param row the row
     * @param flowers whole flowers' worth of work, above 0
     * @param place where the row is, counted in rows
     */
    public record Part(RowId row, double flowers, int place) {}

    /**
     * Somebody who works.
     *
     * @param worker who
     * @param pace flowers an hour, above 0
     * @param paceSpread how unsure the pace is, as a share of it
     * @param place where she is, counted in rows
     * @param freeIn hours of hers that are lost before the limit, as in a break
     * @param barred rows she may not be sent to
     */
    public record Hand(WorkerId worker, double pace, double paceSpread, int place, double freeIn, Set<RowId> barred) {

        public Hand {
            barred = Set.copyOf(barred);
        }
    }

    /** What one hand has to do, added up part by part. */
    static final class Load {

        private double flowers;
        private double squares;
        private int lowest;
        private int highest;
        private boolean barred;

        Load(Hand hand) {
            lowest = hand.place();
            highest = hand.place();
        }

        void add(Part part, Hand hand) {
            flowers += part.flowers();
            squares += part.flowers() * part.flowers();
            lowest = Math.min(lowest, part.place());
            highest = Math.max(highest, part.place());
            barred |= hand.barred().contains(part.row());
        }
    }

    /** Hours until a hand is through. */
    double hours(Hand hand, Load load) {
        // To the nearer end first, then along all rows to the other.
        int toLowest = hand.place() - load.lowest;
        int toHighest = load.highest - hand.place();
        int rows = toLowest + toHighest + Math.min(toLowest, toHighest);
        return hand.freeIn() + load.flowers / hand.pace() + walk * rows;
    }

    /** The chance that a hand is through by the limit. */
    double chance(Hand hand, Load load) {
        if (load.flowers == 0) {
            return 1;
        }
        if (load.barred) {
            return 0;
        }
        double work = load.flowers / hand.pace();
        double variance = WORK_SPREAD * WORK_SPREAD * load.squares / (hand.pace() * hand.pace())
                + hand.paceSpread() * hand.paceSpread() * work * work;
        double room = hoursLeft - hours(hand, load);
        return NORMAL.cumulativeProbability(room / Math.sqrt(variance));
    }

    /** What a hand's load is worth: the more, the better. The worth of an answer is the sum over all hands. */
    double worth(Hand hand, Load load) {
        double hours = load.flowers == 0 ? 0 : hours(hand, load);
        return Math.log(Math.max(chance(hand, load), NO_CHANCE)) - EVEN * hours * hours - (load.barred ? 1 : 0);
    }
}
