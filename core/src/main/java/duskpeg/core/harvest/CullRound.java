package duskpeg.core.harvest;

import duskpeg.core.act.Worded;
import duskpeg.core.published.Figures;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import org.jspecify.annotations.Nullable;

/**
 * The next round through a row in which fruit without a tie is cut, so that its plants feed the tied.
 *
 * @param kind whether it is the row's first
 * @param since from when its days are counted: the row's first tied morning, or the last round
 * @param interval the row of the table that it goes by
 */
public record CullRound(Kind kind, LocalDate since, Row interval) {

    /** Which round it is. */
    public enum Kind implements Worded {
        FIRST,
        REPEAT
    }

    /**
     * How it stands on a day.
     *
     * @param due whether it is due
     * @param days days until it is due; below 0, how many it is overdue
     * @param sentence it, in plain English
     */
    public record Standing(boolean due, int days, String sentence) {}

    /**
     * The next round of a row with tied fruit on the vine.
     *
     * @param firstTied the first morning on which something was tied in it
     * @param lastRound when it was last culled or looked over; null where it never was
     */
    public static CullRound next(LocalDate firstTied, @Nullable LocalDate lastRound, Published published) {
        return lastRound == null
                ? new CullRound(Kind.FIRST, firstTied, published.get(Table.CULLING, "first"))
                : new CullRound(Kind.REPEAT, lastRound, published.get(Table.CULLING, "repeat"));
    }

    /** The day on which it is due. */
    public LocalDate due() {
        return since.plusDays(interval.number().intValueExact());
    }

    /** How it stands on that day. */
    public Standing on(LocalDate day) {
        int days = Math.toIntExact(ChronoUnit.DAYS.between(day, due()));
        String round = kind == Kind.FIRST ? "First round" : "Next round";
        String when = days > 0
                ? " on " + due() + ", in " + Figures.count(days, "day")
                : days == 0 ? " due today" : " due since " + due() + ", " + Figures.count(-days, "day") + " ago";
        return new Standing(days <= 0, days, round + when + ".");
    }
}
