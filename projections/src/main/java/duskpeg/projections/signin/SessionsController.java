package duskpeg.projections.signin;

import duskpeg.core.fieldbook.Index;
import duskpeg.projections.signin.AccountNotes.What;
import jakarta.servlet.http.HttpServletRequest;
import java.time.Clock;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Where whoever is signed in sees where else she is, and ends what she does not know or need. */
@Controller
@ConditionalOnProperty(name = "duskpeg.demo", havingValue = "false")
class SessionsController {

    private final Visits visits;
    private final AccountNotes notes;
    private final Index index;
    private final Clock clock;

    SessionsController(Visits visits, AccountNotes notes, Index index, Clock clock) {
        this.visits = visits;
        this.notes = notes;
        this.index = index;
        this.clock = clock;
    }

    /**
     * A session as the page shows it, times in the farm's zone.
     *
     * @param token the SHA-256 of its cookie, with which nobody can sign in
     * @param network from where it was begun; null where that was not noted
     * @param here whether it is the one that asks
     */
    record SessionView(
            String token,
            OffsetDateTime since,
            OffsetDateTime last,
            @Nullable String network,
            boolean here) {}

    @GetMapping("/sessions")
    String page(HttpServletRequest request, Model model) {
        Account account = Account.of(request).orElseThrow();
        ZoneId zone = index.settings(account.farm()).zone();
        Optional<String> own = visits.of(request).map(Visits.Visit::token);
        List<SessionView> sessions = visits.of(account, clock.instant()).stream()
                .map(visit -> new SessionView(
                        visit.token(),
                        visit.since()
                                .truncatedTo(ChronoUnit.MINUTES)
                                .atZone(zone)
                                .toOffsetDateTime(),
                        visit.last()
                                .truncatedTo(ChronoUnit.MINUTES)
                                .atZone(zone)
                                .toOffsetDateTime(),
                        visit.network(),
                        own.filter(visit.token()::equals).isPresent()))
                .toList();
        model.addAttribute("login", account.login());
        model.addAttribute("sessions", sessions);
        return "sessions";
    }

    /** Ends one of one's own sessions; any other is left alone. */
    @PostMapping("/sessions/end")
    String end(@RequestParam(defaultValue = "") String session, HttpServletRequest request) {
        Account account = Account.of(request).orElseThrow();
        if (visits.end(account, session)) {
            notes.note(account, What.SESSION_ENDED, Address.of(request));
        }
        return "redirect:/sessions";
    }
}
