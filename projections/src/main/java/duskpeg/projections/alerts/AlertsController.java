package duskpeg.projections.alerts;

import duskpeg.core.crew.People;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.day.Caution;
import duskpeg.core.day.DayEvent;
import duskpeg.core.day.DayId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.FieldBook;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.planting.Planting;
import duskpeg.core.text.Warned;
import duskpeg.core.watch.Alert;
import duskpeg.projections.alerts.AlertsView.AlertView;
import duskpeg.projections.alerts.AlertsView.CautionView;
import duskpeg.projections.alerts.AlertsView.ToldView;
import duskpeg.projections.farm.CurrentFarm;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Clock;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.OffsetDateTime;
import java.time.temporal.ChronoUnit;
import java.util.Map;
import java.util.function.BiFunction;
import java.util.stream.Stream;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;

/** Alerts as a page and as JSON; what to beware of is entered here. */
@Controller
class AlertsController {

    private final Lookout lookout;
    private final Warned warned;
    private final CurrentFarm current;
    private final Index index;
    private final People people;
    private final CommandGateway commands;
    private final Clock clock;

    AlertsController(
            Lookout lookout,
            Warned warned,
            CurrentFarm current,
            Index index,
            People people,
            CommandGateway commands,
            Clock clock) {
        this.lookout = lookout;
        this.warned = warned;
        this.current = current;
        this.index = index;
        this.people = people;
        this.commands = commands;
        this.clock = clock;
    }

    /**
     * What was typed into a form about a caution.
     *
     * @param by who enters it, by pseudonym
     * @param kind {@code HEAT} or {@code SPRAY}
     * @param planting the planting, by name; empty for the whole farm
     * @param from a date and time of the farm's clock, ISO-8601; empty for now
     * @param until likewise
     */
    record Form(
            @Nullable String farm,
            @Nullable String by,
            @Nullable String kind,
            @Nullable String planting,
            @Nullable String from,
            @Nullable String until) {}

    @GetMapping("/api/alerts")
    @ResponseBody
    AlertsView api(@RequestParam(required = false) @Nullable String farm) {
        return view(current.farm(farm));
    }

    @GetMapping("/alerts")
    String page(@ModelAttribute("form") Form form, Model model) {
        return page(form, current.farm(form.farm()), model);
    }

    private String page(Form form, FarmId farm, Model model) {
        model.addAttribute("view", view(farm));
        model.addAttribute(
                "plantings", index.plantings(farm).stream().map(Planting::name).toList());
        model.addAttribute("supervisors", people.those(index.workers(farm, Role.SUPERVISOR)));
        model.addAttribute("form", form);
        return "alerts";
    }

    private AlertsView view(FarmId farm) {
        FarmSettings settings = index.settings(farm);
        Instant now = clock.instant();
        LocalDate today = settings.dateAt(now);
        Map<WorkerId, String> names = people.names(farm);
        Stream<Alert> evening =
                settings.afternoonAt(now) ? lookout.ofEvening(farm, today.plusDays(1), now).stream() : Stream.of();
        return new AlertsView(
                farm.value(),
                today,
                at(now, settings),
                Stream.concat(lookout.ofMorning(farm, today, now).stream(), evening)
                        .map(alert -> new AlertView(
                                alert.kind().word(), alert.about(), sentence(alert.kind(), alert.words(), settings)))
                        .toList(),
                Stream.of(today, today.plusDays(1))
                        .flatMap(day -> warned.of(farm, day).stream())
                        .map(entry -> new ToldView(
                                entry.worker().pseudonym(),
                                names.get(entry.worker()),
                                sentence(entry.kind(), entry.words(), settings),
                                at(entry.told(), settings),
                                entry.seen() == null ? null : at(entry.seen(), settings)))
                        .toList(),
                index.cautions(farm, now).stream()
                        .map(caution -> new CautionView(
                                caution.kind().word(),
                                caution.planting(),
                                at(caution.from(), settings),
                                at(caution.until(), settings),
                                caution.isOnAt(now)))
                        .toList());
    }

