package duskpeg.projections.signin;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.springframework.http.HttpStatus;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Who acts is who signed in, and on her own farm. Wherever a page or a form says {@code by} or {@code farm}, it can say
 * nothing else; where it doesn't say, it is said for it. So no page has to ask whether it is told the truth.
 */
final class OwnName extends OncePerRequestFilter {

    private static final String BY = "by";
    private static final String FARM = "farm";

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        Account account = Account.of(request).orElse(null);
        if (account == null) {
            chain.doFilter(request, response);
            return;
        }
        Optional<String> own = account.pseudonym();
        if (saysAnother(request, FARM, Optional.of(account.farm().value()))) {
            response.sendError(HttpStatus.FORBIDDEN.value(), "That is another farm.");
        } else if (saysAnother(request, BY, own)) {
            response.sendError(
                    HttpStatus.FORBIDDEN.value(),
                    own.isPresent()
                            ? "What is entered is written down under the name of whoever is signed in, and no other."
                            : "This account is no supervisor's, so nothing can be entered with it.");
        } else {
            Map<String, String> said = new HashMap<>();
            said.put(FARM, account.farm().value());
            own.ifPresent(pseudonym -> said.put(BY, pseudonym));
            chain.doFilter(new Saying(request, said, Set.of()), response);
        }
    }

    private static boolean saysAnother(HttpServletRequest request, String name, Optional<String> own) {
        String[] values = request.getParameterValues(name);
        return values != null
                && Stream.of(values)
                        .anyMatch(value ->
                                !value.isEmpty() && !own.filter(value::equals).isPresent());
    }
}
