package duskpeg.core.window;

import duskpeg.core.farm.Place;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Optional;

/**
 * Sunrise by the equations of the NOAA solar calculator (after Meeus, Astronomical Algorithms), written down here from
 * memory and independently of the library the program uses. The hour is refined until it stands still.
 */
final class Noaa {

    /** Zenith of sunrise in degrees: the sun's radius and mean refraction. */
    static final double SUNRISE = 90.833;

    /** Zenith of civil dawn in degrees. */
    static final double CIVIL_DAWN = 96;

    private static final int ROUNDS = 6;

    private Noaa() {}

    /** When the sun comes up through that zenith on that date; empty where it does not. */
    static Optional<Instant> rise(Place place, LocalDate date, ZoneId zone, double zenith) {
        Instant noon = date.atTime(12, 0).atZone(zone).toInstant();
        Instant at = noon;
        for (int round = 0; round < ROUNDS; round++) {
            Sky sky = Sky.at(at);
            double cosHour = cosHourAngle(place, sky.declination, zenith);
            if (Math.abs(cosHour) > 1) {
                return Optional.empty();
            }
            double minutesUtc =
                    720 - 4 * (place.longitude() + Math.toDegrees(Math.acos(cosHour))) - sky.equationOfTimeMinutes;
            Instant utcMidnight = Instant.EPOCH.plus(Duration.ofDays(Math.floorDiv(noon.getEpochSecond(), 86_400)));
            Instant sameUtcDay = utcMidnight.plusMillis(Math.round(minutesUtc * 60_000));
            // The sunrise of the farm's date, whatever date it is in UTC.
            at = sameUtcDay;
            while (at.atZone(zone).toLocalDate().isBefore(date)) {
                at = at.plus(Duration.ofDays(1));
            }
            while (at.atZone(zone).toLocalDate().isAfter(date)) {
                at = at.minus(Duration.ofDays(1));
            }
        }
        return Optional.of(at);
    }

    /** How fast the sun's altitude rises then, in degrees a minute. */
    static double degreesAMinute(Place place, Instant at, double zenith) {
        double declination = Sky.at(at).declination;
        double hour = Math.acos(cosHourAngle(place, declination, zenith));
        return 0.25
                * Math.cos(Math.toRadians(place.latitude()))
                * Math.cos(Math.toRadians(declination))
                * Math.sin(hour)
                / Math.sin(Math.toRadians(zenith));
    }

    private static double cosHourAngle(Place place, double declination, double zenith) {
        double latitude = Math.toRadians(place.latitude());
        double north = Math.toRadians(declination);
        return Math.cos(Math.toRadians(zenith)) / (Math.cos(latitude) * Math.cos(north))
                - Math.tan(latitude) * Math.tan(north);
    }

    private record Sky(double declination, double equationOfTimeMinutes) {

        static Sky at(Instant instant) {
            double julianDay = instant.toEpochMilli() / 86_400_000.0 + 2_440_587.5;
            double t = (julianDay - 2_451_545) / 36_525;
            double meanLongitude = 280.46646 + t * (36_000.76983 + t * 0.0003032);
            double anomaly = 357.52911 + t * (35_999.05029 - 0.0001537 * t);
            double eccentricity = 0.016708634 - t * (0.000042037 + 0.0000001267 * t);
            double centre = sin(anomaly) * (1.914602 - t * (0.004817 + 0.000014 * t))
                    + sin(2 * anomaly) * (0.019993 - 0.000101 * t)
                    + sin(3 * anomaly) * 0.000289;
            double node = 125.04 - 1_934.136 * t;
            double apparentLongitude = meanLongitude + centre - 0.00569 - 0.00478 * sin(node);
            double meanObliquity = 23 + (26 + (21.448 - t * (46.815 + t * (0.00059 - t * 0.001813))) / 60) / 60;
            double obliquity = meanObliquity + 0.00256 * Math.cos(Math.toRadians(node));
            double declination = Math.toDegrees(Math.asin(sin(obliquity) * sin(apparentLongitude)));
            double y = Math.pow(Math.tan(Math.toRadians(obliquity / 2)), 2);
            double equation = y * sin(2 * meanLongitude)
                    - 2 * eccentricity * sin(anomaly)
                    + 4 * eccentricity * y * sin(anomaly) * Math.cos(Math.toRadians(2 * meanLongitude))
                    - y * y / 2 * sin(4 * meanLongitude)
                    - 1.25 * eccentricity * eccentricity * sin(2 * anomaly);
            return new Sky(declination, 4 * Math.toDegrees(equation));
        }

        private static double sin(double degrees) {
            return Math.sin(Math.toRadians(degrees));
        }
    }
}
