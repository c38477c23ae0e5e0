package duskpeg.projections.signin;

import duskpeg.projections.signin.SignIn.TooOften;
import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.time.Clock;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Before what can't be undone, or gives somebody power, the password is asked for again, unless it was given just now: a
 * screen that was left open, or a stolen cookie, is not enough. What the form said is kept on the page that asks, so nothing
 * is typed twice, and no form has to know of it. Which acts these are says {@link Access#isSerious}.
 */
final class Proof extends OncePerRequestFilter {

    static final String PAGE = "/confirm";
    static final String PASSWORD = "proof-password";
    static final String CODE = "proof-code";

    private static final String ASKED = Proof.class.getName();

    private final SignIn signIn;
    private final Visits visits;
    private final Clock clock;

    Proof(SignIn signIn, Visits visits, Clock clock) {
        this.signIn = signIn;
        this.visits = visits;
        this.clock = clock;
    }

    /**
     * What the page that asks is told.
     *
     * @param path where the form goes
     * @param fields what it says
     * @param second whether a code is asked for besides
     * @param problem why the last try did not do; null for the first
     */
    record Asked(
            String path,
            Map<String, String[]> fields,
            boolean second,
            @Nullable String problem) {}

    /** What is to be asked for in this request; null if nothing is. */
    static @Nullable Asked asked(HttpServletRequest request) {
        return (Asked) request.getAttribute(ASKED);
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        Account account = Account.of(request).orElse(null);
        if (account == null || !Access.isSerious(request.getMethod(), request.getRequestURI())) {
            chain.doFilter(request, response);
            return;
        }
        HttpServletRequest act = new Saying(request, Map.of(), Set.of(PASSWORD, CODE));
        String problem = null;
        boolean proved = visits.isProved(request, clock.instant());
        String password = request.getParameter(PASSWORD);
        if (!proved && password != null) {
            String code = request.getParameter(CODE);
            try {
                proved = signIn.confirms(account, password, code == null ? "" : code, Address.of(request));
                problem = "that is not right";
            } catch (TooOften e) {
                response.setHeader(HttpHeaders.RETRY_AFTER, String.valueOf(e.seconds()));
                problem = "that was tried too often; wait " + e.seconds() + " s";
            }
            if (proved) {
                visits.prove(request, clock.instant());
            }
        }
        if (proved) {
            chain.doFilter(act, response);
        } else {
            response.setStatus(HttpStatus.FORBIDDEN.value());
            act.setAttribute(
                    ASKED,
                    new Asked(
                            request.getRequestURI(),
                            new LinkedHashMap<>(act.getParameterMap()),
                            account.second(),
                            problem));
            act.getRequestDispatcher(PAGE).forward(act, response);
        }
    }
}
