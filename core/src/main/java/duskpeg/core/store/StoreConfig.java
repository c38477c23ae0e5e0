package duskpeg.core.store;

import com.zaxxer.hikari.HikariDataSource;
import java.sql.DatabaseMetaData;
import java.sql.SQLException;
import java.time.Duration;
import java.util.UUID;
import javax.sql.DataSource;
import org.axonframework.common.jdbc.ConnectionProvider;
import org.axonframework.common.jdbc.PersistenceExceptionResolver;
import org.axonframework.common.jdbc.UnitOfWorkAwareConnectionProviderWrapper;
import org.axonframework.common.transaction.TransactionManager;
import org.axonframework.eventhandling.tokenstore.TokenStore;
import org.axonframework.eventhandling.tokenstore.jdbc.JdbcTokenStore;
import org.axonframework.eventhandling.tokenstore.jdbc.TokenSchema;
import org.axonframework.eventsourcing.eventstore.EmbeddedEventStore;
import org.axonframework.eventsourcing.eventstore.EventStorageEngine;
import org.axonframework.eventsourcing.eventstore.EventStore;
import org.axonframework.eventsourcing.eventstore.jdbc.EventSchema;
import org.axonframework.eventsourcing.eventstore.jdbc.JdbcEventStorageEngine;
import org.axonframework.serialization.Serializer;
import org.axonframework.spring.jdbc.SpringDataSourceConnectionProvider;
import org.axonframework.spring.messaging.unitofwork.SpringTransactionManager;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.beans.factory.config.BeanPostProcessor;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.context.annotation.Primary;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.support.JdbcTransactionManager;
import org.springframework.jdbc.support.JdbcUtils;
import org.springframework.jdbc.support.MetaDataAccessException;
import org.springframework.transaction.PlatformTransactionManager;

/** The event store and its tables, bean by bean, so that nothing about it depends on a framework's default. */
@Configuration(proxyBeanMethods = false)
public class StoreConfig {

    /**
     * So long a segment of a projection is its node's after that last gave a sign of life: a node that was killed is stood
     * in for after that. Nodes' clocks must not be further apart than a part of it, or they would take segments from each
     * other in turn: slow, and nothing worse, since what is written goes with the claim in one transaction.
     */
    private static final Duration CLAIM = Duration.ofSeconds(5);

    /** How often the log is looked at for what other nodes wrote; what is written here is known at once. */
    private static final long OTHER_NODES_MILLIS = 250;

    private static final String THERE = "23505";

    /** The name of the data source for a library that has transactions of its own. */
    public static final String OWN_TRANSACTIONS = "ownTransactions";

    /** The name of the transactions of those who follow the log. */
    public static final String FOLLOWERS = "followers";

    /** PostgreSQL's driver sends the rows of a batch as one statement, where it is told to. */
    @Bean
    static BeanPostProcessor rowsTogether() {
        return new BeanPostProcessor() {
            @Override
            public Object postProcessBeforeInitialization(Object bean, String name) {
                if (bean instanceof HikariDataSource pool
                        && !pool.isRunning()
                        && pool.getJdbcUrl() != null
                        && pool.getJdbcUrl().startsWith("jdbc:postgresql:")) {
                    pool.addDataSourceProperty("reWriteBatchedInserts", "true");
                }
                return bean;
            }
        };
    }

    @Bean
    PlatformTransactionManager transactionManager(DataSource dataSource) throws MetaDataAccessException {
        String engine = JdbcUtils.extractDatabaseMetaData(dataSource, DatabaseMetaData::getDatabaseProductName);
        return engine.equals("H2") ? new OneWriter(dataSource) : new JdbcTransactionManager(dataSource);
    }

    /** For a library that has transactions of its own. */
    @Bean(name = OWN_TRANSACTIONS, defaultCandidate = false)
    DataSource ownTransactions(DataSource dataSource, PlatformTransactionManager transactionManager) {
        return transactionManager instanceof OneWriter writer ? new InTurn(dataSource, writer) : dataSource;
    }

