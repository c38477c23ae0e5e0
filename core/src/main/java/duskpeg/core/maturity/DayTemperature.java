package duskpeg.core.maturity;

import java.time.LocalDate;

/**
 * The temperatures of a day.
 *
 * @param date the day, in the farm's zone
 * @param highest its highest temperature, degrees Celsius, -60 to 60
 * @param lowest its lowest, likewise
 */
public record DayTemperature(LocalDate date, double highest, double lowest) {

    private static final double MOST = 60;

    /**
     * @throws IllegalArgumentException if the lowest is over the highest, or one is out of its range
     */
    public DayTemperature {
        if (!(Math.abs(highest) <= MOST && Math.abs(lowest) <= MOST)) {
            throw new IllegalArgumentException(
                    "no temperature of a day: " + highest + " and " + lowest + " degrees Celsius");
        }
        if (lowest > highest) {
            throw new IllegalArgumentException("the lowest is over the highest");
        }
    }
}
