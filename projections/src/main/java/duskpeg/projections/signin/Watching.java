package duskpeg.projections.signin;

import duskpeg.projections.signin.Visits.Visit;
import jakarta.servlet.http.HttpServletRequest;
import java.time.Clock;
import java.util.function.BooleanSupplier;
import org.springframework.stereotype.Component;

/** How long somebody may go on watching something live that was asked for once. */
@Component
public class Watching {

    private final Accounts accounts;
    private final Visits visits;
    private final Clock clock;

    Watching(Accounts accounts, Visits visits, Clock clock) {
        this.accounts = accounts;
        this.visits = visits;
        this.clock = clock;
    }

    /**
     * Whether the session in which that was asked for still lasts; to be asked now and then. In a demo, where nobody signs in,
     * it always does.
     */
    public BooleanSupplier of(HttpServletRequest request) {
        if (Account.of(request).isEmpty()) {
            return () -> true;
        }
        // What the request brought along is read now; it is not there any more when that is asked.
        String token = visits.of(request).map(Visit::token).orElse("");
        return () -> visits.find(token)
                .filter(visit -> clock.instant().isBefore(visit.since().plus(SignedIn.LONGEST)))
                .flatMap(visit -> accounts.find(visit.account())
                        .filter(account -> account.disabled() == null && account.stamp() == visit.stamp()))
                .isPresent();
    }
}
