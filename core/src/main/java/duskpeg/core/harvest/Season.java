package duskpeg.core.harvest;

import duskpeg.core.farm.FarmSettings;
import duskpeg.core.farm.Place;
import java.time.LocalDate;

/**
 * A season, by the mornings on which its flowers opened: a calendar year; on a farm that lies south of the equator, from
 * July to June, since its summer falls on the turn of the year. It goes by the year in which it begins.
 *
 * @param year the year in which it begins
 * @param from its first day, in the farm's zone
 * @param to its last day
 */
public record Season(int year, LocalDate from, LocalDate to) {

    private static final int JULY = 7;

    /** The farm's season of that year. */
    public static Season of(FarmSettings settings, int year) {
        LocalDate from = LocalDate.of(year, isSouthern(settings) ? JULY : 1, 1);
        return new Season(year, from, from.plusYears(1).minusDays(1));
    }

    /** The farm's season that a day is in. */
    public static Season of(FarmSettings settings, LocalDate day) {
        return of(settings, isSouthern(settings) && day.getMonthValue() < JULY ? day.getYear() - 1 : day.getYear());
    }

    private static boolean isSouthern(FarmSettings settings) {
        Place place = settings.place();
        return place != null && place.latitude() < 0;
    }

    /** Whether a day is in it. */
    public boolean has(LocalDate day) {
        return !day.isBefore(from) && !day.isAfter(to);
    }

    /** What it is called: {@code 2026}, or {@code 2026/27}. */
    public String label() {
        return from.getYear() == to.getYear()
                ? String.valueOf(year)
                : year + "/" + String.valueOf(year + 1).substring(2);
    }
}
