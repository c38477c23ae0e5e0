package duskpeg.projections.plan;

import duskpeg.core.crew.People;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.day.DayEvent;
import duskpeg.core.day.DayId;
import duskpeg.core.day.Duty;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.FieldBook;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.forecast.Forecast.Finish;
import duskpeg.core.plan.Plan;
import duskpeg.core.planting.Planting;
import duskpeg.core.text.Tell;
import duskpeg.projections.board.Forecasts;
import duskpeg.projections.farm.CurrentFarm;
import duskpeg.projections.lineage.Pairings;
import duskpeg.projections.plan.PlanView.CrowdedView;
import duskpeg.projections.plan.PlanView.CultivarView;
import duskpeg.projections.plan.PlanView.HandView;
import duskpeg.projections.plan.PlanView.PlantingView;
import duskpeg.projections.plan.PlanView.WarningView;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.format.DateTimeParseException;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.jspecify.annotations.Nullable;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.format.annotation.DateTimeFormat.ISO;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.util.MultiValueMap;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;

/** The plan as a page and as JSON; who comes is entered here, and told. */
@Controller
class PlanController {

    private final Plans plans;
    private final Forecasts forecasts;
    private final Pairings pairings;
    private final CurrentFarm current;
    private final Index index;
    private final People people;
    private final CommandGateway commands;
    private final Clock clock;

    PlanController(
            Plans plans,
            Forecasts forecasts,
            Pairings pairings,
            CurrentFarm current,
            Index index,
            People people,
            CommandGateway commands,
            Clock clock) {
        this.plans = plans;
        this.forecasts = forecasts;
        this.pairings = pairings;
        this.current = current;
        this.index = index;
        this.people = people;
        this.commands = commands;
        this.clock = clock;
    }

