package duskpeg.messaging.voice;

import com.twilio.http.TwilioRestClient;
import duskpeg.core.text.FarmNumbers;
import java.util.stream.Stream;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.boot.autoconfigure.condition.ConditionalOnMissingBean;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

/** How workers are called back, where the farm has set that up. */
@Configuration(proxyBeanMethods = false)
class CallBackConfig {

    /**
     * @throws IllegalStateException if something is missing without which nobody can be called
     */
    @Bean
    @ConditionalOnProperty("duskpeg.call-back")
    @ConditionalOnMissingBean
    CallBack callBack(
            ObjectProvider<TwilioRestClient> client,
            @Value("${TWILIO_ACCOUNT_SID:}") String account,
            @Value("${TWILIO_AUTH_TOKEN:}") String token,
            FarmNumbers numbers,
            @Value("${duskpeg.public-url:}") String publicUrl) {
        if (Stream.of(account, token, publicUrl).anyMatch(String::isBlank)) {
            throw new IllegalStateException(
                    "duskpeg.call-back=true needs TWILIO_ACCOUNT_SID, TWILIO_AUTH_TOKEN and duskpeg.public-url");
        }
        return new CarrierCallBack(client.getObject(), numbers::of, publicUrl);
    }
}
