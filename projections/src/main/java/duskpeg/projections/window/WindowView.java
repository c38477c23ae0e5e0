package duskpeg.projections.window;

import com.fasterxml.jackson.annotation.JsonIgnore;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.farm.Place;
import duskpeg.core.window.Opening;
import duskpeg.core.window.Warmth;
import duskpeg.core.window.Window;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * A morning's window as shown and as published. Instants are of the zone, to the second.
 *
 * @param date the opening morning
 * @param zone the time zone
 * @param place the place; null where the farm did not say
 * @param sunrise null where it is not known or there is none
 * @param civilDawn null where it is not known or there is none
 * @param opens when the females of the first species are expected to open; null where there is no sunrise
 * @param target when the work should be finished
 * @param limit the cut-off
 * @param openings when each species is expected to open
 * @param warnings what temperatures warn of, where any were given
 * @param note why there is no sunrise, or that times are estimates
 */
public record WindowView(
        LocalDate date,
        String zone,
        @Nullable Place place,
        @Nullable OffsetDateTime sunrise,
        @Nullable OffsetDateTime civilDawn,
        @Nullable OffsetDateTime opens,
        OffsetDateTime target,
        OffsetDateTime limit,
        List<OpeningView> openings,
        List<String> warnings,
        String note,
        @JsonIgnore @Nullable OffsetDateTime allOpen) {

    private static final String ESTIMATES = "Times are estimates: look at the flower.";

    /**
     * When a species is expected to open.
     *
     * @param species its scientific name
     * @param females when females are expected to open
     * @param earliest how early that may be
     * @param latest how late that may be
     * @param males when males are expected to open; null where no source tells it apart
     * @param published what was published of it; empty where nothing was found
     * @param source where; empty where nothing was found
     */
    public record OpeningView(
            String species,
            OffsetDateTime females,
            OffsetDateTime earliest,
            OffsetDateTime latest,
            @Nullable OffsetDateTime males,
            String published,
            String source) {

        private static OpeningView of(Opening opening, ZoneId zone) {
            return new OpeningView(
                    opening.species().scientificName(),
                    local(opening.about(), zone),
                    local(opening.earliest(), zone),
                    local(opening.latest(), zone),
                    opening.males() == null ? null : local(opening.males(), zone),
                    opening.anthesis().published(),
                    opening.anthesis().source());
        }
    }

    /** The view of a window. */
    static WindowView of(FarmSettings settings, Window window, List<Warmth> warmth) {
        ZoneId zone = settings.zone();
        Instant sunrise = window.sun().sunrise();
        Instant dawn = window.sun().civilDawn();
        return new WindowView(
                window.date(),
                zone.getId(),
                settings.place(),
                sunrise == null ? null : local(sunrise, zone),
                dawn == null ? null : local(dawn, zone),
                window.opens().map(at -> local(at, zone)).orElse(null),
                local(window.target(), zone),
                local(window.limit(), zone),
                window.openings().stream()
                        .map(opening -> OpeningView.of(opening, zone))
                        .toList(),
                warmth.stream().map(Warmth::warning).toList(),
                note(settings, sunrise),
                window.allOpen().map(at -> local(at, zone)).orElse(null));
    }

    private static String note(FarmSettings settings, @Nullable Instant sunrise) {
        if (settings.place() == null) {
            return "Place not set, so there is no sunrise.";
        }
        return sunrise == null ? "There is no sunrise at this place on this date." : ESTIMATES;
    }

    private static OffsetDateTime local(Instant at, ZoneId zone) {
        return at.atZone(zone).toOffsetDateTime().truncatedTo(ChronoUnit.SECONDS);
    }

    /** The hours in one line, for people. */
    @JsonIgnore
    public String getLine() {
        StringBuilder line = new StringBuilder();
        if (sunrise == null) {
            line.append(place == null ? "place not set" : "no sunrise");
        } else {
            line.append("sunrise ").append(clock(sunrise));
        }
        if (opens != null && allOpen != null) {
            line.append(" · opens about ").append(clock(opens));
            if (!clock(opens).equals(clock(allOpen))) {
                line.append(" to ").append(clock(allOpen));
            }
        }
        return line.append(" · target ")
                .append(clock(target))
                .append(" · limit ")
                .append(clock(limit))
                .toString();
    }

    private static String clock(OffsetDateTime at) {
        return String.format(Locale.ROOT, "%tH:%<tM", at);
    }
}