    @GetMapping("/api/plan")
    @ResponseBody
    PlanView api(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = ISO.DATE) @Nullable LocalDate morning) {
        FarmId id = current.farm(farm);
        return view(id, current.morning(id, morning));
    }

    @GetMapping("/plan")
    String page(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @DateTimeFormat(iso = ISO.DATE) @Nullable LocalDate morning,
            @RequestParam(required = false) @Nullable String done,
            Model model) {
        FarmId id = current.farm(farm);
        model.addAttribute("done", done);
        return page(id, current.morning(id, morning), model);
    }

    private String page(FarmId farm, LocalDate morning, Model model) {
        FarmSettings settings = index.settings(farm);
        model.addAttribute("plan", view(farm, morning));
        model.addAttribute("pairing", pairings.advice(farm, morning));
        model.addAttribute("target", settings.target());
        model.addAttribute("limit", settings.limit());
        model.addAttribute(
                "plantings", index.plantings(farm).stream().map(Planting::name).toList());
        model.addAttribute("supervisors", people.those(index.workers(farm, Role.SUPERVISOR)));
        return "plan";
    }

    private PlanView view(FarmId farm, LocalDate morning) {
        ZoneId zone = index.settings(farm).zone();
        Plan plan = plans.plan(farm, morning);
        Plans.Work work = plans.work(farm, morning, clock.instant());
        Finish finish = work.finish();
        return new PlanView(
                farm.value(),
                morning,
                plan.females(),
                plan.plantings().stream().map(PlantingView::of).toList(),
                plan.cultivars().stream().map(CultivarView::of).toList(),
                plan.warnings().stream()
                        .map(warning -> new WarningView(
                                warning.row().label(),
                                warning.question().kind().word(),
                                warning.question().sentence()))
                        .toList(),
                plan.crowded().stream()
                        .map(one -> new CrowdedView(one.plant().label(), one.females()))
                        .toList(),
                crew(farm, morning),
                index.roster(farm, morning).isPresent(),
                forecasts.start(farm, morning).atZone(zone).toOffsetDateTime(),
                work.hours(),
                work.flowersAnHour(),
                time(finish, Finish::p10, zone),
                time(finish, Finish::p90, zone),
                finish == null ? null : finish.byTarget(),
                finish == null ? null : finish.byLimit(),
                work.room(),
                Plans.roomOfMales(plan.cultivars()));
    }

    private static @Nullable OffsetDateTime time(
            @Nullable Finish finish, Function<Finish, @Nullable Instant> quantile, ZoneId zone) {
        Instant at = finish == null ? null : quantile.apply(finish);
        return at == null
                ? null
                : at.truncatedTo(ChronoUnit.MINUTES).atZone(zone).toOffsetDateTime();
    }

    private List<HandView> crew(FarmId farm, LocalDate morning) {
        List<WorkerId> coming = forecasts.crew(farm, morning);
        Optional<DayEvent.Rostered> roster = index.roster(farm, morning);
        return people.all(farm).stream()
                .map(person -> {
                    Duty duty = roster.flatMap(one -> one.dutyOf(person.worker()))
                            .orElseGet(() -> new Duty(person.worker()));
                    return new HandView(
                            person.worker().pseudonym(),
                            person.name(),
                            coming.contains(person.worker()),
                            clock(duty.pauseFrom()),
                            clock(duty.pauseUntil()),
                            duty.notIn());
                })
                .toList();
    }

    private static @Nullable String clock(@Nullable LocalTime time) {
        return time == null ? null : time.toString();
    }

    /** Enters who comes, in the place of what was entered before. */
    @PostMapping("/plan/roster")
    String roster(
            @RequestParam(name = "morning", required = false) @DateTimeFormat(iso = ISO.DATE) @Nullable LocalDate asked,
            @RequestParam MultiValueMap<String, String> form,
            Model model,
            HttpServletResponse response) {
        FarmId farm = current.farm(form.getFirst("farm"));
        LocalDate morning = current.morning(farm, asked);
        try {
            enter(new DayEvent.Rostered(
                    new DayId(farm, morning),
                    time(form.getFirst("start")),
                    duties(farm, form),
                    new WorkerId(farm, String.valueOf(form.getFirst("by"))),
                    now()));
        } catch (IllegalArgumentException e) {
            response.setStatus(HttpStatus.UNPROCESSABLE_ENTITY.value());
            model.addAttribute("problem", "Nothing was entered: " + e.getMessage() + ".");
            return page(farm, morning, model);
        }
        return "redirect:/plan?farm=" + farm.value() + "&morning=" + morning + "&done=roster";
    }

    /** Tells everybody who is rostered, by a text; pressed twice within a minute it is told once. */
    @PostMapping("/plan/tell")
    String tell(@RequestParam String farm, @RequestParam @DateTimeFormat(iso = ISO.DATE) LocalDate morning) {
        FarmId id = current.farm(farm);
        FarmSettings settings = index.settings(id);
        Plan plan = plans.plan(id, morning);
        long rows = plan.plantings().stream()
                .flatMap(planting -> planting.rows().stream())
                .filter(row -> row.females() > 0)
                .count();
        LocalTime start = forecasts.start(id, morning).atZone(settings.zone()).toLocalTime();
        Map<String, String> values = Map.of(
                "day", morning.toString(),
                "count", Integer.toString(plan.females()),
                "in", Long.toString(rows),
                "start", start.truncatedTo(ChronoUnit.MINUTES).toString(),
                "until", settings.limit().toString());
        Instant now = now();
        for (WorkerId worker : forecasts.crew(id, morning)) {
            String once = "roster-" + morning + "-" + worker.pseudonym() + "-" + now.truncatedTo(ChronoUnit.MINUTES);
            commands.sendAndWait(new Tell(worker, "told.roster", values, once, now));
        }
        return "redirect:/plan?farm=" + id.value() + "&morning=" + morning + "&done=told";
    }

    private void enter(DayEvent event) {
        boolean entered = commands.sendAndWait(new FieldBook.Enter(event));
        if (!entered) {
            throw new IllegalArgumentException("choose the supervisor who enters it");
        }
    }

    private List<Duty> duties(FarmId farm, MultiValueMap<String, String> form) {
        List<Duty> duties = new ArrayList<>();
        for (WorkerId worker : index.workers(farm).keySet()) {
            String name = worker.pseudonym();
            if (form.getOrDefault("crew", List.of()).contains(name)) {
                duties.add(new Duty(
                        worker,
                        time(form.getFirst("pause-from-" + name)),
                        time(form.getFirst("pause-until-" + name)),
                        form.getOrDefault("not-in-" + name, List.of())));
            }
        }
        return duties;
    }

    private static @Nullable LocalTime time(@Nullable String said) {
        try {
            return said == null || said.isBlank() ? null : LocalTime.parse(said);
        } catch (DateTimeParseException e) {
            throw new IllegalArgumentException("\"" + said + "\" is no time", e);
        }
    }

    private Instant now() {
        return clock.instant().truncatedTo(ChronoUnit.MILLIS);
    }
}
