package duskpeg.server;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.Cookie;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.time.Clock;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Optional;
import java.util.stream.Stream;
import org.springframework.http.HttpStatus;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Lets a request live at another time, so that a person or a test can go through a night in a minute: the header
 * {@code X-Duskpeg-Now} (ISO-8601 with offset, of the years 1900 to 2999) for one request, the cookie {@code duskpeg-ahead} (whole seconds, may
 * be negative) for a visit. In a demo only.
 */
final class DemoClockFilter extends OncePerRequestFilter {

    static final String HEADER = "X-Duskpeg-Now";
    /** Far from where calendars and databases end, so that a day before or after is always a day. */
    private static final Instant EARLIEST = Instant.parse("1900-01-01T00:00:00Z");

    private static final Instant LATEST = Instant.parse("3000-01-01T00:00:00Z");
    static final String COOKIE = "duskpeg-ahead";

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        Optional<Clock> clock;
        try {
            clock = clock(request);
        } catch (DateTimeException e) {
            response.sendError(
                    HttpStatus.BAD_REQUEST.value(),
                    HEADER + " must be an ISO-8601 instant with offset, of the years 1900 to 2999");
            return;
        }
        DemoClock.set(clock.orElse(null));
        try {
            chain.doFilter(request, response);
        } finally {
            DemoClock.set(null);
        }
    }

    private static Optional<Clock> clock(HttpServletRequest request) {
        String now = request.getHeader(HEADER);
        if (now != null) {
            Instant at = OffsetDateTime.parse(now.strip()).toInstant();
            if (at.isBefore(EARLIEST) || at.isAfter(LATEST)) {
                throw new DateTimeException("out of the range of days: " + at);
            }
            return Optional.of(Clock.fixed(at, ZoneOffset.UTC));
        }
        Cookie[] cookies = request.getCookies();
        return Stream.of(cookies == null ? new Cookie[0] : cookies)
                .filter(cookie -> cookie.getName().equals(COOKIE))
                .map(Cookie::getValue)
                .filter(value -> value.matches("-?[0-9]{1,9}"))
                .map(value -> Clock.offset(Clock.systemUTC(), Duration.ofSeconds(Long.parseLong(value))))
                .findFirst();
    }
}
