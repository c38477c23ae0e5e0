package duskpeg.projections.plantings;

import duskpeg.core.act.OfficeEvent;
import duskpeg.core.crew.People;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.csv.Import;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.isolation.Isolation;
import duskpeg.core.isolation.PlantingPlan;
import duskpeg.core.lot.Lots;
import duskpeg.core.planting.Neighbour;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.Species;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import duskpeg.projections.Office;
import duskpeg.projections.farm.CurrentFarm;
import duskpeg.projections.plantings.PlantingView.NearView;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;

/** Plantings as a page and as JSON; what is near them and the planting plan are entered here. */
@Controller
class PlantingsController {

    private static final int LONGEST = 60;
    private static final int FURTHEST = 100_000;

    private final CurrentFarm current;
    private final Index index;
    private final People people;
    private final Office office;

    PlantingsController(CurrentFarm current, Index index, People people, Office office) {
        this.current = current;
        this.index = index;
        this.people = people;
        this.office = office;
    }

    /** All of it. */
    record PlantingsView(String farm, List<PlantingView> plantings, List<NearView> near) {}

    @GetMapping("/api/plantings")
    @ResponseBody
    PlantingsView api(@RequestParam(required = false) @Nullable String farm) {
        return view(current.farm(farm));
    }

    private PlantingsView view(FarmId farm) {
        List<Planting> plantings = index.plantings(farm);
        Published published = index.published(farm);
        Lots lots = index.lots(farm);
        String goesBy = index.standards(farm).isolation();
        Row wanted = published.rows(Table.ISOLATION).stream()
                .filter(row -> row.id().equals(goesBy))
                .findFirst()
                .orElse(null);
        return new PlantingsView(
                farm.value(),
                plantings.stream().map(one -> PlantingView.of(one, lots)).toList(),
                Isolation.of(plantings, index.neighbours(farm), published, wanted).stream()
                        .map(NearView::of)
                        .toList());
    }

    @GetMapping("/plantings")
    String page(@RequestParam(required = false) @Nullable String farm, Model model) {
        return page(current.farm(farm), Map.of(), model);
    }

    private String page(FarmId farm, Map<String, String> form, Model model) {
        model.addAttribute("view", view(farm));
        model.addAttribute("goesBy", index.standards(farm).isolation());
        model.addAttribute("species", Species.values());
        model.addAttribute("columns", String.join(",", PlantingPlan.COLUMNS));
        model.addAttribute("supervisors", people.those(index.workers(farm, Role.SUPERVISOR)));
        model.addAttribute("form", form);
        return "plantings";
    }

    /** Enters how far something is from a planting. */
    @PostMapping("/plantings/near")
    String near(@RequestParam Map<String, String> form, Model model, HttpServletResponse response) {
        FarmId farm = current.farm(form.get("farm"));
        return enter(farm, form, model, response, by -> {
            String planting = form.getOrDefault("planting", "");
            if (index.plantings(farm).stream().noneMatch(one -> one.name().equals(planting))) {
                throw new IllegalArgumentException("choose the planting");
            }
            return List.of(new FarmEvent.Measured(farm, planting, neighbour(farm, form, planting), by, office.now()));
        });
    }

    private Neighbour neighbour(FarmId farm, Map<String, String> form, String planting) {
        String name = form.getOrDefault("name", "").strip();
        if (name.isEmpty() || name.length() > LONGEST || name.equals(planting)) {
            throw new IllegalArgumentException("say what is near it, in at most " + LONGEST + " characters");
        }
        String metres = form.getOrDefault("metres", "").strip();
        if (!metres.matches("[0-9]{1,6}") || Integer.parseInt(metres) > FURTHEST) {
            throw new IllegalArgumentException("metres are a whole number up to " + FURTHEST);
        }
        // Of a planting of the farm's own the species is known.
        Species species = index.plantings(farm).stream()
                .filter(one -> one.name().equals(name))
                .map(Planting::species)
                .findFirst()
                .or(() -> Arrays.stream(Species.values())
                        .filter(one -> one.name().equals(form.get("species")))
                        .findFirst())
                .orElseThrow(() -> new IllegalArgumentException("choose its species"));
        return new Neighbour(name, species, Integer.parseInt(metres));
    }

    /** Takes a planting plan, all of it or nothing. */
    @PostMapping("/plantings/plan")
    String plan(@RequestParam Map<String, String> form, Model model, HttpServletResponse response) {
        FarmId farm = current.farm(form.get("farm"));
        return enter(farm, form, model, response, by -> {
            Import<Planting> read = PlantingPlan.read(form.getOrDefault("csv", ""), farm, index.plantings(farm));
            if (read instanceof Import.Refused<Planting> refused) {
                model.addAttribute("problems", refused.problems());
                throw new IllegalArgumentException("these lines can't be taken, so none was");
            }
            Instant now = office.now();
            List<FarmEvent.LaidOut> laidOut = ((Import.Taken<Planting>) read)
                    .rows().stream()
                            .map(planting -> new FarmEvent.LaidOut(farm, planting, by, now))
                            .toList();
            if (laidOut.isEmpty()) {
                throw new IllegalArgumentException("there is no planting in it");
            }
            return laidOut;
        });
    }

    private String enter(
            FarmId farm,
            Map<String, String> form,
            Model model,
            HttpServletResponse response,
            Function<WorkerId, List<? extends OfficeEvent>> events) {
        return office.enters(farm, form, model, response, events)
                ? "redirect:/plantings?farm=" + farm.value()
                : page(farm, form, model);
    }
}
