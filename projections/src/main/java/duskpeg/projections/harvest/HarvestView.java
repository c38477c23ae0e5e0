package duskpeg.projections.harvest;

import com.fasterxml.jackson.annotation.JsonInclude;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The harvest of a day, as shown and as published. Days are counted from the morning of pollination.
 *
 * @param ready fruit on the vine that are ready
 * @param over of which the days by which they should be in are over
 * @param ripening no longer too early, and not ready yet
 * @param tooEarly of which a harvest would be warned
 * @param tables the maturity figures of the species that are on the vine, with their sources
 * @param withoutTie fruit brought in that day as counted by row: not seed
 * @param withoutTieAll the same of the whole season until that day
 * @param temperatureDays days of the season of which temperatures were entered
 * @param before a day of an earlier season with something to see, where this one has no tied fruit yet
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
record HarvestView(
        String farm,
        LocalDate day,
        String season,
        int ready,
        int over,
        int ripening,
        int tooEarly,
        List<String> tables,
        List<RowLine> rows,
        List<InLine> broughtIn,
        List<CountLine> withoutTie,
        int withoutTieAll,
        List<CureLine> curing,
        int temperatureDays,
        @Nullable LocalDate before) {

    /** A row with fruit on the vine. */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    record RowLine(
            String row,
            @Nullable String planting,
            @Nullable String cultivar,
            @Nullable String species,
            List<Group> groups) {}

    /**
     * Fruit of a row that were pollinated on one morning.
     *
     * @param age days since
     * @param stage too early, ripening, ready or over; left out where the species is not known
     * @param readyFrom the day from which they are ready
     * @param readyBy the day by which they should be in
     * @param sentence the same in words
     * @param ties those on the vine
     * @param degreeDays what was added up from that morning to the day; none where no temperatures were entered
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    record Group(
            LocalDate morning,
            int age,
            @Nullable String stage,
            @Nullable LocalDate readyFrom,
            @Nullable LocalDate readyBy,
            String sentence,
            List<String> ties,
            @Nullable Warmth degreeDays) {}

    /**
     * Degree-days Celsius, by four ways to reckon them.
     *
     * @param days of so many days
     * @param missing of so many of them nothing is known, and they count for nothing
     */
    record Warmth(double simple, double clipped, double sine, double sineCutOff, int days, int missing) {}

    /**
     * A fruit that was brought in that day.
     *
     * @param age days since its pollination; left out where its tying was never reported
     * @param early whether that is under the days below which a harvest is warned of
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    record InLine(
            String tie,
            @Nullable String row,
            @Nullable String cultivar,
            @Nullable Integer age,
            boolean early,
            OffsetDateTime at,
            String by) {}

    /** Fruit without a tie number. */
    record CountLine(String row, int count, OffsetDateTime at, String by) {}

    /**
     * Fruit that were brought in on one day, and are held before their seed is taken out.
     *
     * @param fruit how many
     * @param lot the lot they were taken into; left out where they are in none
     * @param place where they are held, as entered of the lot; left out where it was not
     * @param ready the day from which the seed may be taken out
     * @param last the last day on which it should be
     * @param state curing, ready, late, or seed-out
     * @param sentence the same in words
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    record CureLine(
            LocalDate since,
            @Nullable String cultivar,
            int fruit,
            @Nullable String lot,
            @Nullable String place,
            @Nullable LocalDate ready,
            @Nullable LocalDate last,
            String state,
            String sentence) {}
}
