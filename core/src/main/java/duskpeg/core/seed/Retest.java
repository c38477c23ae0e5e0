package duskpeg.core.seed;

import duskpeg.core.published.Figures;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;

/**
 * When seed must be tested again, by a rule of the farm's own. What the law asks for differs by place and container.
 *
 * @param tested the day of the test
 * @param months how long a test holds
 */
public record Retest(LocalDate tested, int months) {

    /**
     * @throws IllegalArgumentException if a test holds for less than a month
     */
    public Retest {
        if (months < 1) {
            throw new IllegalArgumentException("a test holds for " + months + " months");
        }
    }

    /** The last day on which the test holds; the last of the month where that month has no such day. */
    public LocalDate due() {
        return tested.plusMonths(months);
    }

    /** Whether the test holds no more on that day. */
    public boolean isOver(LocalDate day) {
        return day.isAfter(due());
    }

    /** How it stands on that day, in plain English. */
    public String on(LocalDate day) {
        long left = ChronoUnit.DAYS.between(day, due());
        return "Tested on " + tested + ", which holds for " + Figures.count(months, "month")
                + " (the farm's own rule): "
                + (isOver(day)
                        ? "test again, " + Figures.count(-left, "day") + " over."
                        : Figures.count(left, "day") + " to go until " + due() + ".");
    }
}
