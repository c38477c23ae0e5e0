package duskpeg.projections.plantings;

import com.fasterxml.jackson.annotation.JsonInclude;
import duskpeg.core.isolation.Isolation;
import duskpeg.core.lot.Lots;
import duskpeg.core.planting.Planting;
import org.jspecify.annotations.Nullable;

/**
 * A planting, as shown and as published.
 *
 * @param stock what it was sown with; left out where the farm does not say
 * @param isLot whether that is a lot of the farm
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
record PlantingView(
        String planting,
        String cultivar,
        String species,
        @Nullable String stock,
        boolean isLot,
        String firstRow,
        String lastRow,
        int rows,
        int plants) {

    static PlantingView of(Planting planting, Lots lots) {
        int rows = planting.rows().size();
        String stock = planting.stock();
        return new PlantingView(
                planting.name(),
                planting.cultivar(),
                planting.species().scientificName(),
                stock,
                stock != null
                        && lots.all().stream().anyMatch(lot -> lot.id().name().equals(stock)),
                planting.rows().get(0).id().label(),
                planting.rows().get(rows - 1).id().label(),
                rows,
                planting.rows().stream().mapToInt(Planting.Row::plants).sum());
    }

    /**
     * What is near a planting.
     *
     * @param metres how far; left out where nobody measured it
     * @param standing a word of {@link Isolation.Standing}
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    record NearView(
            String planting,
            String neighbour,
            @Nullable Integer metres,
            String crossing,
            String standing,
            String sentence) {

        static NearView of(Isolation near) {
            return new NearView(
                    near.planting(),
                    near.neighbour(),
                    near.metres(),
                    near.crossing().value(),
                    near.standing().word(),
                    near.sentence());
        }
    }
}
