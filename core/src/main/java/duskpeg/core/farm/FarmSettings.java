package duskpeg.core.farm;

import duskpeg.core.fruit.TieNumber;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import org.jspecify.annotations.Nullable;

/**
 * A farm's own rules. The hours are the farm's, not biology: by late morning opening, pollen and cool air run out.
 *
 * @param zone the farm's time zone
 * @param target when the morning's work should be finished, farm time
 * @param limit the cut-off, farm time, before noon and not before the target
 * @param tieWidth how many digits its tie numbers have
 * @param place where it is; null where the farm did not say
 */
public record FarmSettings(
        ZoneId zone,
        LocalTime target,
        LocalTime limit,
        int tieWidth,
        @Nullable Place place) {

    /**
     * @throws IllegalArgumentException if hours or width are out of their ranges
     */
    public FarmSettings {
        if (target.isAfter(limit) || !limit.isBefore(LocalTime.NOON)) {
            throw new IllegalArgumentException("target " + target + " and limit " + limit + " must rise before noon");
        }
        if (tieWidth < TieNumber.MIN_WIDTH || tieWidth > TieNumber.MAX_WIDTH) {
            throw new IllegalArgumentException("tie width " + tieWidth);
        }
    }

    /** The rules of a farm that did not say where it is. */
    public FarmSettings(ZoneId zone, LocalTime target, LocalTime limit, int tieWidth) {
        this(zone, target, limit, tieWidth, null);
    }

    /** When the work of that morning should be finished. */
    public Instant targetOn(LocalDate morning) {
        return morning.atTime(target).atZone(zone).toInstant();
    }

    /** The cut-off of that morning. */
    public Instant limitOn(LocalDate morning) {
        return morning.atTime(limit).atZone(zone).toInstant();
    }

    /** The farm's date at that instant. */
    public LocalDate dateAt(Instant at) {
        return at.atZone(zone).toLocalDate();
    }

    /** Whether it is noon or later on the farm: what is pegged then opens the next morning. */
    public boolean afternoonAt(Instant at) {
        return !at.atZone(zone).toLocalTime().isBefore(LocalTime.NOON);
    }

    /** The opening morning of what is pegged at that instant. */
    public LocalDate openingOfPeggedAt(Instant at) {
        LocalDate date = dateAt(at);
        return afternoonAt(at) ? date.plusDays(1) : date;
    }
}
