package duskpeg.server;

import duskpeg.core.act.Act;
import duskpeg.core.crew.People;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.store.DatabaseGone;
import duskpeg.core.store.PromptLog;
import duskpeg.core.store.StoreConfig;
import duskpeg.core.text.FarmNumbers;
import duskpeg.projections.copies.Projection;
import duskpeg.projections.ledger.LastSeen;
import duskpeg.projections.ledger.LedgerProjection;
import duskpeg.projections.parking.Parking;
import duskpeg.projections.rebuild.Rebuild;
import java.io.IOException;
import java.time.Clock;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import org.axonframework.commandhandling.CommandBus;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.axonframework.commandhandling.gateway.DefaultCommandGateway;
import org.axonframework.commandhandling.gateway.ExponentialBackOffIntervalRetryScheduler;
import org.axonframework.common.transaction.TransactionManager;
import org.axonframework.config.EventProcessingConfigurer;
import org.axonframework.eventhandling.EventMessage;
import org.axonframework.eventhandling.PropagatingErrorHandler;
import org.axonframework.eventhandling.pooled.PooledStreamingEventProcessor;
import org.axonframework.eventsourcing.eventstore.EventStorageEngine;
import org.axonframework.messaging.InterceptorChain;
import org.axonframework.messaging.unitofwork.UnitOfWork;
import org.axonframework.spring.messaging.unitofwork.SpringTransactionManager;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.slf4j.MDC;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.boot.ApplicationRunner;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.boot.autoconfigure.flyway.FlywayMigrationStrategy;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.boot.web.servlet.context.ServletWebServerApplicationContext;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.context.event.ContextClosedEvent;
import org.springframework.context.event.EventListener;
import org.springframework.core.annotation.Order;
import org.springframework.core.io.Resource;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionTemplate;

/** What holds the parts together: the clock, the command gateway, the event processors, the first farm. */
@Configuration(proxyBeanMethods = false)
class ServerConfig {

    private static final Logger LOG = LoggerFactory.getLogger(ServerConfig.class);
    private static final int BATCH = 500;
    /** How often a node says that it still has its segments: twice and more within what a claim lasts. */
    private static final long CLAIM_SIGN_MILLIS = 2_000;
    /** How often a node looks for segments that are nobody's. */
    private static final long CLAIM_LOOK_MILLIS = 1_000;
    /** Each pause is twice the one before: 5 s together, of the 15 s that a carrier waits for an answer. */
    private static final int RETRIES = 10;

    private static final long RETRY_MILLIS = 5;

    private static final long LINE_MILLIS = 5_000;

    /** Set where the log is only looked at, whatever was seen of it before. */
    static final String LOOK_ONLY = "duskpeg.look-only";

    /** An older database is refused before its tables are touched, an event is read, or a text is taken. Static, so that nothing else is made before. */
    @Bean
    static FlywayMigrationStrategy requireLastSeen(
            LastSeen seen, @Value("${" + LOOK_ONLY + ":false}") boolean lookOnly) {
        return flyway -> {
            if (!lookOnly) {
                seen.require();
            }
            flyway.migrate();
        };
    }

    /** The server's clock; in a demo, that of whoever asks. */
    @Bean
    Clock clock(@Value("${duskpeg.demo}") boolean demo) {
        return demo ? new DemoClock() : Clock.systemUTC();
    }

    @Bean
    @ConditionalOnProperty("duskpeg.demo")
    DemoClockFilter demoClockFilter() {
        return new DemoClockFilter();
    }

    @Bean(destroyMethod = "shutdownNow")
    ScheduledExecutorService retryExecutor() {
        return Executors.newScheduledThreadPool(4);
    }

    /** Reports that meet on one page are tried again until each is written. */
    @Bean
    CommandGateway commandGateway(CommandBus bus, ScheduledExecutorService retryExecutor) {
        return DefaultCommandGateway.builder()
                .commandBus(bus)
                .retryScheduler(ExponentialBackOffIntervalRetryScheduler.builder()
                        .retryExecutor(retryExecutor)
                        .backoffFactor(RETRY_MILLIS)
                        .maxRetryCount(RETRIES)
                        // The carrier does not wait for a database that is gone.
                        .addNonTransientFailurePredicate(DatabaseGone::is)
                        .build())
                .build();
    }

