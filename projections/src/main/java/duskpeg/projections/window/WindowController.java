package duskpeg.projections.window;

import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.farm.Place;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.planting.Species;
import duskpeg.core.window.Sun;
import duskpeg.core.window.Warmth;
import duskpeg.core.window.Window;
import duskpeg.projections.farm.CurrentFarm;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.server.ResponseStatusException;

/** The window of any morning: of the farm, or of any place. */
@RestController
class WindowController {

    private static final double COLDEST = -60;
    private static final double HOTTEST = 60;

    private final Windows windows;
    private final CurrentFarm current;
    private final Index index;

    WindowController(Windows windows, CurrentFarm current, Index index) {
        this.windows = windows;
        this.current = current;
        this.index = index;
    }

    /**
     * The window.
     *
     * @param lat degrees north, with {@code lon}; without both, the farm's own place
     * @param lon degrees east
     * @param zone IANA time zone or offset; without it, the farm's own
     * @param species a species' epithet; without it, all that the farm grows
     * @param dawnTemp temperature at dawn in degrees Celsius, for warnings
     * @param highTemp highest temperature before the limit in degrees Celsius, for warnings
     * @throws ResponseStatusException 400 if anything can't be read or is out of its range
     */
    @GetMapping("/api/window")
    WindowView window(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @Nullable String date,
            @RequestParam(required = false) @Nullable String lat,
            @RequestParam(required = false) @Nullable String lon,
            @RequestParam(required = false) @Nullable String zone,
            @RequestParam(required = false) @Nullable String species,
            @RequestParam(required = false) @Nullable String dawnTemp,
            @RequestParam(required = false) @Nullable String highTemp) {
        FarmId id = current.farm(farm);
        FarmSettings own = index.settings(id);
        FarmSettings settings = new FarmSettings(
                zone == null ? own.zone() : read("zone", zone, ZoneId::of),
                own.target(),
                own.limit(),
                own.tieWidth(),
                lat == null && lon == null ? own.place() : place(lat, lon));
        LocalDate morning = date == null ? current.morning(id, null) : read("date", date, LocalDate::parse);
        if (!Sun.isCalculatedFor(morning)) {
            throw bad("date must be of the years " + Sun.FIRST_YEAR + " to " + Sun.LAST_YEAR);
        }
        List<Species> asked = species == null ? windows.species(id) : List.of(species(species));
        return WindowView.of(
                settings,
                Window.of(settings, morning, asked),
                Warmth.of(temperature("dawnTemp", dawnTemp), temperature("highTemp", highTemp)));
    }

    private static Place place(@Nullable String lat, @Nullable String lon) {
        if (lat == null || lon == null) {
            throw bad("lat and lon go together");
        }
        double latitude = read("lat", lat, Double::parseDouble);
        double longitude = read("lon", lon, Double::parseDouble);
        return read("lat and lon", lat + ", " + lon, text -> new Place(latitude, longitude));
    }

    private static Species species(String epithet) {
        return read("species", epithet, name -> Species.valueOf(name.toUpperCase(Locale.ROOT)));
    }

    private static @Nullable Double temperature(String name, @Nullable String text) {
        if (text == null) {
            return null;
        }
        double degrees = read(name, text, Double::parseDouble);
        if (!(degrees >= COLDEST && degrees <= HOTTEST)) {
            throw bad(name + " must be in degrees Celsius, " + COLDEST + " to " + HOTTEST);
        }
        return degrees;
    }

    private static <T> T read(String name, String text, Function<String, T> reader) {
        try {
            return reader.apply(text);
        } catch (DateTimeException | IllegalArgumentException e) {
            throw bad(name + " could not be read, or out of range");
        }
    }

    private static ResponseStatusException bad(String why) {
        return new ResponseStatusException(HttpStatus.BAD_REQUEST, why);
    }
}
