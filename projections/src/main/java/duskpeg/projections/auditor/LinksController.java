package duskpeg.projections.auditor;

import duskpeg.core.crew.People;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.projections.auditor.Link.Scope;
import duskpeg.projections.farm.CurrentFarm;
import jakarta.servlet.http.HttpServletResponse;
import java.security.SecureRandom;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;

/** Where a supervisor makes links for auditors, sees who looked, and withdraws them. */
@Controller
class LinksController {

    private static final int TOKEN_BYTES = 16;
    private static final int MOST_DAYS = 365;
    private static final int LONGEST_WHOM = 80;
    private static final int SHOWN = 50;

    private final Links links;
    private final AuditorBook book;
    private final CurrentFarm current;
    private final Index index;
    private final People people;
    private final Clock clock;
    private final SecureRandom random = new SecureRandom();

    LinksController(Links links, AuditorBook book, CurrentFarm current, Index index, People people, Clock clock) {
        this.links = links;
        this.book = book;
        this.current = current;
        this.index = index;
        this.people = people;
        this.clock = clock;
    }

    /** A link in the list; {@code state} is open, expired or withdrawn. */
    record LinkView(
            long id,
            String whom,
            String scope,
            String about,
            String by,
            OffsetDateTime made,
            OffsetDateTime expires,
            String state,
            int looks,
            List<LookView> last) {}

    /** A look in the list. */
    record LookView(OffsetDateTime at, String path, String outcome) {}

    @GetMapping("/auditors")
    String page(@RequestParam(required = false) @Nullable String farm, Model model) {
        return page(current.farm(farm), Map.of(), model);
    }

    private String page(FarmId farm, Map<String, String> form, Model model) {
        ZoneId zone = index.settings(farm).zone();
        Map<WorkerId, String> names = people.names(farm);
        Instant now = clock.instant();
        model.addAttribute("farm", farm.value());
        model.addAttribute(
                "links",
                links.all(farm).stream()
                        .map(link -> view(link, names, now, zone))
                        .toList());
        model.addAttribute("supervisors", people.those(index.workers(farm, Role.SUPERVISOR)));
        model.addAttribute("form", form);
        return "auditors";
    }

    private LinkView view(Link link, Map<WorkerId, String> names, Instant now, ZoneId zone) {
        Link.Outcome state = link.at(now);
        return new LinkView(
                link.id(),
                link.whom(),
                link.scope().word(),
                link.about(),
                names.getOrDefault(link.by(), link.by().pseudonym()),
                time(link.made(), zone),
                time(link.expires(), zone),
                state == Link.Outcome.SHOWN ? "open" : state.word(),
                links.looks(link),
                links.lastLooks(link, SHOWN).stream()
                        .map(look -> new LookView(
                                time(look.at(), zone),
                                look.path(),
                                look.outcome().word()))
                        .toList());
    }

    private static OffsetDateTime time(Instant at, ZoneId zone) {
        return at.atZone(zone).toOffsetDateTime();
    }

    /** Makes a link. It is shown once, on the page that answers this: only its SHA-256 is kept. */
    @PostMapping("/auditors")
    String make(@RequestParam Map<String, String> form, Model model, HttpServletResponse response) {
        response.setHeader(HttpHeaders.CACHE_CONTROL, "no-store");
        FarmId farm = current.farm(form.get("farm"));
        try {
            WorkerId by = supervisor(farm, form);
            Scope scope = scope(form.getOrDefault("scope", ""));
            String about = about(farm, scope, form.getOrDefault("about", "").strip());
            String whom = form.getOrDefault("whom", "").strip();
            if (whom.isEmpty() || whom.length() > LONGEST_WHOM) {
                throw new IllegalArgumentException("say for whom it is, in at most " + LONGEST_WHOM + " letters");
            }
            String days = form.getOrDefault("days", "").strip();
            if (!days.matches("[0-9]{1,3}") || Integer.parseInt(days) < 1 || Integer.parseInt(days) > MOST_DAYS) {
                throw new IllegalArgumentException("it is open for 1 to " + MOST_DAYS + " days");
            }
            byte[] bytes = new byte[TOKEN_BYTES];
            random.nextBytes(bytes);
            String token = HexFormat.of().formatHex(bytes);
            Instant now = clock.instant().truncatedTo(ChronoUnit.MILLIS);
            links.make(token, farm, scope, about, whom, by, now, now.plus(Duration.ofDays(Integer.parseInt(days))));
            model.addAttribute(
                    "made",
                    ServletUriComponentsBuilder.fromCurrentContextPath()
                            .path("/auditor/" + token)
                            .toUriString());
            return page(farm, Map.of(), model);
        } catch (IllegalArgumentException e) {
            response.setStatus(HttpStatus.UNPROCESSABLE_ENTITY.value());
            model.addAttribute("problem", "No link was made: " + e.getMessage() + ".");
            return page(farm, form, model);
        }
    }

    private WorkerId supervisor(FarmId farm, Map<String, String> form) {
        return index.workers(farm, Role.SUPERVISOR).stream()
                .filter(one -> one.pseudonym().equals(form.get("by")))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("choose the supervisor who does it"));
    }

    private static Scope scope(String word) {
        for (Scope scope : Scope.values()) {
            if (scope.word().equals(word)) {
                return scope;
            }
        }
        throw new IllegalArgumentException("choose what it opens");
    }

    private String about(FarmId farm, Scope scope, String said) {
        return switch (scope) {
            case FRUIT ->
                book.fruit(farm, said)
                        .filter(book::isKnown)
                        .map(fruit -> fruit.tie().digits())
                        .orElseThrow(() -> new IllegalArgumentException("no report tells of a fruit with that tie"));
            case LOT ->
                book.lot(farm, said.toUpperCase(Locale.ROOT))
                        .map(lot -> lot.name())
                        .orElseThrow(() -> new IllegalArgumentException("there is no such lot"));
            case SEASON -> {
                if (!said.matches("[12][0-9]{3}")) {
                    throw new IllegalArgumentException("a season is the year in which its flowers opened");
                }
                yield said;
            }
        };
    }

    /** Withdraws a link. */
    @PostMapping("/auditors/{id}/withdraw")
    String withdraw(
            @PathVariable long id, @RequestParam Map<String, String> form, Model model, HttpServletResponse response) {
        FarmId farm = current.farm(form.get("farm"));
        try {
            supervisor(farm, form);
            links.withdraw(farm, id, clock.instant().truncatedTo(ChronoUnit.MILLIS));
            return "redirect:/auditors?farm=" + farm.value();
        } catch (IllegalArgumentException e) {
            response.setStatus(HttpStatus.UNPROCESSABLE_ENTITY.value());
            model.addAttribute("problem", "Nothing was withdrawn: " + e.getMessage() + ".");
            return page(farm, Map.of(), model);
        }
    }
}
