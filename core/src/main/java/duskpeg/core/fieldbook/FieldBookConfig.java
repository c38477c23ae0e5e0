package duskpeg.core.fieldbook;

import duskpeg.core.crew.BesideTheLog;
import duskpeg.core.crew.JdbcPeople;
import duskpeg.core.crew.People;
import duskpeg.core.store.StoredEvents;
import duskpeg.core.text.FarmNumbers;
import duskpeg.core.text.JdbcOutbox;
import duskpeg.core.text.OptOuts;
import duskpeg.core.text.Outbox;
import duskpeg.core.text.OutgoingTexts;
import duskpeg.core.text.Texts;
import duskpeg.core.text.WaitingTexts;
import duskpeg.core.text.Warned;
import java.util.List;
import org.axonframework.common.caching.WeakReferenceCache;
import org.axonframework.eventsourcing.EventSourcingRepository;
import org.axonframework.eventsourcing.eventstore.EventStore;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.jdbc.core.JdbcOperations;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.PlatformTransactionManager;

/** The field book, its index, and the people and messages beside it. */
@Configuration(proxyBeanMethods = false)
public class FieldBookConfig {

    @Bean
    Index index(JdbcOperations jdbc) {
        return new Index(jdbc);
    }

    @Bean
    FieldBook fieldBook(EventStore events, StoredEvents stored, Index index, Texts texts) {
        return new FieldBook(
                EventSourcingRepository.builder(Page.class)
                        .eventStore(events)
                        // A page in use is kept; one that another node wrote on is found stale, dropped and read again.
                        .cache(new WeakReferenceCache())
                        .build(),
                events,
                stored,
                index,
                texts);
    }

    @Bean
    Erasure erasure(
            FieldBook book,
            Index index,
            People people,
            Texts texts,
            OutgoingTexts outgoing,
            List<BesideTheLog> besideTheLog,
            JdbcClient jdbc) {
        return new Erasure(book, index, people, texts, outgoing, besideTheLog, jdbc);
    }

    @Bean
    People people(JdbcClient jdbc) {
        return new JdbcPeople(jdbc);
    }

    @Bean
    FarmNumbers farmNumbers(JdbcClient jdbc, @Value("${duskpeg.farm-number}") String servers) {
        return new FarmNumbers(jdbc, servers);
    }

    @Bean
    Texts texts(JdbcOperations jdbc) {
        return new Texts(jdbc);
    }

    @Bean
    Outbox outbox(JdbcClient jdbc, PlatformTransactionManager transactions, ApplicationEventPublisher events) {
        return new JdbcOutbox(jdbc, transactions, events);
    }

    @Bean
    OutgoingTexts outgoingTexts(JdbcClient jdbc, PlatformTransactionManager transactions) {
        return new OutgoingTexts(jdbc, transactions);
    }

    @Bean
    OptOuts optOuts(JdbcClient jdbc, PlatformTransactionManager transactions) {
        return new OptOuts(jdbc, transactions);
    }

    @Bean
    Warned warned(JdbcClient jdbc, PlatformTransactionManager transactions) {
        return new Warned(jdbc, transactions);
    }

    @Bean
    WaitingTexts waitingTexts(JdbcClient jdbc) {
        return new WaitingTexts(jdbc);
    }
}
