package duskpeg.projections.signin;

import duskpeg.projections.signin.Visits.Visit;
import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.authority.AuthorityUtils;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Finds whose request it is, by the session that signing in began. The account is read at each request: one that was
 * disabled, or whose password was set anew, is signed out by that at once.
 */
final class SignedIn extends OncePerRequestFilter {

    /** A session ends so long after signing in, whatever is done. */
    static final Duration LONGEST = Duration.ofHours(12);
    /** A session ends so long after the last thing that a person asked for. */
    static final Duration IDLE = Duration.ofHours(2);

    /** So long after a password was given nobody is asked for it again. */
    static final Duration PROVED = Duration.ofMinutes(10);

    /** Whatever runs on is cut off so long after it began; a live board already soon after its session ended. */
    private static final Duration STREAM = Duration.ofMinutes(15);

    private final Accounts accounts;
    private final Visits visits;
    private final Clock clock;

    SignedIn(Accounts accounts, Visits visits, Clock clock) {
        this.accounts = accounts;
        this.visits = visits;
        this.clock = clock;
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        account(request).ifPresent(account -> {
            account.claim(request);
            SecurityContextHolder.getContext()
                    .setAuthentication(UsernamePasswordAuthenticationToken.authenticated(
                            account, null, AuthorityUtils.createAuthorityList("ROLE_" + account.role())));
        });
        chain.doFilter(request, response);
        if (request.isAsyncStarted()) {
            request.getAsyncContext().setTimeout(STREAM.toMillis());
        }
    }

    private Optional<Account> account(HttpServletRequest request) {
        Instant now = clock.instant();
        Visit visit = visits.of(request).orElse(null);
        if (visit == null) {
            return Optional.empty();
        }
        Optional<Account> account = accounts.find(visit.account())
                .filter(one -> one.disabled() == null && one.stamp() == visit.stamp())
                .filter(one -> now.isBefore(visit.since().plus(LONGEST))
                        && now.isBefore(visit.last().plus(IDLE)));
        if (account.isEmpty()) {
            visits.end(visit);
        } else if (!Access.isByItself(request.getRequestURI())) {
            visits.seen(visit, now);
        }
        return account;
    }
}
