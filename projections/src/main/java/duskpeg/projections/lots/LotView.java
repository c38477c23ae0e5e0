package duskpeg.projections.lots;

import com.fasterxml.jackson.annotation.JsonIgnore;
import com.fasterxml.jackson.annotation.JsonInclude;
import duskpeg.projections.lineage.Descents.Descent;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A lot, as shown and as published. Weights are grams, moisture is percent of the wet weight.
 *
 * @param state open, released, held or recalled
 * @param grams what is there by the last weighing and what came and went since; left out where nothing was weighed
 * @param against what stands against releasing it
 * @param descent its breadth; left out where it has no fruit
 * @param decidedBy who decided on it last; left out where nobody did
 * @param decidedOn and when, in farm time
 * @param isExpired whether it was released until a day that is over
 * @param retest until when its last germination test holds, in words; left out where there is none
 * @param standards what the farm holds it against, each with its source
 * @param flowers how many fruit seed of it may be of, also by way of other lots
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
record LotView(
        String farm,
        String lot,
        @Nullable String cultivar,
        @Nullable String species,
        String state,
        @Nullable String decidedBy,
        @Nullable LocalDate decidedOn,
        @Nullable String why,
        List<String> although,
        @Nullable LocalDate until,
        boolean isExpired,
        @Nullable String retest,
        List<String> standards,
        @Nullable Double grams,
        @Nullable Double moisture,
        @Nullable Double thousandSeedGrams,
        List<String> against,
        int flowers,
        List<FruitLine> fruit,
        List<LineView> balance,
        List<WorkView> work,
        List<TestView> germination,
        List<TestView> growOuts,
        List<PacketsView> packets,
        List<DrawnView> drawnIn,
        List<DrawnView> drawnOut,
        @Nullable Descent descent,
        List<EntryView> entries,
        @JsonIgnore LotCharts charts) {

    /**
     * A fruit of it.
     *
     * @param then its verdict when it was taken
     * @param now its verdict now; {@code none} where no report tells of it any more
     */
    record FruitLine(
            String tie, String then, String now, @Nullable String stock, List<String> although) {}

    /** A line of the balance; {@code unexplained} grams are missing, or too many where it is below 0. */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    record LineView(
            LocalDate on,
            String what,
            @Nullable Double change,
            @Nullable Double weighed,
            @Nullable Double expected,
            @Nullable Double unexplained) {}

    /** A step of the work. */
    record WorkView(String step, LocalDate from, LocalDate until, String place) {}

    /**
     * A test.
     *
     * @param entered who entered it
     * @param confirmed whether two people did, alike
     * @param sentences what it shows, and what must be said beside it
     */
    record TestView(int test, LocalDate on, List<String> entered, boolean confirmed, List<String> sentences) {}

    /** Packets of one filling. */
    record PacketsView(LocalDate on, int first, int last, double grams) {}

    /** Seed drawn from or into another lot. */
    record DrawnView(String lot, LocalDate on, double grams) {}

    /** What was entered; {@code withdrawn} says why it stands no more. */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    record EntryView(
            int number,
            OffsetDateTime at,
            String by,
            String what,
            @Nullable String withdrawn) {}

    /** A lot in the list of all; {@code isExpired} where it was released until a day that is over. */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    record Line(
            String lot,
            @Nullable String cultivar,
            String state,
            boolean isExpired,
            int fruit,
            @Nullable Double grams,
            int packets,
            List<String> from) {}
}
