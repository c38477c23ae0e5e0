package duskpeg.projections.history;

import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.projections.farm.CurrentFarm;
import jakarta.servlet.http.HttpServletResponse;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
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
    private final Index index;
    private final CurrentFarm current;

    FruitController(Histories histories, Index index, CurrentFarm current) {
        this.histories = histories;
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
        return find(farm, tie)
                .orElseThrow(() -> new ResponseStatusException(
                        HttpStatus.NOT_FOUND, "No report of a fruit with tie " + tie + " stands on this farm."));
    }

    /** Leading zeros may be left out: a path holds nothing else that a number could mean. */
    private Optional<FruitView> find(@Nullable String farm, String tie) {
        FarmId id = current.farm(farm);
        int width = index.settings(id).tieWidth();
        return tie.matches("[0-9]{1," + width + "}")
                ? histories.fruit(new FruitId(id, new TieNumber("0".repeat(width - tie.length()) + tie)))
                : Optional.empty();
    }
}
