package duskpeg.projections.harvest;

import com.fasterxml.jackson.annotation.JsonIgnore;
import com.fasterxml.jackson.annotation.JsonInclude;
import duskpeg.projections.chart.Ranges;
import duskpeg.projections.chart.Stack;
import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What a season gave, as shown and as published.
 *
 * @param year the year in which it begins
 * @param years the years of all seasons in which a tie was put on, latest first
 * @param total all plantings together
 * @param mornings by opening morning
 * @param broughtIn by day
 * @param learnt what one fruit gives, by cultivar
 * @param isOver whether its last day is past
 * @param fates what became of what was tied, by cultivar; left out where nothing was
 * @param toCome the seed that is still to come; left out where nothing can be said of it
 * @param ties the mornings as bars; left out where there are none
 * @param harvest the days as bars; left out where there are none
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
record SeasonView(
        String farm,
        int year,
        String season,
        LocalDate from,
        LocalDate to,
        List<Integer> years,
        Yield total,
        List<Yield> cultivars,
        List<Yield> plantings,
        List<Morning> mornings,
        List<Day> broughtIn,
        List<Learnt> learnt,
        boolean isOver,
        @JsonIgnore @Nullable Stack fates,
        @JsonIgnore @Nullable Ranges toCome,
        @JsonIgnore @Nullable Bars ties,
        @JsonIgnore @Nullable Bars harvest) {

    /**
     * A planting, a cultivar or all in counts, as reported.
     *
     * @param pegged females pegged
     * @param tied flowers tied
     * @param numbered of those, with a known tie number: only these can be followed
     * @param lost flowers lost
     * @param onVine numbered fruit on the vine
     * @param culled numbered fruit cut
     * @param broughtIn numbered fruit brought in
     * @param withoutTie fruit brought in as counted by row: not seed
     * @param cut fruit without a tie that was cut
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    record Yield(
            String name,
            @Nullable String cultivar,
            int pegged,
            int tied,
            int numbered,
            int lost,
            int onVine,
            int culled,
            int broughtIn,
            int withoutTie,
            int cut) {

        /** Of fewer no share is told: nobody should plan by it. A default of ours. */
        static final int FEWEST = 20;

        /** Of the females pegged, how many in a hundred were tied; null of too few. */
        public @Nullable Integer getTiedPercent() {
            return percent(tied, pegged);
        }

        /** Of the numbered fruit, how many in a hundred are on the vine or were brought in; null of too few. */
        public @Nullable Integer getSetPercent() {
            return percent(onVine + broughtIn, numbered);
        }

        private static @Nullable Integer percent(int some, int all) {
            return all < FEWEST ? null : Integer.valueOf(Math.round(100f * some / all));
        }
    }

    /** A morning. */
    record Morning(LocalDate morning, int pegged, int tied, int lost) {}

    /** A day of the harvest; {@code fruit} have a tie number. */
    record Day(LocalDate day, int fruit) {}

    /** What is expected, and between what it is 95 times in 100. */
    record Between(double middle, double low, double high) {}

    /**
     * What fruit of a cultivar gives, by the farm's lots of every year.
     *
     * @param lots lots that were weighed before any of their seed left them
     * @param fruit fruit in these lots
     * @param gramsPerFruit left out where there are too few lots
     * @param seedsPerFruit left out where too few lots have a weight of a thousand seeds
     * @param onVine fruit with ties on the vine, this season
     * @param kept of how many earlier ties how many in a hundred were brought in; left out where too few are known
     * @param keptOf what ties those were, in words; left out likewise
     * @param grams what the ties on the vine will give; left out in a season that is over
     * @param seeds likewise
     * @param says the same in words
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    record Learnt(
            String cultivar,
            int lots,
            int fruit,
            @Nullable Between gramsPerFruit,
            @Nullable Between seedsPerFruit,
            int onVine,
            @Nullable Between kept,
            @Nullable String keptOf,
            @Nullable Between grams,
            @Nullable Between seeds,
            String says) {}
}
