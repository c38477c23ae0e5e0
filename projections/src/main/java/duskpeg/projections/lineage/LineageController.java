package duskpeg.projections.lineage;

import duskpeg.core.act.OfficeEvent;
import duskpeg.core.crew.People;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.lot.Admission;
import duskpeg.core.lot.Lot;
import duskpeg.core.lot.LotEvent;
import duskpeg.core.lot.LotId;
import duskpeg.core.lot.Lots;
import duskpeg.projections.Office;
import duskpeg.projections.farm.CurrentFarm;
import duskpeg.projections.lineage.Bulks.BulkView;
import duskpeg.projections.lineage.Pairings.PairingView;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;
import org.springframework.web.server.ResponseStatusException;

/** Pairing advice and balanced bulks as pages and as JSON. */
@Controller
class LineageController {

    private static final double MOST_GRAMS = 1_000_000;

    private final Pairings pairings;
    private final Bulks bulks;
    private final CurrentFarm current;
    private final Index index;
    private final People people;
    private final Office office;

    LineageController(Pairings pairings, Bulks bulks, CurrentFarm current, Index index, People people, Office office) {
        this.pairings = pairings;
        this.bulks = bulks;
        this.current = current;
        this.index = index;
        this.people = people;
        this.office = office;
    }

    @GetMapping("/api/pairing")
    @ResponseBody
    PairingView pairing(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable
                    LocalDate morning) {
        FarmId id = current.farm(farm);
        return pairings.advice(id, current.morning(id, morning));
    }

    @GetMapping("/pairing")
    String pairing(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate morning,
            Model model) {
        model.addAttribute("advice", pairing(farm, morning));
        return "pairing";
    }

    @GetMapping("/api/bulk")
    @ResponseBody
    BulkView bulk(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(defaultValue = "") String cultivar,
            @RequestParam(defaultValue = "") String grams) {
        try {
            return bulks.bulk(current.farm(farm), cultivar, grams(grams));
        } catch (IllegalArgumentException e) {
            throw new ResponseStatusException(HttpStatus.UNPROCESSABLE_ENTITY, e.getMessage(), e);
        }
    }

    private static double grams(String said) {
        try {
            double grams = Double.parseDouble(said.strip().replace(',', '.'));
            if (grams >= 0.1 && grams <= MOST_GRAMS) {
                return grams;
            }
        } catch (NumberFormatException e) {
            // said below
        }
        throw new IllegalArgumentException("say how many grams, from 0.1 on");
    }

    @GetMapping("/bulk")
    String bulk(@RequestParam Map<String, String> form, Model model, HttpServletResponse response) {
        FarmId farm = current.farm(form.get("farm"));
        model.addAttribute("farm", farm.value());
        model.addAttribute("cultivars", bulks.cultivars(farm));
        model.addAttribute("supervisors", people.those(index.workers(farm, Role.SUPERVISOR)));
        model.addAttribute("form", form);
        if (form.containsKey("grams")) {
            try {
                model.addAttribute(
                        "bulk", bulks.bulk(farm, form.getOrDefault("cultivar", ""), grams(form.get("grams"))));
            } catch (IllegalArgumentException e) {
                response.setStatus(HttpStatus.UNPROCESSABLE_ENTITY.value());
                model.addAttribute("problem", "It can't be said: " + e.getMessage() + ".");
            }
        }
        return "bulk";
    }

    /** Draws what is proposed into a lot that was begun: reckoned anew, so that it is what is there now. */
    @PostMapping("/bulk")
    String draw(@RequestParam Map<String, String> form, Model model, HttpServletResponse response) {
        FarmId farm = current.farm(form.get("farm"));
        try {
            BulkView bulk = bulks.bulk(farm, form.getOrDefault("cultivar", ""), grams(form.getOrDefault("grams", "")));
            LotId to = bulks.begun(farm, form.getOrDefault("to", "").strip().toUpperCase(Locale.ROOT))
                    .orElseThrow(() -> new IllegalArgumentException("begin the lot first"));
            WorkerId worker = office.by(farm, form.get("by"));
            Instant now = office.now();
            LocalDate today = index.settings(farm).dateAt(now);
            Lots lots = index.lots(farm);
            Lot into = lots.lot(to).orElseThrow();
            List<OfficeEvent> drawn = new ArrayList<>();
            for (Bulks.Part part : bulk.parts()) {
                if (part.grams() > 0) {
                    LotId from = new LotId(farm, part.lot());
                    if (from.equals(to)) {
                        throw new IllegalArgumentException("choose another lot");
                    }
                    List<String> against = Admission.against(lots.lot(from).orElseThrow(), into, lots);
                    if (!against.isEmpty()) {
                        throw new IllegalArgumentException(
                                "this stands against it: " + against.get(0).replaceFirst("\\.$", ""));
                    }
                    drawn.add(new LotEvent.Drawn(from, to, today, part.grams(), worker, now));
                }
            }
            office.enter(drawn);
            return "redirect:/lot/" + to.name() + "?farm=" + farm.value();
        } catch (IllegalArgumentException e) {
            String page = bulk(form, model, response);
            Office.refused(e, model, response);
            return page;
        }
    }
}
