package duskpeg.projections.history;

import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.purity.Rules;
import duskpeg.projections.farm.CurrentFarm;
import duskpeg.projections.history.Verdicts.VerdictView;
import jakarta.servlet.http.HttpServletResponse;
import java.time.OffsetDateTime;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;
import org.springframework.web.server.ResponseStatusException;

/** The history of a fruit as a page and as JSON. */
@Controller
class FruitController {

    private final Histories histories;
    private final Verdicts verdicts;
    private final Index index;
    private final CurrentFarm current;

    FruitController(Histories histories, Verdicts verdicts, Index index, CurrentFarm current) {
        this.histories = histories;
        this.verdicts = verdicts;
        this.index = index;
        this.current = current;
    }

    @GetMapping("/fruit/{tie}")
    String page(
            @PathVariable String tie,
            @RequestParam(required = false) @Nullable String farm,
            Model model,
            HttpServletResponse response) {
        Optional<FruitView> fruit = find(farm, tie);
        model.addAttribute("tie", tie);
        model.addAttribute("fruit", fruit.orElse(null));
        model.addAttribute(
                "verdict",
                id(farm, tie)
                        .flatMap(id -> verdicts.of(id, Rules.latest(), null))
                        .orElse(null));
        if (fruit.isEmpty()) {
            response.setStatus(HttpStatus.NOT_FOUND.value());
        }
        return "fruit";
    }

    /** Where the search box of a page leads. */
    @GetMapping("/fruit")
    String search(@RequestParam(defaultValue = "") String tie) {
        String digits = tie.replaceAll("[^0-9]", "");
        return "redirect:/fruit/" + (digits.isEmpty() ? "0" : digits);
    }

    @GetMapping("/api/fruit/{tie}")
    @ResponseBody
    FruitView api(@PathVariable String tie, @RequestParam(required = false) @Nullable String farm) {
        return find(farm, tie).orElseThrow(() -> noReport(tie));
    }

    /**
     * The verdict on a fruit.
     *
     * @param at what was heard later is left out: ISO-8601 with offset; all that is known where it is not given
     * @param rules the version of the rules; the latest where it is not given
     */
    @GetMapping("/api/fruit/{tie}/verdict")
    @ResponseBody
    VerdictView verdict(
            @PathVariable String tie,
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE_TIME) @Nullable
                    OffsetDateTime at,
            @RequestParam(required = false) @Nullable String rules) {
        Rules by = rules == null
                ? Rules.latest()
                : Rules.of(rules)
                        .orElseThrow(() -> new ResponseStatusException(
                                HttpStatus.BAD_REQUEST, "There are no rules " + rules + "."));
        return id(farm, tie)
                .flatMap(id -> verdicts.of(id, by, at == null ? null : at.toInstant()))
                .orElseThrow(() -> noReport(tie));
    }

    private static ResponseStatusException noReport(String tie) {
        return new ResponseStatusException(
                HttpStatus.NOT_FOUND, "No report of a fruit with tie " + tie + " stands on this farm.");
    }

    private Optional<FruitView> find(@Nullable String farm, String tie) {
        return id(farm, tie).flatMap(histories::fruit);
    }

    /** Leading zeros may be left out: a path holds nothing else that a number could mean. */
    private Optional<FruitId> id(@Nullable String farm, String tie) {
        FarmId id = current.farm(farm);
        int width = index.settings(id).tieWidth();
        return tie.matches("[0-9]{1," + width + "}")
                ? Optional.of(new FruitId(id, TieNumber.of(Long.parseLong(tie), width)))
                : Optional.empty();
    }
}