    private static OffsetDateTime at(Instant at, FarmSettings settings) {
        return at.truncatedTo(ChronoUnit.MINUTES).atZone(settings.zone()).toOffsetDateTime();
    }

    private static String sentence(Alert.Kind kind, String words, FarmSettings settings) {
        return switch (kind) {
            case NOBODY_STARTED -> "Nobody has reported yet, " + words + " flowers wait.";
            case ROW_AT_RISK -> "Row " + words + ": that is its chance of being finished by " + settings.limit() + ".";
            case ROW_SILENT -> "Row " + words + " without a report.";
            case CUT_OFF_PASSED -> "It is past " + settings.limit() + " and " + words + " flowers are not tied.";
            case MALES_SHORT -> "Males short: " + words + ".";
            case HEAT -> "Heat: " + words + ".";
            case SPRAY -> "Sprayed, do not enter: " + words + ".";
        };
    }

    /** Looks at once, and not only when the next look is due. */
    @PostMapping("/alerts/look")
    String look(@RequestParam(required = false) @Nullable String farm) {
        FarmId id = current.farm(farm);
        lookout.look(id, now());
        return "redirect:/alerts?farm=" + id.value();
    }

    /** Enters what to beware of, and tells everybody. */
    @PostMapping("/alerts/caution")
    String caution(@ModelAttribute("form") Form form, Model model, HttpServletResponse response) {
        return enter(
                form,
                model,
                response,
                (day, caution) -> new DayEvent.CautionEntered(day, caution, by(day.farm(), form), now()));
    }

    /** Withdraws what was entered wrongly. */
    @PostMapping("/alerts/withdraw")
    String withdraw(@ModelAttribute("form") Form form, Model model, HttpServletResponse response) {
        return enter(
                form,
                model,
                response,
                (day, caution) -> new DayEvent.CautionWithdrawn(day, caution, by(day.farm(), form), now()));
    }

    private String enter(
            Form form, Model model, HttpServletResponse response, BiFunction<DayId, Caution, DayEvent> event) {
        FarmId farm = current.farm(form.farm());
        try {
            Caution caution = read(farm, form);
            DayId day = new DayId(farm, index.settings(farm).dateAt(caution.from()));
            boolean entered = commands.sendAndWait(new FieldBook.Enter(event.apply(day, caution)));
            if (!entered) {
                throw new IllegalArgumentException("choose the supervisor who enters it");
            }
        } catch (IllegalArgumentException | DateTimeException e) {
            response.setStatus(HttpStatus.UNPROCESSABLE_ENTITY.value());
            model.addAttribute("problem", "Nothing was entered: " + e.getMessage() + ".");
            return page(form, farm, model);
        }
        lookout.look(farm, now());
        return "redirect:/alerts?farm=" + farm.value();
    }

    private static WorkerId by(FarmId farm, Form form) {
        String by = form.by();
        if (by == null || by.isBlank()) {
            throw new IllegalArgumentException("choose the supervisor who enters it");
        }
        return new WorkerId(farm, by);
    }

    private Caution read(FarmId farm, Form form) {
        String planting = form.planting();
        if (planting != null && planting.isBlank()) {
            planting = null;
        }
        String of = planting;
        if (of != null
                && index.plantings(farm).stream().noneMatch(one -> one.name().equals(of))) {
            throw new IllegalArgumentException("there is no planting " + of);
        }
        String kind = String.valueOf(form.kind());
        return new Caution(
                Caution.Kind.valueOf(kind), planting, time(farm, form.from(), true), time(farm, form.until(), false));
    }

    private Instant time(FarmId farm, @Nullable String said, boolean mayBeNow) {
        if (said == null || said.isBlank()) {
            if (mayBeNow) {
                return now().truncatedTo(ChronoUnit.MINUTES);
            }
            throw new IllegalArgumentException("say until when");
        }
        return LocalDateTime.parse(said).atZone(index.settings(farm).zone()).toInstant();
    }

    private Instant now() {
        return clock.instant().truncatedTo(ChronoUnit.MILLIS);
    }
}