    /** For those who follow the log. */
    @Bean(name = FOLLOWERS, defaultCandidate = false)
    TransactionManager followers(PlatformTransactionManager transactionManager) {
        TransactionManager transactions = new SpringTransactionManager(transactionManager);
        return transactionManager instanceof OneWriter writer ? new AfterTexts(transactions, writer) : transactions;
    }

    @Bean
    TransactionManager axonTransactionManager(PlatformTransactionManager transactionManager) {
        return new SpringTransactionManager(transactionManager);
    }

    @Bean
    ConnectionProvider connectionProvider(DataSource dataSource) {
        return new UnitOfWorkAwareConnectionProviderWrapper(new SpringDataSourceConnectionProvider(dataSource));
    }

    @Bean
    @Primary
    Serializer serializer() {
        return new EventSerializer();
    }

    @Bean
    @Qualifier("eventSerializer")
    Serializer eventSerializer() {
        return new EventSerializer();
    }

    @Bean
    PersistenceExceptionResolver persistenceExceptionResolver() {
        return StoreConfig::isThere;
    }

    /**
     * Whether an event failed for another at its place: two nodes wrote on one page at once, and the second is to try
     * again. PostgreSQL's driver has no exception of its own for it, as H2's has, so what counts is the SQL state, which
     * both have from the standard (ISO 9075, class 23; 23505 from both manuals).
     */
    static boolean isThere(Exception failure) {
        for (Throwable cause = failure; cause != null; cause = cause.getCause()) {
            if (cause instanceof SQLException sql && THERE.equals(sql.getSQLState())) {
                return true;
            }
        }
        return false;
    }

    @Bean
    EventStorageEngine eventStorageEngine(
            @Qualifier("eventSerializer") Serializer serializer,
            ConnectionProvider connections,
            TransactionManager transactions,
            PersistenceExceptionResolver errors,
            Upcasts upcasts) {
        return new FieldLog(JdbcEventStorageEngine.builder()
                .upcasterChain(upcasts.chain())
                .eventSerializer(serializer)
                .snapshotSerializer(serializer)
                .connectionProvider(connections)
                .transactionManager(transactions)
                .persistenceExceptionResolver(errors)
                .schema(EventSchema.builder()
                        .eventTable("event")
                        .snapshotTable("snapshot")
                        .globalIndexColumn("position")
                        .timestampColumn("stored_at")
                        .eventIdentifierColumn("event_id")
                        .aggregateIdentifierColumn("stream")
                        .sequenceNumberColumn("sequence")
                        .typeColumn("stream_type")
                        .payloadTypeColumn("event_type")
                        .payloadRevisionColumn("revision")
                        .payloadColumn("payload")
                        .metaDataColumn("metadata")
                        .build()));
    }

    @Bean
    Upcasts upcasts() {
        return Upcasts.RELEASED;
    }

    @Bean
    EventLog eventLog(JdbcClient jdbc, Upcasts upcasts) {
        return new EventLog(jdbc, upcasts);
    }

    @Bean
    EventStore eventStore(EventStorageEngine engine) {
        return EmbeddedEventStore.builder()
                .storageEngine(engine)
                .fetchDelay(OTHER_NODES_MILLIS)
                .build();
    }

    @Bean
    PromptLog promptLog(EventStore log) {
        return new PromptLog(log);
    }

    @Bean
    StoredEvents storedEvents(JdbcClient jdbc, PlatformTransactionManager transactionManager) {
        return new StoredEvents(jdbc, !(transactionManager instanceof OneWriter));
    }

    @Bean
    TokenStore tokenStore(Serializer serializer, ConnectionProvider connections) {
        return JdbcTokenStore.builder()
                .serializer(serializer)
                .connectionProvider(connections)
                // Its default is process and host, which two containers may share.
                .nodeId(UUID.randomUUID().toString())
                .claimTimeout(CLAIM)
                .schema(TokenSchema.builder()
                        .setTokenTable("token")
                        .setProcessorNameColumn("processor")
                        .setSegmentColumn("segment")
                        .setTokenColumn("token")
                        .setTokenTypeColumn("token_type")
                        .setTimestampColumn("claimed_at")
                        .setOwnerColumn("owner")
                        .build())
                .build();
    }
}
