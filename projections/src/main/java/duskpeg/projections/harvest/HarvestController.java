package duskpeg.projections.harvest;

import duskpeg.core.crew.People;
import duskpeg.core.crew.Role;
import duskpeg.core.csv.Import;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.maturity.DayTemperature;
import duskpeg.core.maturity.Temperatures;
import duskpeg.core.planting.RowId;
import duskpeg.projections.Office;
import duskpeg.projections.farm.CurrentFarm;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Clock;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;

/** Culling rounds and the harvest as pages and as JSON. */
@Controller
class HarvestController {

    private final Culls culls;
    private final Harvests harvests;
    private final CurrentFarm current;
    private final Index index;
    private final People people;
    private final Office office;
    private final Clock clock;

    HarvestController(
            Culls culls,
            Harvests harvests,
            CurrentFarm current,
            Index index,
            People people,
            Office office,
            Clock clock) {
        this.culls = culls;
        this.harvests = harvests;
        this.current = current;
        this.index = index;
        this.people = people;
        this.office = office;
        this.clock = clock;
    }

    /**
     * Culling rounds.
     *
     * @param day as they stood at its end, farm time; today where it is not given
     */
    @GetMapping("/api/cull")
    @ResponseBody
    CullView cull(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate day) {
        FarmId id = current.farm(farm);
        return culls.on(id, day(id, day));
    }

    @GetMapping("/cull")
    String cull(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate day,
            Model model) {
        FarmId id = current.farm(farm);
        return cull(id, day(id, day), model);
    }

    private String cull(FarmId farm, LocalDate day, Model model) {
        model.addAttribute("cull", culls.on(farm, day));
        model.addAttribute("crew", people.all(farm));
        return "cull";
    }

    /** Rows were looked over, and there was nothing to cut. */
    @PostMapping("/cull/looked")
    String looked(
            @RequestParam Map<String, String> form,
            @RequestParam(name = "row", required = false) @Nullable List<String> rows,
            Model model,
            HttpServletResponse response) {
        FarmId farm = current.farm(form.get("farm"));
        LocalDate today = today(farm);
        try {
            LocalDate on = date(form.getOrDefault("on", ""));
            if (on.isAfter(today)) {
                throw new IllegalArgumentException(on + " is still to come");
            }
            if (rows == null || rows.isEmpty()) {
                throw new IllegalArgumentException("tick the rows");
            }
            List<RowId> looked = rows.stream()
                    .map(row -> new RowId(farm, row.strip()))
                    .distinct()
                    .toList();
            looked.stream().filter(row -> !index.hasRow(row)).findFirst().ifPresent(row -> {
                throw new IllegalArgumentException("there is no row " + row.label());
            });
            office.enter(
                    List.of(new FarmEvent.LookedOver(farm, looked, on, office.by(farm, form.get("by")), office.now())));
            return "redirect:/cull?farm=" + farm.value() + "&day=" + on;
        } catch (IllegalArgumentException e) {
            Office.refused(e, model, response);
            return cull(farm, today, model);
        }
    }

    /**
     * The harvest.
     *
     * @param day as it stood at its end, farm time; today where it is not given
     */
    @GetMapping("/api/harvest")
    @ResponseBody
    HarvestView harvest(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate day) {
        FarmId id = current.farm(farm);
        return harvests.on(id, day(id, day));
    }

    @GetMapping("/harvest")
    String harvest(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate day,
            Model model) {
        FarmId id = current.farm(farm);
        return harvest(id, day(id, day), Map.of(), model);
    }

    private String harvest(FarmId farm, LocalDate day, Map<String, String> form, Model model) {
        model.addAttribute("harvest", harvests.on(farm, day));
        model.addAttribute("supervisors", people.those(index.workers(farm, Role.SUPERVISOR)));
        model.addAttribute("form", form);
        return "harvest";
    }

    /** Temperatures of days; all of the text or nothing of it. */
    @PostMapping("/harvest/temperatures")
    String temperatures(@RequestParam Map<String, String> form, Model model, HttpServletResponse response) {
        FarmId farm = current.farm(form.get("farm"));
        LocalDate today = today(farm);
        try {
            Import<DayTemperature> read = Temperatures.read(form.getOrDefault("csv", ""));
            if (read instanceof Import.Refused<DayTemperature> refused) {
                model.addAttribute("problems", refused.problems());
                throw new IllegalArgumentException("these lines can't be taken, so none was");
            }
            List<DayTemperature> days = ((Import.Taken<DayTemperature>) read).rows();
            if (days.isEmpty()) {
                throw new IllegalArgumentException("there is no day in it");
            }
            days.stream().filter(one -> one.date().isAfter(today)).findFirst().ifPresent(one -> {
                throw new IllegalArgumentException(one.date() + " is still to come");
            });
            office.enter(List.of(
                    new FarmEvent.TemperaturesEntered(farm, days, office.by(farm, form.get("by")), office.now())));
            return "redirect:/harvest?farm=" + farm.value();
        } catch (IllegalArgumentException e) {
            Office.refused(e, model, response);
            return harvest(farm, today, form, model);
        }
    }

    private static LocalDate date(String text) {
        try {
            return LocalDate.parse(text.strip());
        } catch (DateTimeException e) {
            throw new IllegalArgumentException("say the day", e);
        }
    }

    private LocalDate day(FarmId farm, @Nullable LocalDate asked) {
        return asked == null ? today(farm) : asked;
    }

    private LocalDate today(FarmId farm) {
        return index.settings(farm).dateAt(clock.instant());
    }
}
