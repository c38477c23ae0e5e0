package duskpeg.projections.ops;

import jakarta.servlet.Filter;
import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.ServletRequest;
import jakarta.servlet.ServletResponse;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import org.springframework.boot.web.servlet.FilterRegistrationBean;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.Ordered;

/** Measures how long a text waits for its answer, as near to the carrier as this server gets. */
@Configuration(proxyBeanMethods = false)
class TextTimer {

    @Bean
    FilterRegistrationBean<Filter> textTimerFilter(Metrics metrics) {
        FilterRegistrationBean<Filter> timer =
                new FilterRegistrationBean<>((request, response, chain) -> time(metrics, request, response, chain));
        timer.addUrlPatterns("/field/text");
        timer.setOrder(Ordered.HIGHEST_PRECEDENCE);
        return timer;
    }

    private static void time(Metrics metrics, ServletRequest request, ServletResponse response, FilterChain chain)
            throws IOException, ServletException {
        long began = System.nanoTime();
        try {
            chain.doFilter(request, response);
        } finally {
            metrics.answered(((HttpServletResponse) response).getStatus(), System.nanoTime() - began);
        }
    }
}
