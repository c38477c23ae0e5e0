package duskpeg.projections.signin;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.util.Optional;
import java.util.Set;
import org.springframework.http.HttpStatus;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Where the settings want a second factor of some roles, whoever has none yet can do nothing but set one up.
 *
 * @see SecondController
 */
final class SecondFirst extends OncePerRequestFilter {

    private static final String PAGE = "/second";
    private static final Set<String> WITHOUT = Set.of("/signout", Proof.PAGE);

    private final Set<AccountRole> roles;

    SecondFirst(Set<AccountRole> roles) {
        this.roles = Set.copyOf(roles);
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        String path = request.getRequestURI();
        boolean free = Account.of(request)
                        .filter(account -> roles.contains(account.role()) && !account.second())
                        .isEmpty()
                || path.equals(PAGE)
                || path.startsWith(PAGE + "/")
                || WITHOUT.contains(path)
                || Access.allows(request.getMethod(), path, Optional.empty());
        if (free) {
            chain.doFilter(request, response);
        } else if (request.getMethod().equals("GET") && !path.startsWith("/api/")) {
            response.sendRedirect(PAGE);
        } else {
            response.sendError(HttpStatus.FORBIDDEN.value(), "Set up a second factor first, at " + PAGE + ".");
        }
    }
}
