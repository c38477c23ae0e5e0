package duskpeg.core.forecast;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.planting.RowId;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * When a morning's work is expected to be finished. Finished means that the last flower is tied, whenever that is
 * reported; so an expected finish may lie before {@code now}, and {@link Finish#byNow()} says how likely that is.
 *
 * @param morning the opening morning
 * @param now when it was made
 * @param whole the whole morning; null where nothing is pegged
 * @param rows every row with something pegged, in the order given
 * @param hands everybody who has reported this morning or is expected
 */
public record Forecast(
        LocalDate morning, Instant now, @Nullable Finish whole, List<RowFinish> rows, List<Hand> hands) {

    public Forecast {
        rows = List.copyOf(rows);
        hands = List.copyOf(hands);
    }

    /**
     * A distribution of finishing times in five numbers.
     *
     * @param p10 with a chance of 10% it is finished by then; null where that is not within sight
     * @param p50 with a chance of 50%; null likewise
     * @param p90 with a chance of 90%; null likewise
     * @param byNow chance of being finished already, so that only the report is missing, 0 to 1; 1 where nothing is left
     * @param byTarget chance of being finished by the target, 0 to 1
     * @param byLimit chance of being finished by the limit, 0 to 1
     */
    public record Finish(
            @Nullable Instant p10,
            @Nullable Instant p50,
            @Nullable Instant p90,
            double byNow,
            double byTarget,
            double byLimit) {}

    /**
     * A row.
     *
     * @param row the row
     * @param left flowers that must still be tied
     * @param units whole flowers' worth of work left, as a flower that is open already needs less; 0 where its crew said
     *     that it is finished
     * @param finish when; all three instants are the last report's where nothing is left, or its crew said that it is
     *     finished
     * @param workers who is taken to be on it now, by their last reports or as asked
     * @param flowersAnHour what they do together in an hour in this row, on average; 0 where nobody is on it
     * @param ease how the work goes here: 1 as in any row, 1.2 if it takes 20% longer
     * @param reports how many reports of this morning that was read from
     */
    public record RowFinish(
            RowId row,
            int left,
            double units,
            Finish finish,
            List<WorkerId> workers,
            double flowersAnHour,
            double ease,
            int reports) {

        public RowFinish {
            workers = List.copyOf(workers);
        }
    }

    /**
     * A worker.
     *
     * @param worker who
     * @param row where she reported from last, or as asked; null where she has not reported this morning
     * @param flowersAnHour what she does in an hour, on average
     * @param paceSpread how unsure that is, as a share of it: a standard deviation
     * @param here chance that she is at work, 0 to 1
     * @param reports how many of her reports of this morning that was read from
     * @param earlier how many of earlier mornings
     */
    public record Hand(
            WorkerId worker,
            @Nullable RowId row,
            double flowersAnHour,
            double paceSpread,
            double here,
            int reports,
            int earlier) {}

    /**
     * How many flowers of the whole morning are expected to be tied by a time.
     *
     * @param at the time
     * @param low fewer than that with a chance of 10%
     * @param middle as likely more as fewer
     * @param high more than that with a chance of 10%
     */
    public record Progress(Instant at, double low, double middle, double high) {}

    /** A row's forecast; empty where nothing is pegged in it. */
    public Optional<RowFinish> row(RowId row) {
        return rows.stream().filter(one -> one.row().equals(row)).findFirst();
    }
}
