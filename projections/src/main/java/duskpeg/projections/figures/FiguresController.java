package duskpeg.projections.figures;

import duskpeg.core.act.OfficeEvent;
import duskpeg.core.crew.People;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.csv.Import;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.Standards;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.published.Change;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import duskpeg.projections.Office;
import duskpeg.projections.farm.CurrentFarm;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;

/** The tables as a page and as JSON; what a farm goes by is entered here. */
@Controller
class FiguresController {

    private final CurrentFarm current;
    private final Index index;
    private final People people;
    private final Office office;

    FiguresController(CurrentFarm current, Index index, People people, Office office) {
        this.current = current;
        this.index = index;
        this.people = people;
        this.office = office;
    }

    /** A table on the page. */
    record TableView(String word, String title, List<FigureView> figures) {}

    /** Which rows the farm goes by, and the rows it may choose from. */
    record Choice(String name, String title, @Nullable String chosen, List<FigureView> figures) {}

    @GetMapping("/api/figures")
    @ResponseBody
    List<FigureView> api(@RequestParam(required = false) @Nullable String farm) {
        Published published = index.published(current.farm(farm));
        return Arrays.stream(Table.values())
                .flatMap(table -> figures(published, table).stream())
                .toList();
    }

    @GetMapping("/figures")
    String page(@RequestParam(required = false) @Nullable String farm, Model model) {
        return page(current.farm(farm), Map.of(), model);
    }

    private String page(FarmId farm, Map<String, String> form, Model model) {
        Published published = index.published(farm);
        Standards standards = index.standards(farm);
        model.addAttribute("farm", farm.value());
        model.addAttribute(
                "tables",
                Arrays.stream(Table.values())
                        .map(table -> new TableView(table.word(), table.title(), figures(published, table)))
                        .toList());
        model.addAttribute(
                "choices",
                List.of(
                        choice("germination", Table.GERMINATION_MINIMUM, standards.germination(), published),
                        choice("moisture", Table.SEED_MOISTURE, standards.moisture(), published),
                        choice("isolation", Table.ISOLATION, standards.isolation(), published),
                        choice("offTypes", Table.OFF_TYPES, standards.offTypes(), published)));
        model.addAttribute("supervisors", people.those(index.workers(farm, Role.SUPERVISOR)));
        model.addAttribute("form", form);
        return "figures";
    }

    private static Choice choice(String name, Table table, @Nullable String chosen, Published published) {
        return new Choice(name, table.title(), chosen, figures(published, table));
    }

    private static List<FigureView> figures(Published published, Table table) {
        return published.rows(table).stream().map(FigureView::of).toList();
    }

    /** Says which published figures the farm goes by. */
    @PostMapping("/figures/choose")
    String choose(@RequestParam Map<String, String> form, Model model, HttpServletResponse response) {
        FarmId farm = current.farm(form.get("farm"));
        Published published = index.published(farm);
        return enter(farm, form, model, response, by -> {
            String isolation = chosen(form, "isolation", Table.ISOLATION, published);
            Standards standards = new Standards(
                    chosen(form, "germination", Table.GERMINATION_MINIMUM, published),
                    chosen(form, "moisture", Table.SEED_MOISTURE, published),
                    isolation,
                    metres(isolation, published),
                    chosen(form, "offTypes", Table.OFF_TYPES, published));
            return List.of(new FarmEvent.StandardsChosen(farm, standards, by, office.now()));
        });
    }

    private static @Nullable String chosen(Map<String, String> form, String name, Table table, Published published) {
        String id = form.getOrDefault(name, "");
        if (id.isEmpty()) {
            return null;
        }
        return published.rows(table).stream()
                .map(Row::id)
                .filter(id::equals)
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("there is no row " + id));
    }

    /** Puts a figure of the farm's own in the place of a published one. */
    @PostMapping("/figures/change")
    String change(@RequestParam Map<String, String> form, Model model, HttpServletResponse response) {
        FarmId farm = current.farm(form.get("farm"));
        return enter(farm, form, model, response, by -> {
            String figure = form.getOrDefault("figure", "");
            int slash = figure.indexOf('/');
            Table table = Arrays.stream(Table.values())
                    .filter(one -> slash > 0 && one.word().equals(figure.substring(0, slash)))
                    .findFirst()
                    .orElseThrow(() -> new IllegalArgumentException("choose which figure"));
            Change change = new Change(
                    table,
                    figure.substring(slash + 1),
                    form.getOrDefault("value", "").strip(),
                    form.getOrDefault("source", "").strip(),
                    form.getOrDefault("edition", "").strip(),
                    by);
            return changed(farm, List.of(change), by);
        });
    }

    /** With a figure that the farm goes by, what it goes by is said anew. */
    private List<OfficeEvent> changed(FarmId farm, List<Change> changes, WorkerId by) {
        // Refused here in words, where it does not fit.
        Published after = index.published(farm).with(changes);
        Instant now = office.now();
        List<OfficeEvent> events = new ArrayList<>();
        changes.forEach(change -> events.add(new FarmEvent.FigureChanged(farm, change, now)));
        Standards standards = index.standards(farm);
        Integer metres = metres(standards.isolation(), after);
        if (!Objects.equals(metres, standards.isolationMetres())) {
            events.add(new FarmEvent.StandardsChosen(
                    farm,
                    new Standards(
                            standards.germination(),
                            standards.moisture(),
                            standards.isolation(),
                            metres,
                            standards.offTypes()),
                    by,
                    now));
        }
        return events;
    }

    private static @Nullable Integer metres(@Nullable String isolation, Published published) {
        return isolation == null
                ? null
                : published.rows(Table.ISOLATION).stream()
                        .filter(row -> row.id().equals(isolation))
                        .map(row -> row.number().intValue())
                        .findFirst()
                        .orElse(null);
    }

    /** Changes of a file; all of them or none. */
    @PostMapping("/figures/file")
    String file(@RequestParam Map<String, String> form, Model model, HttpServletResponse response) {
        FarmId farm = current.farm(form.get("farm"));
        return enter(farm, form, model, response, by -> {
            Import<Change> read = index.published(farm).readChanges(form.getOrDefault("csv", ""), by);
            if (read instanceof Import.Refused<Change> refused) {
                model.addAttribute("problems", refused.problems());
                throw new IllegalArgumentException("these lines can't be taken, so none was");
            }
            return changed(farm, ((Import.Taken<Change>) read).rows(), by);
        });
    }

    private String enter(
            FarmId farm,
            Map<String, String> form,
            Model model,
            HttpServletResponse response,
            Function<WorkerId, List<? extends OfficeEvent>> events) {
        return office.enters(farm, form, model, response, events)
                ? "redirect:/figures?farm=" + farm.value()
                : page(farm, form, model);
    }
}
