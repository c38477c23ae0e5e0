package duskpeg.core.window;

import duskpeg.core.farm.Place;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import org.jspecify.annotations.Nullable;
import org.shredzone.commons.suncalc.SunTimes;
import org.shredzone.commons.suncalc.SunTimes.Twilight;

/**
 * The sun of one morning, by calculation: good to about a minute at sea level and under a flat horizon; hills and air
 * move it by minutes. Where the sun only grazes the horizon, near the polar circles, a minute can't be told.
 *
 * @param sunrise the first time in the day that the sun's upper edge comes over the horizon; null where it does not,
 *     as in a polar night or day
 * @param civilDawn the first time in the day that the sun's centre comes to 6 degrees under the horizon; null where it
 *     does not
 */
public record Sun(@Nullable Instant sunrise, @Nullable Instant civilDawn) {

    /** The first year that is calculated. */
    public static final int FIRST_YEAR = 1900;

    /** The last year that is calculated. */
    public static final int LAST_YEAR = 2199;

    /** Where nothing is known. */
    public static final Sun UNKNOWN = new Sun(null, null);

    /**
     * The sun of that date in that zone.
     *
     * @return {@link #UNKNOWN} out of the years {@link #FIRST_YEAR} to {@link #LAST_YEAR}
     */
    public static Sun of(Place place, LocalDate date, ZoneId zone) {
        if (!isCalculatedFor(date)) {
            return UNKNOWN;
        }
        return new Sun(rise(place, date, zone, Twilight.VISUAL), rise(place, date, zone, Twilight.CIVIL));
    }

    /** Whether the sun of that date is calculated. */
    public static boolean isCalculatedFor(LocalDate date) {
        return date.getYear() >= FIRST_YEAR && date.getYear() <= LAST_YEAR;
    }

    private static @Nullable Instant rise(Place place, LocalDate date, ZoneId zone, Twilight twilight) {
        ZonedDateTime midnight = date.atStartOfDay(zone);
        ZonedDateTime nextMidnight = date.plusDays(1).atStartOfDay(zone);
        // A day may last 23 or 25 hours.
        ZonedDateTime rise = SunTimes.compute()
                .on(midnight)
                .at(place.latitude(), place.longitude())
                .twilight(twilight)
                .limit(Duration.between(midnight, nextMidnight))
                .execute()
                .getRise();
        return rise == null || !rise.isBefore(nextMidnight) ? null : rise.toInstant();
    }
}
