package duskpeg.core.window;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import duskpeg.core.farm.FarmSettings;
import duskpeg.core.farm.Place;
import duskpeg.core.planting.Species;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/** Target 09:00 and limit 10:00 are common practice, no source. */
class WindowTest {

    private static final LocalDate DATE = LocalDate.of(2026, 11, 26);

    private static FarmSettings farm(String zone, Place place) {
        return new FarmSettings(ZoneId.of(zone), LocalTime.of(9, 0), LocalTime.of(10, 0), 6, place);
    }

    private static final FarmSettings HIGHVELD = farm("Africa/Johannesburg", new Place(-26.05, 28.95));

    @Test
    void hasTheFarmsOwnHoursOnItsOwnClock() {
        Window window = Window.of(HIGHVELD, DATE, List.of(Species.PEPO));

        assertThat(window.target()).isEqualTo(Instant.parse("2026-11-26T07:00:00Z"));
        assertThat(window.limit()).isEqualTo(Instant.parse("2026-11-26T08:00:00Z"));
    }

    @ParameterizedTest
    @CsvSource({
        // Before and after the clocks go forward, and after they go back again (IANA): EST -5, EDT -4.
        "2025-03-08, 2025-03-08T14:00:00Z",
        "2025-03-09, 2025-03-09T13:00:00Z",
        "2025-11-02, 2025-11-02T14:00:00Z"
    })
    void theTargetFollowsTheClockAndTheSunDoesNot(LocalDate date, Instant target) {
        Window window = Window.of(farm("America/New_York", new Place(40.75, -73.99)), date, List.of(Species.PEPO));

        assertThat(window.target()).isEqualTo(target);
        assertThat(window.sun().sunrise()).isBetween(target.minus(Duration.ofHours(3)), target);
    }

    @Test
    void malesOfPepoOpenHalfAnHourBeforeFemales() {
        // Nepi & Pacini 1993, Annals of Botany 72:527-536, abstract.
        Window window = Window.of(HIGHVELD, DATE, List.of(Species.PEPO));

        assertThat(window.openings()).singleElement().satisfies(opening -> {
            assertThat(opening.males()).isEqualTo(opening.about().minus(Duration.ofMinutes(30)));
            // Around sunrise: common practice, no source.
            assertThat(opening.about()).isEqualTo(window.sun().sunrise());
        });
    }

    @Test
    void aClockHourOfOnePlaceIsNotCarriedOverToAnother() {
        // Nicodemo et al. 2007, Acta Sci. Agron. 29(5): maxima opened at 06:35, by the clock of one place in Brazil.
        Opening here =
                Window.of(HIGHVELD, DATE, List.of(Species.MAXIMA)).openings().get(0);

        assertThat(here.anthesis().published()).contains("06:35").contains("by the clock of one place");
        assertThat(here.about().atZone(HIGHVELD.zone()).toLocalTime()).isBefore(LocalTime.of(6, 0));
    }

    @Test
    void moschataMayOpenHoursBeforeSunrise() {
        // Turkish Journal of Botany 31(5), 2007, abstract: 03:30 to 04:00 in Nigeria. At the window's earliest it does.
        FarmSettings nigeria = farm("Africa/Lagos", new Place(4.8, 7.0));
        Opening opening =
                Window.of(nigeria, DATE, List.of(Species.MOSCHATA)).openings().get(0);

        assertThat(opening.earliest().atZone(nigeria.zone()).toLocalTime()).isBefore(LocalTime.of(3, 30));
        assertThat(opening.latest().atZone(nigeria.zone()).toLocalTime()).isAfter(LocalTime.of(4, 0));
        assertThat(opening.males()).isNull();
    }

    @ParameterizedTest
    @EnumSource(Species.class)
    void everySpeciesIsExpectedWithinItsRange(Species species) {
        Opening opening = Window.of(HIGHVELD, DATE, List.of(species)).openings().get(0);

        assertThat(opening.about()).isBetween(opening.earliest(), opening.latest());
        assertThat(opening.earliest()).isBefore(opening.latest());
    }

    @Test
    void opensWithTheFirstSpeciesAndIsAllOpenWithTheLast() {
        Window window = Window.of(HIGHVELD, DATE, List.of(Species.PEPO, Species.MOSCHATA, Species.PEPO));

        assertThat(window.openings()).extracting(Opening::species).containsExactly(Species.PEPO, Species.MOSCHATA);
        assertThat(window.opens())
                .isEqualTo(Optional.of(window.openings().get(1).about()));
        assertThat(window.allOpen())
                .isEqualTo(Optional.of(window.openings().get(0).about()));
    }

    @Test
    void withoutAPlaceOrASunriseThereAreStillTheFarmsHours() {
        for (Window window : List.of(
                Window.of(farm("Europe/Oslo", null), LocalDate.of(2025, 6, 21), List.of(Species.PEPO)),
                Window.of(
                        farm("Europe/Oslo", new Place(69.6492, 18.9553)),
                        LocalDate.of(2025, 6, 21),
                        List.of(Species.PEPO)))) {
            assertThat(window.sun()).isEqualTo(Sun.UNKNOWN);
            assertThat(window.opens()).isEmpty();
            assertThat(window.limit()).isEqualTo(Instant.parse("2025-06-21T08:00:00Z"));
        }
    }

    @Test
    void temperaturesOnlyWarn() {
        assertThat(Warmth.of(null, null)).isEmpty();
        assertThat(Warmth.of(15.0, 28.0)).isEmpty();
        assertThat(Warmth.of(6.0, 24.0)).containsExactly(Warmth.COOL);
        assertThat(Warmth.of(18.0, 34.0)).containsExactly(Warmth.HOT);
        assertThat(Warmth.of(6.0, 34.0)).containsExactly(Warmth.COOL, Warmth.HOT);
    }

    @ParameterizedTest
    @CsvSource({"90.1, 0", "-91, 0", "0, 180.5", "0, -181", "NaN, 0", "0, NaN", "Infinity, 0"})
    void whatIsNoPlaceIsRefused(double latitude, double longitude) {
        assertThatIllegalArgumentException().isThrownBy(() -> new Place(latitude, longitude));
    }
}
