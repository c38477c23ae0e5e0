package duskpeg.projections.signin;

import jakarta.servlet.DispatcherType;
import jakarta.servlet.Filter;
import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.boot.web.servlet.FilterRegistrationBean;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.security.authorization.AuthorizationDecision;
import org.springframework.security.config.annotation.web.builders.HttpSecurity;
import org.springframework.security.config.annotation.web.configuration.EnableWebSecurity;
import org.springframework.security.config.annotation.web.configurers.AbstractHttpConfigurer;
import org.springframework.security.core.AuthenticationException;
import org.springframework.security.web.SecurityFilterChain;
import org.springframework.security.web.access.intercept.AuthorizationFilter;
import org.springframework.security.web.authentication.AnonymousAuthenticationFilter;
import org.springframework.security.web.context.NullSecurityContextRepository;
import org.springframework.security.web.header.HeaderWriterFilter;
import org.springframework.security.web.header.writers.ReferrerPolicyHeaderWriter.ReferrerPolicy;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * What stands before every page. In a demo nobody is asked to sign in; what browsers are told, and that forms come from
 * the farm's own pages, is the same there.
 */
@Configuration(proxyBeanMethods = false)
@ConditionalOnWebApplication
@EnableWebSecurity
class SecurityConfig {

    /** Before the filters that read a request, after the one that says how it is encoded. */
    private static final int BEFORE_PAGES = -100;

    private static final int FORMS_A_MINUTE = 30;

    /** Only what the farm's server gives, and no script or style inside a page. */
    private static final String CONTENT =
            "default-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'";

    private static final String PERMISSIONS = "camera=(), geolocation=(), microphone=(), payment=(), usb=()";

    @Bean
    SecurityFilterChain everyPage(
            HttpSecurity http,
            Accounts accounts,
            Visits visits,
            SignIn signIn,
            Clock clock,
            @Value("${duskpeg.demo}") boolean demo,
            @Value("${duskpeg.public-url:}") String publicUrl,
            @Value("${duskpeg.second-factor-of}") Set<AccountRole> secondOf)
            throws Exception {
        http.csrf(AbstractHttpConfigurer::disable)
                .formLogin(AbstractHttpConfigurer::disable)
                .httpBasic(AbstractHttpConfigurer::disable)
                .logout(AbstractHttpConfigurer::disable)
                .requestCache(AbstractHttpConfigurer::disable)
                // Sessions are SignedIn's.
                .sessionManagement(AbstractHttpConfigurer::disable)
                .securityContext(context -> context.securityContextRepository(new NullSecurityContextRepository()))
                .headers(headers -> {
                    headers.contentSecurityPolicy(policy -> policy.policyDirectives(CONTENT))
                            // Not no-referrer: with that, browsers don't say from where a form comes.
                            .referrerPolicy(policy -> policy.policy(ReferrerPolicy.SAME_ORIGIN))
                            .permissionsPolicyHeader(policy -> policy.policy(PERMISSIONS));
                    if (demo) {
                        headers.cacheControl(caching -> caching.disable());
                    }
                })
                .addFilterAfter(new Forms(publicUrl), HeaderWriterFilter.class);
        if (demo) {
            http.authorizeHttpRequests(requests -> requests.anyRequest().permitAll());
        } else {
            http.addFilterBefore(new SignedIn(accounts, visits, clock), AnonymousAuthenticationFilter.class)
                    .addFilterAfter(new Strangers(clock, FORMS_A_MINUTE), AuthorizationFilter.class)
                    .addFilterAfter(new SecondFirst(secondOf), AuthorizationFilter.class)
                    .addFilterAfter(new OwnName(), AuthorizationFilter.class)
                    .addFilterAfter(new Proof(signIn, visits, clock), AuthorizationFilter.class)
                    .exceptionHandling(refusing -> refusing.authenticationEntryPoint(SecurityConfig::askToSignIn))
                    .authorizeHttpRequests(requests -> requests.anyRequest()
                            .access((who, asked) -> new AuthorizationDecision(Access.allows(
                                    asked.getRequest().getMethod(),
                                    asked.getRequest().getRequestURI(),
                                    Account.of(asked.getRequest())))));
        }
        return http.build();
    }

    /** A person is led to the sign-in page and from there to what she wanted; a script is told plainly. */
    private static void askToSignIn(
            HttpServletRequest request, HttpServletResponse response, @Nullable AuthenticationException why)
            throws IOException {
        String accept = request.getHeader(HttpHeaders.ACCEPT);
        if (request.getMethod().equals("GET") && accept != null && accept.contains(MediaType.TEXT_HTML_VALUE)) {
            String query = request.getQueryString();
            String wanted = request.getRequestURI() + (query == null ? "" : "?" + query);
            response.setStatus(HttpStatus.SEE_OTHER.value());
            response.setHeader(HttpHeaders.LOCATION, "/signin?to=" + URLEncoder.encode(wanted, StandardCharsets.UTF_8));
            return;
        }
        response.setHeader(HttpHeaders.WWW_AUTHENTICATE, "Form realm=\"Duskpeg\"");
        // For a part of a page that htmx asks for: the whole page goes there.
        response.setHeader("HX-Redirect", "/signin");
        response.sendError(HttpStatus.UNAUTHORIZED.value(), "Sign in first.");
    }

    /** Put before everything but what is signed by its sender: see {@link Access#PASSED_BY}. */
    @Bean
    FilterRegistrationBean<Filter> beforePages(@Qualifier("springSecurityFilterChain") Filter security) {
        FilterRegistrationBean<Filter> registered = new FilterRegistrationBean<>(new NotTheCarrier(security));
        registered.setName("beforePages");
        registered.setOrder(BEFORE_PAGES);
        registered.setDispatcherTypes(DispatcherType.REQUEST);
        return registered;
    }

    /** So that it isn't registered a second time, for everything. */
    @Bean
    FilterRegistrationBean<Filter> notForEverything(@Qualifier("springSecurityFilterChain") Filter security) {
        FilterRegistrationBean<Filter> registered = new FilterRegistrationBean<>(security);
        registered.setEnabled(false);
        return registered;
    }

    private static final class NotTheCarrier extends OncePerRequestFilter {

        private final Filter security;

        NotTheCarrier(Filter security) {
            this.security = security;
        }

        /** Both as it was sent and as the server read it, so that no detour leads from there to a page. */
        @Override
        protected boolean shouldNotFilter(HttpServletRequest request) {
            return Access.PASSED_BY.stream()
                    .anyMatch(start -> request.getRequestURI().startsWith(start)
                            && request.getServletPath().startsWith(start));
        }

        @Override
        protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
                throws ServletException, IOException {
            security.doFilter(request, response, chain);
        }
    }
}
