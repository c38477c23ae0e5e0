package duskpeg.projections.plan;

import com.fasterxml.jackson.annotation.JsonIgnore;
import duskpeg.core.plan.Plan;
import duskpeg.projections.Chance;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The plan of a morning, as shown and as published.
 *
 * @param farm the farm's id
 * @param morning the opening morning
 * @param females females pegged, less those that were lost
 * @param plantings what is pegged by planting and row
 * @param cultivars males wanted and pegged, and where there are too many
 * @param warnings what was said of plants that can't stay so
 * @param crowded plants with more than one female
 * @param crew everybody who may come, and who is rostered
 * @param rostered whether anybody rostered for that morning; where not, the whole crew is expected
 * @param start when work is to begin, farm time
 * @param hours hours of work for one person; null where nothing is known
 * @param flowersAnHour what one of the crew does in an hour, on average
 * @param p10 with a chance of 10% all is tied by then; null where nothing is pegged or it is not in sight
 * @param p90 with a chance of 90%; null likewise
 * @param byTarget chance of finishing by the target, 0 to 1; null where nothing is pegged
 * @param byLimit chance of finishing by the limit, 0 to 1; null where nothing is pegged
 * @param roomOfCrew how many more females may be pegged before the chance of the limit falls under 90%; null likewise
 * @param roomOfMales for how many more females there are spare males
 */
record PlanView(
        String farm,
        LocalDate morning,
        int females,
        List<PlantingView> plantings,
        List<CultivarView> cultivars,
        List<WarningView> warnings,
        List<CrowdedView> crowded,
        List<HandView> crew,
        boolean rostered,
        OffsetDateTime start,
        @Nullable Double hours,
        double flowersAnHour,
        @Nullable OffsetDateTime p10,
        @Nullable OffsetDateTime p90,
        @Nullable Double byTarget,
        @Nullable Double byLimit,
        @Nullable Integer roomOfCrew,
        int roomOfMales) {

    /** Chance of the target, for people. */
    @JsonIgnore
    public String getTargetChance() {
        return Chance.of(byTarget == null ? 0 : byTarget);
    }

    /** Chance of the limit, for people. */
    @JsonIgnore
    public String getLimitChance() {
        return Chance.of(byLimit == null ? 0 : byLimit);
    }

    /** A planting. */
    record PlantingView(String name, String cultivar, int females, List<RowView> rows) {

        static PlantingView of(Plan.OfPlanting planting) {
            return new PlantingView(
                    planting.name(),
                    planting.cultivar(),
                    planting.females(),
                    planting.rows().stream().map(RowView::of).toList());
        }
    }

    /** A row. */
    record RowView(String row, int females, int needed, int males, boolean assumed, int missing, int spare) {

        static RowView of(Plan.OfRow row) {
            return new RowView(
                    row.row().label(),
                    row.females(),
                    row.needed(),
                    row.males(),
                    row.assumed(),
                    row.missing(),
                    row.spare());
        }
    }

    /** A cultivar. */
    record CultivarView(
            String cultivar,
            int females,
            int needed,
            int males,
            boolean assumed,
            int missing,
            int spare,
            List<RowView> givers,
            List<RowView> takers) {

        static CultivarView of(Plan.OfCultivar cultivar) {
            return new CultivarView(
                    cultivar.cultivar(),
                    cultivar.females(),
                    cultivar.needed(),
                    cultivar.males(),
                    cultivar.assumed(),
                    cultivar.missing(),
                    cultivar.spare(),
                    cultivar.givers().stream().map(RowView::of).toList(),
                    cultivar.takers().stream().map(RowView::of).toList());
        }
    }

    /** Something that was said of plants, in one sentence. */
    record WarningView(String row, String kind, String text) {}

    /** A plant with more than one female. */
    record CrowdedView(String plant, int females) {}

    /** Somebody who may come. */
    record HandView(
            String worker,
            String name,
            boolean coming,
            @Nullable String pauseFrom,
            @Nullable String pauseUntil,
            List<String> notIn) {}
}
