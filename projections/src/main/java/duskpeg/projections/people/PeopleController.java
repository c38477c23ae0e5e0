package duskpeg.projections.people;

import duskpeg.core.crew.People;
import duskpeg.core.crew.People.Person;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Erasure;
import duskpeg.core.fieldbook.Erasure.Found;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.text.Texts;
import duskpeg.projections.farm.CurrentFarm;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Clock;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;
import org.springframework.web.server.ResponseStatusException;

/** Who is on the farm, as a page and as JSON; what is personal of a worker is erased here. */
@Controller
class PeopleController {

    private final CurrentFarm current;
    private final Index index;
    private final People people;
    private final Texts texts;
    private final Erasure erasure;
    private final CommandGateway commands;
    private final Clock clock;

    PeopleController(
            CurrentFarm current,
            Index index,
            People people,
            Texts texts,
            Erasure erasure,
            CommandGateway commands,
            Clock clock) {
        this.current = current;
        this.index = index;
        this.people = people;
        this.texts = texts;
        this.erasure = erasure;
        this.commands = commands;
        this.clock = clock;
    }

    /** Words that name her, as the page shows them. */
    record MentionView(String key, String words, OffsetDateTime at) {}

    /** Everybody of the farm, also those who were erased; no numbers. */
    @GetMapping("/api/people")
    @ResponseBody
    List<PersonView> api(@RequestParam(required = false) @Nullable String farm) {
        return all(current.farm(farm));
    }

    @GetMapping("/people")
    String page(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(required = false) @Nullable String erased,
            Model model) {
        FarmId id = current.farm(farm);
        model.addAttribute("farm", id.value());
        model.addAttribute("people", all(id));
        model.addAttribute("erased", erased);
        return "people";
    }

    private List<PersonView> all(FarmId farm) {
        ZoneId zone = index.settings(farm).zone();
        Map<WorkerId, Role> roles = index.workers(farm);
        Map<WorkerId, Instant> last = texts.lastHeard(farm);
        Stream<PersonView> here = people.all(farm).stream()
                .map(person -> new PersonView(
                        person.worker().pseudonym(),
                        person.name(),
                        roles.getOrDefault(person.worker(), Role.CREW).word(),
                        person.language(),
                        PersonView.hidden(person.phone()),
                        time(last.get(person.worker()), zone),
                        null));
        Stream<PersonView> gone = index.erased(farm).entrySet().stream()
                .map(one -> new PersonView(
                        one.getKey().pseudonym(), null, null, null, null, null, time(one.getValue(), zone)));
        return Stream.concat(here, gone).toList();
    }

    private static @Nullable OffsetDateTime time(@Nullable Instant at, ZoneId zone) {
        return at == null
                ? null
                : at.truncatedTo(ChronoUnit.MINUTES).atZone(zone).toOffsetDateTime();
    }

    /** What is erased of a worker, what is kept, and where else she is named. */
    @GetMapping("/people/{worker}")
    String about(@PathVariable String worker, @RequestParam(required = false) @Nullable String farm, Model model) {
        return page(person(current.farm(farm), worker), Map.of(), Set.of(), model);
    }

    private String page(Person person, Map<String, String> form, Set<String> ticked, Model model) {
        FarmId farm = person.worker().farm();
        ZoneId zone = index.settings(farm).zone();
        Found found = erasure.find(person);
        model.addAttribute("farm", farm.value());
        model.addAttribute("worker", person.worker().pseudonym());
        model.addAttribute("name", person.name());
        model.addAttribute(
                "mentions",
                found.mentions().stream()
                        .map(one -> new MentionView(
                                one.key(), one.words(), one.at().atZone(zone).toOffsetDateTime()))
                        .toList());
        model.addAttribute("inLog", found.inLog());
        model.addAttribute("supervisors", people.those(index.workers(farm, Role.SUPERVISOR)));
        model.addAttribute("form", form);
        model.addAttribute("ticked", ticked);
        return "person";
    }

    private Person person(FarmId farm, String worker) {
        return Optional.of(worker)
                .filter(WorkerId::isPseudonym)
                .flatMap(one -> people.find(new WorkerId(farm, one)))
                .orElseThrow(() -> new ResponseStatusException(
                        HttpStatus.NOT_FOUND, "Nothing is kept of anybody of that pseudonym."));
    }

    /** Erases what is personal of a worker. */
    @PostMapping("/people/{worker}/erase")
    String erase(
            @PathVariable String worker,
            @RequestParam Map<String, String> form,
            @RequestParam(required = false) @Nullable Set<String> also,
            Model model,
            HttpServletResponse response) {
        FarmId farm = current.farm(form.get("farm"));
        Person person = person(farm, worker);
        Set<String> ticked = also == null ? Set.of() : also;
        try {
            if (!form.getOrDefault("confirm", "").strip().equalsIgnoreCase(worker)) {
                throw new IllegalArgumentException("type " + worker + " to confirm it");
            }
            String by = form.getOrDefault("by", "");
            if (!WorkerId.isPseudonym(by)) {
                throw new IllegalArgumentException("choose the supervisor who does it");
            }
            Erasure.Result result = commands.sendAndWait(new Erasure.Erase(
                    person.worker(),
                    new WorkerId(farm, by),
                    ticked,
                    clock.instant().truncatedTo(ChronoUnit.MILLIS)));
            switch (result) {
                case ERASED -> {}
                case NOT_A_SUPERVISOR -> throw new IllegalArgumentException("choose the supervisor who does it");
                case LAST_SUPERVISOR ->
                    throw new IllegalArgumentException("without another supervisor nobody could decide anything");
                case NOT_KNOWN -> throw new IllegalArgumentException("it was done already");
            }
        } catch (IllegalArgumentException e) {
            response.setStatus(HttpStatus.UNPROCESSABLE_ENTITY.value());
            model.addAttribute("problem", "Nothing was erased: " + e.getMessage() + ".");
            return page(person, form, ticked, model);
        }
        return "redirect:/people?farm=" + farm.value() + "&erased=" + worker;
    }
}
