package duskpeg.core.seed;

import duskpeg.core.published.Figures;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;

/**
 * Seed that is being dried.
 *
 * @param readings what was read, in the order of time
 * @param limit the row of the moisture that it must not be over
 * @param reached whether the last reading is at the limit or under it
 * @param rose whether any reading is higher than the one before it
 * @param sentence it, in plain English
 */
public record Drying(List<Reading> readings, Row limit, boolean reached, boolean rose, String sentence) {

    public Drying {
        readings = List.copyOf(readings);
    }

    /**
     * A reading.
     *
     * @param at when
     * @param percent moisture, wet basis, 0 to under 100
     */
    public record Reading(Instant at, double percent) {

        /**
         * @throws IllegalArgumentException if the moisture is not from 0 to under 100
         */
        public Reading {
            if (!(percent >= 0 && percent < 100)) {
                throw new IllegalArgumentException("moisture " + percent + "%");
            }
        }

        /**
         * A reading by weight alone.
         *
         * @param startGrams what the same seed weighed
         * @param startPercent its moisture then, wet basis
         * @param grams what it weighs
         * @throws IllegalArgumentException if it weighs less than its dry matter
         */
        public static Reading weighed(Instant at, double startGrams, double startPercent, double grams) {
            return new Reading(at, Moisture.percentAt(startGrams, startPercent, grams));
        }
    }

    /**
     * How far it has come.
     *
     * @param readings in any order
     * @param limit a row of {@link Table#SEED_MOISTURE}
     * @throws IllegalArgumentException if there are no readings, or the row is of another table
     */
    public static Drying of(List<Reading> readings, Row limit) {
        if (readings.isEmpty()) {
            throw new IllegalArgumentException("no readings");
        }
        if (limit.table() != Table.SEED_MOISTURE) {
            throw new IllegalArgumentException(
                    "no limit of moisture: " + limit.table().word());
        }
        List<Reading> inTime =
                readings.stream().sorted(Comparator.comparing(Reading::at)).toList();
        boolean rose = false;
        for (int i = 1; i < inTime.size(); i++) {
            rose |= inTime.get(i).percent() > inTime.get(i - 1).percent();
        }
        double last = inTime.get(inTime.size() - 1).percent();
        boolean reached = last <= limit.number().doubleValue();
        return new Drying(
                inTime,
                limit,
                reached,
                rose,
                "Last read at " + Figures.plain(last, 1) + "% moisture, wet basis: "
                        + (reached ? "dry enough, not over " : "not dry enough, over ") + limit.cited() + "."
                        + (rose ? " It rose between readings: seed takes up water again where the air is damp." : ""));
    }
}
