package duskpeg.projections.signin;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.net.URI;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Lets a form in only from the farm's own pages, and only up to a size. A browser says from where a form comes in
 * {@code Sec-Fetch-Site} (Fetch Metadata), an old one or one that came without TLS in {@code Origin} (RFC 6454); what
 * says neither is no browser, and has nobody's cookie that it wasn't given.
 */
final class Forms extends OncePerRequestFilter {

    /** As long as a table that is brought along may be, in bytes as sent. */
    static final int LONGEST = 1 << 20;

    private static final Set<String> ASKING = Set.of("GET", "HEAD", "OPTIONS");

    private final Optional<String> publicHost;

    /**
     * @param publicUrl the address at which a proxy in front of the server is reached; empty for none
     */
    Forms(String publicUrl) {
        this.publicHost = publicUrl.isEmpty() ? Optional.empty() : Optional.ofNullable(authority(publicUrl));
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        if (ASKING.contains(request.getMethod())) {
            chain.doFilter(request, response);
        } else if (!isOwn(request)) {
            response.sendError(HttpStatus.FORBIDDEN.value(), "That form was not on a page of this farm.");
        } else if (request.getContentLengthLong() > LONGEST) {
            response.sendError(HttpStatus.PAYLOAD_TOO_LARGE.value(), "At most " + LONGEST + " bytes are taken.");
        } else if (request.getHeader(HttpHeaders.TRANSFER_ENCODING) != null) {
            response.sendError(HttpStatus.LENGTH_REQUIRED.value(), "Say how long it is.");
        } else {
            chain.doFilter(request, response);
        }
    }

    private boolean isOwn(HttpServletRequest request) {
        String site = request.getHeader("Sec-Fetch-Site");
        if (site != null) {
            return site.equals("same-origin") || site.equals("none");
        }
        String origin = request.getHeader(HttpHeaders.ORIGIN);
        if (origin == null) {
            return true;
        }
        String from = authority(origin);
        return from != null
                && (from.equals(request.getHeader(HttpHeaders.HOST))
                        || publicHost.filter(from::equals).isPresent());
    }

    private static @Nullable String authority(String address) {
        try {
            return URI.create(address).getRawAuthority();
        } catch (IllegalArgumentException e) {
            return null;
        }
    }
}
