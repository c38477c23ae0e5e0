package duskpeg.messaging.carrier;

import duskpeg.core.fieldbook.Index;
import duskpeg.core.text.OptOuts;
import duskpeg.core.text.OutgoingTexts;
import java.time.Clock;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.transaction.support.TransactionTemplate;

/** The carrier, and the rules by which texts go out. */
@Configuration(proxyBeanMethods = false)
class CarrierConfig {

    @Bean
    Carrier carrier() {
        return new BuiltInPhone();
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
