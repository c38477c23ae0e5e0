package duskpeg.core.lot;

import duskpeg.core.lot.LotEvent.Drawn;
import duskpeg.core.lot.LotEvent.Lost;
import duskpeg.core.lot.LotEvent.Packed;
import duskpeg.core.lot.LotEvent.Weighed;
import duskpeg.core.seed.Moisture;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;

/**
 * Where the seed of a lot went: each weighing beside what there should have been by the one before and by what was added
 * and taken since. Water is no loss: where both weighings say their moisture, what should be there is reckoned at the
 * moisture of the later one, by w2 = w1 (100 - m1) / (100 - m2).
 *
 * @param lines in the order of the days
 * @param grams what is there by the last weighing and by what came and went since; null where nothing was weighed. Below 0
 *     where more went out than was there
 * @param overdrawn what went out although so much was not there any more
 */
public record Balance(List<Line> lines, @Nullable Double grams, List<Line> overdrawn) {

    /** Two weighings that differ by so little agree: a share of the weight; ours, no source. */
    static final double TOLERANCE = 0.005;

    /** And at least so many grams. */
    static final double TOLERANCE_GRAMS = 1;

    public Balance {
        lines = List.copyOf(lines);
        overdrawn = List.copyOf(overdrawn);
    }

    /** What a line is. */
    public enum Kind {
        WEIGHED,
        CAME,
        LOST,
        DRAWN,
        PACKED
    }

    /**
     * One line.
     *
     * @param on the day
     * @param kind what it is
     * @param what in a few words
     * @param change grams that came, or went where it is below 0; null for a weighing
     * @param weighed grams that were weighed; null for all else
     * @param expected grams that should have been weighed; null for the first weighing, and for all else
     */
    public record Line(
            LocalDate on,
            Kind kind,
            String what,
            @Nullable Double change,
            @Nullable Double weighed,
            @Nullable Double expected) {

        /** What a weighing is short of, or above where it is below 0, in grams; empty where it agrees. */
        public OptionalDouble unexplained() {
            if (weighed == null || expected == null) {
                return OptionalDouble.empty();
            }
            double missing = expected - weighed;
            return Math.abs(missing) <= Math.max(TOLERANCE_GRAMS, TOLERANCE * expected)
                    ? OptionalDouble.empty()
                    : OptionalDouble.of(missing);
        }
    }

    /**
     * What became of all the seed, in grams.
     *
     * @param packed in packets
     * @param drawn in other lots
     * @param lost lost, with a reason
     * @param there what is there, 0 or more
     * @param water the rest: water that dried off, what nothing explains, and what scales differ by; below 0 where there is
     *     more than came
     */
    public record Whereabouts(double packed, double drawn, double lost, double there, double water) {}

    /** Where the seed is; empty where nothing was weighed and none came from another lot. */
    public Optional<Whereabouts> whereabouts() {
        if (grams == null) {
            return Optional.empty();
        }
        int first = 0;
        while (first < lines.size() && lines.get(first).kind() != Kind.WEIGHED) {
            first++;
        }
        // What came and went before the first weighing is in it.
        List<Line> since = first == lines.size() ? lines : lines.subList(first + 1, lines.size());
        Double weighed = first == lines.size() ? null : lines.get(first).weighed();
        double came = (weighed == null ? 0 : weighed) + sum(since, Kind.CAME);
        double packed = 0 - sum(since, Kind.PACKED);
        double drawn = 0 - sum(since, Kind.DRAWN);
        double lost = 0 - sum(since, Kind.LOST);
        double there = Math.max(0, grams);
        return Optional.of(new Whereabouts(packed, drawn, lost, there, came - packed - drawn - lost - there));
    }

    private static double sum(List<Line> lines, Kind kind) {
        return lines.stream()
                .filter(line -> line.kind() == kind)
                .map(Line::change)
                .filter(Objects::nonNull)
                .mapToDouble(Double::doubleValue)
                .sum();
    }

    /** The weighings that nothing explains. */
    public List<Line> unexplained() {
        return lines.stream().filter(line -> line.unexplained().isPresent()).toList();
    }

    /**
     * The balance of a lot.
     *
     * @param events its standing events and the draws into it, in the order of their days
     */
    static Balance of(LotId lot, List<LotEvent> events) {
        List<Line> lines = new ArrayList<>();
        List<Line> overdrawn = new ArrayList<>();
        Double grams = null;
        Double moisture = null;
        for (LotEvent event : events) {
            if (event instanceof Weighed weighed) {
                Double read = weighed.moisture();
                Double expected = grams == null || read == null || moisture == null
                        ? grams
                        : Double.valueOf(Moisture.weightAt(grams, moisture, read));
                lines.add(new Line(weighed.on(), Kind.WEIGHED, "weighed", null, weighed.grams(), expected));
                grams = weighed.grams();
                moisture = read;
                continue;
            }
            Line line = change(lot, event);
            if (line != null) {
                lines.add(line);
                // What went before the first weighing is not in it.
                Double change = line.change();
                if (change != null && (grams != null || change > 0)) {
                    grams = (grams == null ? 0 : grams) + change;
                }
                if (grams != null && grams < -TOLERANCE_GRAMS) {
                    overdrawn.add(line);
                }
            }
        }
        return new Balance(lines, grams, overdrawn);
    }

    private static @Nullable Line change(LotId lot, LotEvent event) {
        if (event instanceof Lost lost) {
            return new Line(lost.on(), Kind.LOST, lost.why(), -lost.grams(), null, null);
        }
        if (event instanceof Drawn drawn) {
            return drawn.to().equals(lot)
                    ? new Line(drawn.on(), Kind.CAME, "from lot " + drawn.lot().name(), drawn.grams(), null, null)
                    : new Line(drawn.on(), Kind.DRAWN, "to lot " + drawn.to().name(), -drawn.grams(), null, null);
        }
        if (event instanceof Packed packed) {
            int packets = packed.last() - packed.first() + 1;
            return new Line(packed.on(), Kind.PACKED, packets + " packets", -packets * packed.grams(), null, null);
        }
        return null;
    }
}
