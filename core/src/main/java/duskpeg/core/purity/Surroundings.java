package duskpeg.core.purity;

import duskpeg.core.farm.FarmEvent;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.planting.Rows;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * What stands near the row of a fruit, as the farm entered it.
 *
 * @param planting what is planted in its row; null where that is not known
 * @param chosen by which distance the farm goes; null where it chose none
 * @param measured how far something is from that planting, as measured last of each neighbour
 */
public record Surroundings(
        @Nullable Planting planting, FarmEvent.@Nullable StandardsChosen chosen, List<FarmEvent.Measured> measured) {

    /** Where nothing is known. */
    public static final Surroundings UNKNOWN = new Surroundings(null, null, List.of());

    public Surroundings {
        measured = List.copyOf(measured);
    }

    /**
     * What is near a row.
     *
     * @param row the row; null where that is not known
     * @param events what the farm entered, in the order of the log
     * @param at what was entered later is left out
     */
    public static Surroundings of(@Nullable RowId row, List<? extends FarmEvent> events, Instant at) {
        List<Planting> plantings = new ArrayList<>();
        FarmEvent.StandardsChosen chosen = null;
        Map<String, FarmEvent.Measured> measured = new LinkedHashMap<>();
        Planting planting = null;
        if (row != null) {
            events.forEach(event -> {
                if (event instanceof FarmEvent.LaidOut laidOut) {
                    plantings.add(laidOut.planting());
                }
            });
            planting = new Rows(plantings).plantingOf(row).orElse(null);
        }
        for (FarmEvent event : events) {
            if (event.at().isAfter(at)) {
                continue;
            }
            if (event instanceof FarmEvent.StandardsChosen standards) {
                chosen = standards;
            } else if (event instanceof FarmEvent.Measured one
                    && planting != null
                    && one.planting().equals(planting.name())) {
                measured.put(one.neighbour().name(), one);
            }
        }
        return new Surroundings(planting, chosen, List.copyOf(measured.values()));
    }
}
