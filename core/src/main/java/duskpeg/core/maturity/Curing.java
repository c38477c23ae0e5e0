package duskpeg.core.maturity;

import duskpeg.core.planting.Species;
import duskpeg.core.published.Figures;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;

/**
 * Fruit that is held after the harvest before its seed is taken out.
 *
 * @param species its species
 * @param started the day it was laid up
 * @param least the row of the least weeks
 * @param most the row of the most weeks
 */
public record Curing(Species species, LocalDate started, Row least, Row most) {

    /**
     * How it stands on a day.
     *
     * @param ready whether the least weeks are over
     * @param daysLeft days until they are; 0 where they are
     * @param late whether the most weeks are over
     * @param sentence it, in plain English
     */
    public record Standing(boolean ready, int daysLeft, boolean late, String sentence) {}

    /** How long fruit of a species is held by these tables. */
    public static Curing of(Species species, LocalDate started, Published published) {
        return new Curing(
                species,
                started,
                published.get(Table.CURING, Table.word(species), "least"),
                published.get(Table.CURING, Table.word(species), "most"));
    }

    /** The day from which the seed may be taken out. */
    public LocalDate ready() {
        return started.plusWeeks(least.number().intValueExact());
    }

    /** The last day on which it should be. */
    public LocalDate last() {
        return started.plusWeeks(most.number().intValueExact());
    }

    /**
     * How it stands on that day.
     *
     * @throws IllegalArgumentException if it was not laid up yet
     */
    public Standing on(LocalDate day) {
        if (day.isBefore(started)) {
            throw new IllegalArgumentException("laid up on " + started + ", after " + day);
        }
        int left = Math.max(0, Math.toIntExact(ChronoUnit.DAYS.between(day, ready())));
        boolean late = day.isAfter(last());
        String sentence;
        if (late) {
            sentence = "Held since " + started + ", longer than " + most.cited() + ": look for rot and sprouted seed.";
        } else if (left > 0) {
            sentence = "Held since " + started + ", " + Figures.count(left, "day") + " to go until " + ready() + ", at "
                    + least.cited() + ".";
        } else {
            sentence = "Held since " + started + ", ready since " + ready() + ", at " + least.cited()
                    + "; not longer than " + last() + ", at " + most.cited() + ".";
        }
        return new Standing(left == 0, left, late, sentence);
    }
}
