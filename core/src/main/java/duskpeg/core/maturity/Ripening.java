package duskpeg.core.maturity;

import duskpeg.core.act.Worded;
import duskpeg.core.planting.Species;
import duskpeg.core.published.Figures;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;

/**
 * When a fruit is expected to be ripe, by its species and the day it was pollinated.
 *
 * @param species its species
 * @param pollinated the day it was pollinated
 * @param warnUnder the row of the days under which a harvest is warned of
 * @param readyFrom the row of the days from which it is ready
 * @param readyTo the row of the days by which it should be
 */
public record Ripening(Species species, LocalDate pollinated, Row warnUnder, Row readyFrom, Row readyTo) {

    /** How ripe a fruit is expected to be. */
    public enum Stage implements Worded {
        /** A harvest would be warned of. */
        TOO_EARLY,
        /** Not ready yet, but no longer warned of. */
        RIPENING,
        /** Some are ready, not all. */
        READY_FROM_NOW,
        /** Should be ready. */
        READY
    }

    /**
     * How a fruit stands on a day.
     *
     * @param stage how ripe it is expected to be
     * @param age days since it was pollinated
     * @param daysLeft days until it is ready; 0 where it is
     * @param row the row that decided it
     * @param sentence it, in plain English
     */
    public record Standing(Stage stage, int age, int daysLeft, Row row, String sentence) {}

    /** What is expected of a fruit by these tables. */
    public static Ripening of(Species species, LocalDate pollinated, Published published) {
        return new Ripening(
                species,
                pollinated,
                published.get(Table.MATURITY, Table.word(species), "warn-under"),
                published.get(Table.MATURITY, Table.word(species), "ready-from"),
                published.get(Table.MATURITY, Table.word(species), "ready-to"));
    }

    /** The first day on which a harvest is not warned of. */
    public LocalDate warnUntil() {
        return after(warnUnder);
    }

    /** The day from which it is ready. */
    public LocalDate ready() {
        return after(readyFrom);
    }

    /** The day by which it should be ready. */
    public LocalDate surely() {
        return after(readyTo);
    }

    private LocalDate after(Row row) {
        return pollinated.plusDays(days(row));
    }

    private static int days(Row row) {
        return row.number().intValueExact();
    }

    /**
     * How it stands on that day.
     *
     * @throws IllegalArgumentException if it was not pollinated yet
     */
    public Standing on(LocalDate day) {
        int age = Math.toIntExact(ChronoUnit.DAYS.between(pollinated, day));
        if (age < 0) {
            throw new IllegalArgumentException("pollinated on " + pollinated + ", after " + day);
        }
        int left = Math.max(0, days(readyFrom) - age);
        String pollinatedAgo = "Pollinated " + Figures.count(age, "day") + " ago, on " + pollinated + ": ";
        String look = " An estimate: look at the fruit.";
        if (age < days(warnUnder)) {
            return new Standing(
                    Stage.TOO_EARLY,
                    age,
                    left,
                    warnUnder,
                    pollinatedAgo + "too early to harvest, under " + warnUnder.cited() + "; ready from " + ready()
                            + ", in " + Figures.count(left, "day") + "." + look);
        }
        if (left > 0) {
            return new Standing(
                    Stage.RIPENING,
                    age,
                    left,
                    readyFrom,
                    pollinatedAgo + "ready from " + ready() + ", in " + Figures.count(left, "day") + ", at "
                            + readyFrom.cited() + "." + look);
        }
        if (age < days(readyTo)) {
            return new Standing(
                    Stage.READY_FROM_NOW,
                    age,
                    0,
                    readyTo,
                    pollinatedAgo + "ready from " + ready() + " on, and by " + surely() + " at the latest, at "
                            + readyTo.cited() + "." + look);
        }
        return new Standing(
                Stage.READY, age, 0, readyTo, pollinatedAgo + "should be ready, at " + readyTo.cited() + "." + look);
    }
}
