package duskpeg.core.window;

import duskpeg.core.farm.FarmSettings;
import duskpeg.core.farm.Place;
import duskpeg.core.planting.Species;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * The hours of one morning: the sun and the flowers as they are expected, and the farm's own target and limit. A
 * stigma does not close at the limit; by then opening, pollen and cool air run out.
 *
 * @param date the opening morning, in the farm's zone
 * @param sun its sun
 * @param openings when the flowers open, by species; empty where there is no sunrise to reckon from
 * @param target when the work should be finished
 * @param limit the cut-off
 */
public record Window(LocalDate date, Sun sun, List<Opening> openings, Instant target, Instant limit) {

    public Window {
        openings = List.copyOf(openings);
    }

    /**
     * The window of a farm's morning.
     *
     * @param settings the farm's hours, zone and place; without a place the sun is unknown
     * @param species the species it grows
     */
    public static Window of(FarmSettings settings, LocalDate date, Collection<Species> species) {
        Place place = settings.place();
        Sun sun = place == null ? Sun.UNKNOWN : Sun.of(place, date, settings.zone());
        Instant sunrise = sun.sunrise();
        List<Opening> openings = sunrise == null
                ? List.of()
                : species.stream()
                        .distinct()
                        .sorted()
                        .map(one -> Opening.of(one, sunrise))
                        .toList();
        return new Window(date, sun, openings, settings.targetOn(date), settings.limitOn(date));
    }

    /** When the first females are expected to open. */
    public Optional<Instant> opens() {
        return openings.stream().map(Opening::about).min(Comparator.naturalOrder());
    }

    /** When the last species is expected to open. */
    public Optional<Instant> allOpen() {
        return openings.stream().map(Opening::about).max(Comparator.naturalOrder());
    }
}