    @Autowired
    void processors(
            EventProcessingConfigurer configurer,
            List<Projection> projections,
            Parking parking,
            PromptLog log,
            @Qualifier(StoreConfig.FOLLOWERS) TransactionManager followers) {
        // What a projection can't take waits aside, and those of the same subject behind it.
        projections.forEach(projection ->
                configurer.registerDeadLetterQueue(projection.name(), config -> parking.queue(projection.name())));
        configurer
                .registerDefaultTransactionManager(config -> followers)
                .configureDefaultStreamableMessageSource(config -> log)
                .usingPooledStreamingEventProcessors((config, processor) -> claimed(processor, Rebuild.SEGMENTS))
                // The ledger has one order only.
                .registerPooledStreamingEventProcessorConfiguration(
                        LedgerProjection.NAME, (config, processor) -> claimed(processor, 1))
                .registerDefaultDeadLetterPolicy(config -> Parking::decide)
                // An event that fails stops the ledger and is tried again; it is never skipped.
                .registerDefaultListenerInvocationErrorHandler(config -> PropagatingErrorHandler.instance())
                // Whatever is logged while an event is handled has its id, and that of the text it came in.
                .registerDefaultHandlerInterceptor((config, processor) -> ServerConfig::named);
    }

    private static PooledStreamingEventProcessor.Builder claimed(
            PooledStreamingEventProcessor.Builder processor, int segments) {
        return processor
                .initialSegmentCount(segments)
                .batchSize(BATCH)
                .tokenClaimInterval(CLAIM_LOOK_MILLIS)
                .claimExtensionThreshold(CLAIM_SIGN_MILLIS)
                // Also while it is busy with a batch that takes long.
                .enableCoordinatorClaimExtension();
    }

    private static @Nullable Object named(UnitOfWork<? extends EventMessage<?>> unit, InterceptorChain chain)
            throws Exception {
        EventMessage<?> event = unit.getMessage();
        MDC.put("event", event.getIdentifier());
        try {
            text(event).ifPresent(text -> MDC.put("text", text));
            return chain.proceed();
        } finally {
            MDC.remove("event");
            MDC.remove("text");
        }
    }

    /** What can't be read fails where it is handled, not here. */
    private static Optional<String> text(EventMessage<?> event) {
        try {
            return event.getPayload() instanceof Act act
                    ? Optional.of(act.told().text().value())
                    : Optional.empty();
        } catch (RuntimeException e) {
            return Optional.empty();
        }
    }

    /** A store without transactions would lose reports in silence, so there is no starting with one. */
    @Autowired
    void requireTransactions(TransactionManager transactions) {
        if (!(transactions instanceof SpringTransactionManager)) {
            throw new IllegalStateException("events would not be stored in transactions: " + transactions.getClass());
        }
    }

    @Bean
    @Order(0)
    ApplicationRunner firstFarm(
            FarmFile farmFile, EventStorageEngine log, @Value("${duskpeg.farm-file}") Resource file) {
        return arguments -> {
            // The index is no measure: after a restore it is yet to be made.
            farmFile.enterFirst(file, () -> log.createHeadToken() == null);
        };
    }

    @Bean
    FarmFile farmFile(
            CommandGateway commands,
            People people,
            FarmNumbers numbers,
            Index index,
            JdbcClient jdbc,
            TransactionTemplate transaction,
            Clock clock) {
        return new FarmFile(commands, people, numbers, index, jdbc, transaction, clock);
    }

    /** Behind the backs of those who look at the first pages already, so that the server is ready as soon as ever. */
    @EventListener
    void playDemoSeason(ApplicationReadyEvent ready) {
        if (ready.getApplicationContext() instanceof ServletWebServerApplicationContext web
                && web.getEnvironment().getRequiredProperty("duskpeg.demo-season", Boolean.class)) {
            DemoSeason season = web.getBean(DemoSeason.class);
            Thread player = new Thread(
                    () -> {
                        try {
                            season.play(Instant.now());
                        } catch (RuntimeException e) {
                            // It goes on at the next start.
                            LOG.info("The demo's season was not played to its end: {}", e.toString());
                        }
                    },
                    "demo-season");
            player.setDaemon(true);
            player.start();
            web.addApplicationListener(event -> {
                if (event instanceof ContextClosedEvent) {
                    season.stop();
                    join(player);
                }
            });
        }
    }

    /** A line that is being played comes to its end before the database is closed. */
    private static void join(Thread player) {
        try {
            player.join(LINE_MILLIS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    @EventListener
    void sayWhere(ApplicationReadyEvent ready) throws IOException {
        if (ready.getApplicationContext() instanceof ServletWebServerApplicationContext web) {
            System.out.println(
                    "Duskpeg is ready: http://localhost:" + web.getWebServer().getPort() + "/");
        }
    }
}
