package duskpeg.projections.witness;

import java.net.http.HttpClient;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import org.springframework.boot.autoconfigure.condition.ConditionalOnMissingBean;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.context.annotation.Lazy;

/** What witnessing needs from outside. */
@Configuration(proxyBeanMethods = false)
class WitnessConfig {

    static final String TIME = "witnessTime";

    private static final Duration CONNECT = Duration.ofSeconds(5);

    /** The system's time, also in a demo: no visitor may choose the time that is cosigned. */
    @Bean(TIME)
    InstantSource witnessTime() {
        // No Clock, so that nothing takes it for the server's.
        return Instant::now;
    }

    /** What speaks to witnesses; made when there is one to speak to. */
    @Bean
    @Lazy
    @ConditionalOnMissingBean
    HttpClient witnessHttp() {
        return HttpClient.newBuilder()
                .connectTimeout(CONNECT)
                .followRedirects(HttpClient.Redirect.NEVER)
                .build();
    }
}
