package duskpeg.projections.harvest;

import com.fasterxml.jackson.annotation.JsonInclude;
import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Culling rounds as they stand on a day, as shown and as published.
 *
 * @param season the season it is in
 * @param first the interval to the first round, with its source
 * @param repeat the interval between rounds, with its source
 * @param due how many rows are due
 * @param before a day of an earlier season with something to see, where this one has no tied fruit yet
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
record CullView(
        String farm,
        LocalDate day,
        String season,
        String first,
        String repeat,
        int due,
        List<RowLine> rows,
        List<AskedView> asked,
        @Nullable LocalDate before) {

    /**
     * A row with ties.
     *
     * @param tied ties that were put on, by the reports
     * @param onVine of those, neither culled nor brought in
     * @param culled of those, cut
     * @param broughtIn of those, brought in
     * @param cut fruit without a tie that was cut, as counted by row
     * @param lastRound when it was last culled, or looked over with nothing to cut
     * @param lastLooked when anybody was last at its fruit: also bags taken off
     * @param due when the next round is due; none where no tied fruit is on the vine
     * @param next the same in words
     * @param plants how many plants the row has; 0 where that is not known
     * @param loads tied fruit on the vine by plant, where plants were named
     * @param unnamed tied fruit on the vine of which no plant was named
     * @param ties the ties on the vine
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    record RowLine(
            String row,
            @Nullable String planting,
            @Nullable String cultivar,
            LocalDate firstTied,
            int tied,
            int onVine,
            int culled,
            int broughtIn,
            int cut,
            @Nullable LocalDate lastRound,
            @Nullable LocalDate lastLooked,
            @Nullable LocalDate due,
            boolean isDue,
            String next,
            int plants,
            List<Load> loads,
            int unnamed,
            List<String> ties) {}

    /** A plant and how many tied fruit hang on it. */
    record Load(int plant, int fruit) {}

    /** A question about a tie. */
    record AskedView(String tie, @Nullable String row, String kind, String text) {}
}
