package duskpeg.projections.signin;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.servlet.http.HttpSession;
import java.io.IOException;
import java.io.Serializable;
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

    /** A live board is cut off so long after it began; the page asks for it anew, and is seen to be signed in or not. */
    private static final Duration STREAM = Duration.ofMinutes(15);

    private static final String VISIT = SignedIn.class.getName();

    private final Accounts accounts;
    private final Clock clock;

    SignedIn(Accounts accounts, Clock clock) {
        this.accounts = accounts;
        this.clock = clock;
    }

    /** What a session knows. */
    private record Visit(long account, int stamp, Instant since, Instant last) implements Serializable {}

    /** Begins a session of that account, under an id that nobody could know before. */
    static void begin(HttpServletRequest request, Account account, Instant now) {
        HttpSession before = request.getSession(false);
        if (before != null) {
            before.invalidate();
        }
        request.getSession(true).setAttribute(VISIT, new Visit(account.id(), account.stamp(), now, now));
    }

    /** Ends the session, if there is one. */
    static void end(HttpServletRequest request) {
        HttpSession session = request.getSession(false);
        if (session != null) {
            session.invalidate();
        }
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
        try {
            return visiting(request);
        } catch (IllegalStateException e) {
            // The session ended in another request meanwhile.
            return Optional.empty();
        }
    }

    private Optional<Account> visiting(HttpServletRequest request) {
        HttpSession session = request.getSession(false);
        if (session == null || !(session.getAttribute(VISIT) instanceof Visit visit)) {
            return Optional.empty();
        }
        Instant now = clock.instant();
        Optional<Account> account = accounts.find(visit.account())
                .filter(one -> one.disabled() == null && one.stamp() == visit.stamp())
                .filter(one -> now.isBefore(visit.since().plus(LONGEST))
                        && now.isBefore(visit.last().plus(IDLE)));
        if (account.isEmpty()) {
            session.invalidate();
        } else if (!Access.isByItself(request.getRequestURI())) {
            session.setAttribute(VISIT, new Visit(visit.account(), visit.stamp(), visit.since(), now));
        }
        return account;
    }
}
