package duskpeg.core.seed;

import duskpeg.core.published.Figures;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import java.time.LocalDate;
import java.time.YearMonth;
import java.time.temporal.ChronoUnit;

/**
 * When seed must be tested again. What the law asks for differs by place and container; the farm puts its own months in
 * the table.
 *
 * @param tested the day on which the test was completed
 * @param row how many months it holds
 */
public record Retest(LocalDate tested, Row row) {

    /**
     * @throws IllegalArgumentException if it is a row of another table
     */
    public Retest {
        if (row.table() != Table.RETEST) {
            throw new IllegalArgumentException("no months: " + row.table().word());
        }
    }

    /**
     * For a container.
     *
     * @param container {@code open} or {@code sealed}
     * @throws IllegalArgumentException if there is no such container
     */
    public static Retest of(LocalDate tested, String container, Published published) {
        return new Retest(tested, published.get(Table.RETEST, container));
    }

    /** The last day on which the test holds: its months are counted from the end of the month of the test. */
    public LocalDate due() {
        return YearMonth.from(tested).plusMonths(row.number().longValueExact()).atEndOfMonth();
    }

    /** Whether the test holds no more on that day. */
    public boolean isOver(LocalDate day) {
        return day.isAfter(due());
    }

    /** How it stands on that day, in plain English. */
    public String on(LocalDate day) {
        return "Tested on " + tested + "; in " + (row.id().equals("open") ? "an open" : "a sealed")
                + " container that holds for " + row.cited() + ", counted from the end of its month: "
                + (isOver(day)
                        ? "test again, it held until " + due() + "."
                        : "until " + due() + ", " + Figures.count(ChronoUnit.DAYS.between(day, due()), "day")
                                + " to go.");
    }
}
