package duskpeg.messaging.carrier;

import com.twilio.http.HttpClient;
import com.twilio.http.TwilioRestClient;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.text.FarmNumbers;
import duskpeg.core.text.OptOuts;
import duskpeg.core.text.OutgoingTexts;
import java.time.Clock;
import java.time.Duration;
import org.apache.hc.client5.http.impl.classic.HttpClientBuilder;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Condition;
import org.springframework.context.annotation.ConditionContext;
import org.springframework.context.annotation.Conditional;
import org.springframework.context.annotation.Configuration;
import org.springframework.context.annotation.Lazy;
import org.springframework.core.env.Environment;
import org.springframework.core.type.AnnotatedTypeMetadata;
import org.springframework.transaction.support.TransactionTemplate;

/** The carrier, and the rules by which texts go out. What speaks to the carrier is made when it is first needed. */
@Configuration(proxyBeanMethods = false)
class CarrierConfig {

    private static final String SID = "TWILIO_ACCOUNT_SID";
    private static final String TOKEN = "TWILIO_AUTH_TOKEN";
    private static final Duration CONNECT = Duration.ofSeconds(5);
    private static final Duration ANSWER = Duration.ofSeconds(20);

    /** Whether an account of the carrier is set up. */
    static final class AccountIsSet implements Condition {
        @Override
        public boolean matches(ConditionContext context, AnnotatedTypeMetadata metadata) {
            return isSet(context.getEnvironment());
        }

        static boolean isSet(Environment environment) {
            return !environment.getProperty(SID, "").isBlank();
        }
    }

    @Bean
    @Lazy
    @Conditional(AccountIsSet.class)
    HttpClient carrierHttp() {
        return OnceHttpClient.of(HttpClientBuilder.create().useSystemProperties(), CONNECT, ANSWER);
    }

    /** The account, for whatever is asked of the carrier: texts, calls. */
    @Bean
    @Lazy
    @Conditional(AccountIsSet.class)
    TwilioRestClient carrierClient(
            HttpClient http, @Value("${" + SID + "}") String sid, @Value("${" + TOKEN + "}") String token) {
        return new TwilioRestClient.Builder(sid, token).httpClient(http).build();
    }

    /**
     * @throws IllegalStateException if there is an account without its token
     */
    @Bean
    Carrier carrier(
            ObjectProvider<TwilioRestClient> client,
            Environment environment,
            FarmNumbers numbers,
            @Value("${duskpeg.public-url:}") String publicUrl) {
        if (!AccountIsSet.isSet(environment)) {
            return new BuiltInPhone();
        }
        if (environment.getProperty(TOKEN, "").isBlank()) {
            throw new IllegalStateException(SID + " is set and " + TOKEN + " is not");
        }
        return new TwilioCarrier(client::getObject, numbers::of, publicUrl);
    }

    @Bean
    Dispatcher dispatcher(
            OutgoingTexts texts,
            OptOuts optOuts,
            Carrier carrier,
            Index index,
            Clock clock,
            TransactionTemplate transaction,
            @Value("${duskpeg.quiet-hours}") String quiet,
            @Value("${duskpeg.texts-per-day}") int perDay) {
        return new Dispatcher(
                texts,
                optOuts,
                carrier,
                new SendingRules(QuietHours.parse(quiet), perDay),
                farm -> index.settings(farm).zone(),
                clock,
                transaction);
    }
}
