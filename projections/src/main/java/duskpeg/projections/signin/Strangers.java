package duskpeg.projections.signin;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.time.Clock;
import java.time.Duration;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.web.filter.OncePerRequestFilter;

/** Whoever isn't signed in can send so many forms in a minute from one address, whatever is in them. */
final class Strangers extends OncePerRequestFilter {

    private static final Duration MINUTE = Duration.ofMinutes(1);

    private final Clock clock;
    private final Rate rate;

    /**
     * @param most how many forms a minute
     */
    Strangers(Clock clock, int most) {
        this.clock = clock;
        this.rate = new Rate(most, MINUTE);
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        if (request.getMethod().equals("POST")
                && Account.of(request).isEmpty()
                && !rate.allows(Address.of(request), clock.instant())) {
            response.setHeader(HttpHeaders.RETRY_AFTER, String.valueOf(MINUTE.toSeconds()));
            response.sendError(HttpStatus.TOO_MANY_REQUESTS.value(), "That was too often. Wait a minute.");
            return;
        }
        chain.doFilter(request, response);
    }
}
