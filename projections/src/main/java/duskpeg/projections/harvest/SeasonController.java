package duskpeg.projections.harvest;

import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.harvest.Season;
import duskpeg.projections.farm.CurrentFarm;
import duskpeg.projections.harvest.SeasonView.Between;
import duskpeg.projections.harvest.SeasonView.Learnt;
import duskpeg.projections.harvest.SeasonView.Yield;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.apache.commons.csv.CSVFormat;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;
import org.springframework.web.server.ResponseStatusException;

/** A season as a page, as JSON and as CSV. */
@Controller
class SeasonController {

    private static final int EARLIEST = 1900;
    private static final int LATEST = 2999;

    private static final String[] COLUMNS = {
        "season",
        "planting",
        "cultivar",
        "pegged",
        "tied",
        "with_tie_number",
        "lost",
        "on_vine",
        "culled",
        "brought_in",
        "brought_in_without_tie",
        "cut_without_tie",
        "cultivar_grams_per_fruit",
        "cultivar_grams_per_fruit_low",
        "cultivar_grams_per_fruit_high"
    };

    private final Seasons seasons;
    private final CurrentFarm current;
    private final Index index;
    private final Clock clock;

    SeasonController(Seasons seasons, CurrentFarm current, Index index, Clock clock) {
        this.seasons = seasons;
        this.current = current;
        this.index = index;
        this.clock = clock;
    }

    /**
     * A season.
     *
     * @param year the year in which it begins; where it is not given, today's season, or the last one in which a tie was
     *     put on, where in today's none was yet
     */
    @GetMapping("/api/season")
    @ResponseBody
    SeasonView api(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @Nullable Integer year) {
        return view(current.farm(farm), year);
    }

    @GetMapping("/season")
    String page(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @Nullable Integer year,
            Model model) {
        model.addAttribute("season", view(current.farm(farm), year));
        return "season";
    }

    /** The season's plantings, one in a line, with what fruit of their cultivar gives; nothing where that is not known. */
    @GetMapping("/api/season.csv")
    ResponseEntity<String> csv(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @Nullable Integer year) {
        SeasonView season = view(current.farm(farm), year);
        StringBuilder csv = new StringBuilder();
        try (var printer = CSVFormat.RFC4180.builder().setHeader(COLUMNS).get().print(csv)) {
            for (Yield one : season.plantings()) {
                printer.printRecord(line(season, one));
            }
        } catch (IOException e) {
            throw new UncheckedIOException("a builder of strings can always be written to", e);
        }
        return ResponseEntity.ok()
                .contentType(MediaType.parseMediaType("text/csv; charset=utf-8"))
                .header(HttpHeaders.CONTENT_DISPOSITION, "attachment; filename=\"season-" + season.year() + ".csv\"")
                .body(csv.toString());
    }

    private static List<Object> line(SeasonView season, Yield one) {
        Optional<Between> grams = season.learnt().stream()
                .filter(learnt -> learnt.cultivar().equals(one.cultivar()))
                .findFirst()
                .map(Learnt::gramsPerFruit);
        List<Object> line = new ArrayList<>(List.of(
                season.season(),
                one.name(),
                Optional.ofNullable(one.cultivar()).orElse(""),
                one.pegged(),
                one.tied(),
                one.numbered(),
                one.lost(),
                one.onVine(),
                one.culled(),
                one.broughtIn(),
                one.withoutTie(),
                one.cut()));
        line.add(grams.<Object>map(Between::middle).orElse(""));
        line.add(grams.<Object>map(Between::low).orElse(""));
        line.add(grams.<Object>map(Between::high).orElse(""));
        return line;
    }

    private SeasonView view(FarmId farm, @Nullable Integer year) {
        FarmSettings settings = index.settings(farm);
        LocalDate today = settings.dateAt(clock.instant());
        if (year != null) {
            if (year < EARLIEST || year > LATEST) {
                throw new ResponseStatusException(HttpStatus.BAD_REQUEST, "A year is from 1900 to 2999.");
            }
            return seasons.of(farm, Season.of(settings, year), today);
        }
        SeasonView now = seasons.of(farm, Season.of(settings, today), today);
        return now.mornings().isEmpty()
                ? now.years().stream()
                        .filter(one -> one < now.year())
                        .findFirst()
                        .map(last -> seasons.of(farm, Season.of(settings, last), today))
                        .orElse(now)
                : now;
    }
}
