package duskpeg.core.window;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import duskpeg.core.farm.Place;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SunTest {

    private static Instant known(Instant instant) {
        return Optional.ofNullable(instant).orElseThrow();
    }

    @Test
    void risesAsPublishedForBoston() {
        // United States Naval Observatory, 12 February 2014: civil dawn 06:16, sunrise 06:45 EST; whole minutes.
        ZoneId zone = ZoneId.of("America/New_York");
        LocalDate date = LocalDate.of(2014, 2, 12);

        Sun sun = Sun.of(new Place(42.3, -71.1), date, zone);

        assertThat(known(sun.civilDawn()))
                .isCloseTo(date.atTime(6, 16).atZone(zone).toInstant(), within(1, ChronoUnit.MINUTES));
        assertThat(known(sun.sunrise()))
                .isCloseTo(date.atTime(6, 45).atZone(zone).toInstant(), within(1, ChronoUnit.MINUTES));
    }

    @ParameterizedTest
    @CsvSource({
        // Published with a public sunrise program for New York: 07:20:02 EST.
        "40.75, -73.99, -05:00, 2015-01-01, 07:20:02",
        // Calculated independently of this project by the NOAA method, zenith 90.833 degrees.
        "42.444, -76.5019, -04:00, 2025-06-21, 05:29:00",
        "42.444, -76.5019, -04:00, 2025-07-15, 05:42:36",
        "42.444, -76.5019, -04:00, 2025-08-15, 06:13:24",
        "51.4769, -0.0005, +01:00, 2025-06-21, 04:42:48",
        "51.4769, -0.0005, +01:00, 2025-07-15, 05:00:48",
        "51.4769, -0.0005, +01:00, 2025-08-15, 05:45:48",
        "18.5204, 73.8567, +05:30, 2025-06-21, 05:59:06",
        "18.5204, 73.8567, +05:30, 2025-07-15, 06:06:24",
        "18.5204, 73.8567, +05:30, 2025-08-15, 06:16:18",
        "-33.8688, 151.2093, +10:00, 2025-06-21, 07:00:00",
        "-33.8688, 151.2093, +10:00, 2025-07-15, 06:58:06",
        "-33.8688, 151.2093, +10:00, 2025-08-15, 06:34:18"
    })
    void risesWithinAMinute(double latitude, double longitude, String offset, LocalDate date, LocalTime sunrise) {
        ZoneOffset zone = ZoneOffset.of(offset);

        assertThat(known(Sun.of(new Place(latitude, longitude), date, zone).sunrise()))
                .isCloseTo(date.atTime(sunrise).toInstant(zone), within(1, ChronoUnit.MINUTES));
    }

    @Test
    void agreesWithASecondAlgorithmOnAThousandPlacesAndDates() {
        List<String> apart = new ArrayList<>();
        int compared = 0;
        for (int latitude = -60; latitude <= 60; latitude += 5) {
            for (int longitude = -170; longitude <= 180; longitude += 50) {
                for (String date : List.of("1999-03-20", "2014-06-21", "2025-08-15", "2026-11-26", "2040-12-21")) {
                    compared++;
                    compare(new Place(latitude, longitude), LocalDate.parse(date), apart);
                }
            }
        }
        assertThat(compared).isEqualTo(1_000);
        assertThat(apart).isEmpty();
    }

    @Test
    void nearThePolarCirclesItAgreesAsFarAsAMinuteCanBeTold() {
        List<String> apart = new ArrayList<>();
        for (int latitude = 61; latitude <= 70; latitude++) {
            for (int month = 1; month <= 12; month++) {
                for (int day = 1; day <= 28; day += 3) {
                    compare(new Place(latitude, 25), LocalDate.of(2026, month, day), apart);
                    compare(new Place(-latitude, 25), LocalDate.of(2026, month, day), apart);
                }
            }
        }
        assertThat(apart).isEmpty();
    }

    private static void compare(Place place, LocalDate date, List<String> apart) {
        ZoneOffset zone = ZoneOffset.ofHours((int) Math.round(place.longitude() / 15));
        Sun sun = Sun.of(place, date, zone);
        compare(place, date, zone, Noaa.SUNRISE, Optional.ofNullable(sun.sunrise()), apart);
        compare(place, date, zone, Noaa.CIVIL_DAWN, Optional.ofNullable(sun.civilDawn()), apart);
    }

    /**
     * A minute; where the sun rises so flat that a hundredth of a degree takes longer than that, which is what the two
     * differ by in its altitude, as long as it takes. Whether it rises at all is not compared where it only grazes.
     */
    private static void compare(
            Place place, LocalDate date, ZoneOffset zone, double zenith, Optional<Instant> rise, List<String> apart) {
        Optional<Instant> second = Noaa.rise(place, date, zone, zenith);
        if (rise.isEmpty() || second.isEmpty()) {
            Instant found = rise.or(() -> second).orElse(Instant.EPOCH);
            boolean grazes = rise.isPresent() != second.isPresent() && isNearMidnightOrNoon(found, zone);
            if (rise.isPresent() != second.isPresent() && !grazes) {
                apart.add(place + " " + date + " " + zenith + ": " + rise + " and " + second);
            }
            return;
        }
        double seconds = Math.abs(Duration.between(rise.get(), second.get()).toMillis()) / 1_000.0;
        double allowed = Math.max(60, 60 * 0.02 / Noaa.degreesAMinute(place, second.get(), zenith));
        if (seconds > allowed) {
            apart.add(place + " " + date + " " + zenith + ": " + seconds + " s apart, allowed " + allowed);
        }
    }

    /** Where the sun only grazes, it does so at its lowest or at its highest: within two hours of solar 0:00 or 12:00. */
    private static boolean isNearMidnightOrNoon(Instant at, ZoneOffset zone) {
        int minuteOfHalfDay = at.atZone(zone).toLocalTime().toSecondOfDay() / 60 % 720;
        return Math.min(minuteOfHalfDay, 720 - minuteOfHalfDay) <= 120;
    }

    @ParameterizedTest
    @CsvSource({"69.6492, 2025-06-21", "69.6492, 2025-12-21", "90, 2025-06-21", "-90, 2025-06-21"})
    void whereTheSunDoesNotRiseThereIsNoneAndNothingFails(double latitude, LocalDate date) {
        assertThat(Sun.of(new Place(latitude, 18.9553), date, ZoneId.of("Europe/Oslo"))
                        .sunrise())
                .isNull();
    }

    @Test
    void aPolarDayHasNeitherAndAPolarNightMayHaveADawn() {
        // 69.6492 N: no sunrise on 21 June nor on 21 December; on the latter the sun comes to 3 degrees under the
        // horizon at noon (90 - 69.65 - 23.44), which is above civil dawn's 6.
        Place place = new Place(69.6492, 18.9553);
        ZoneId zone = ZoneId.of("Europe/Oslo");

        assertThat(Sun.of(place, LocalDate.of(2025, 6, 21), zone)).isEqualTo(Sun.UNKNOWN);
        Sun december = Sun.of(place, LocalDate.of(2025, 12, 21), zone);
        assertThat(december.sunrise()).isNull();
        assertThat(known(december.civilDawn()).atZone(zone).getHour()).isBetween(8, 10);
    }

    @ParameterizedTest
    @CsvSource({
        // Days of 23, 25, 23.5 and 24.5 hours, and one without a midnight (IANA time zones).
        "40.75, -73.99, America/New_York, 2025-03-09",
        "40.75, -73.99, America/New_York, 2025-11-02",
        "-31.55, 159.08, Australia/Lord_Howe, 2025-10-05",
        "-31.55, 159.08, Australia/Lord_Howe, 2025-04-06",
        "-23.55, -46.63, America/Sao_Paulo, 2018-11-04",
        // Far from the zone's own meridian, and where it is yesterday in UTC.
        "39.47, 75.99, Asia/Shanghai, 2025-06-21",
        "-13.83, -171.77, Pacific/Apia, 2025-06-21"
    })
    void theSunriseIsThatOfTheFarmsDate(double latitude, double longitude, ZoneId zone, LocalDate date) {
        Place place = new Place(latitude, longitude);

        Instant sunrise = known(Sun.of(place, date, zone).sunrise());

        assertThat(sunrise.atZone(zone).toLocalDate()).isEqualTo(date);
        assertThat(sunrise)
                .isCloseTo(Noaa.rise(place, date, zone, Noaa.SUNRISE).orElseThrow(), within(1, ChronoUnit.MINUTES));
    }

    @ParameterizedTest
    @CsvSource({"1899-12-31", "2200-01-01", "-999999999-01-01", "+999999999-12-31"})
    void ofOtherCenturiesNothingIsSaid(LocalDate date) {
        assertThat(Sun.of(new Place(42, -71), date, ZoneOffset.UTC)).isEqualTo(Sun.UNKNOWN);
    }
}
