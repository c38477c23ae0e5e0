package duskpeg.server;

import com.github.kagkarlsson.scheduler.Scheduler;
import com.github.kagkarlsson.scheduler.task.helper.RecurringTask;
import com.github.kagkarlsson.scheduler.task.helper.Tasks;
import com.github.kagkarlsson.scheduler.task.schedule.FixedDelay;
import com.github.kagkarlsson.scheduler.task.schedule.Schedules;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.store.StoreConfig;
import duskpeg.projections.alerts.Lookout;
import duskpeg.projections.ledger.LastSeen;
import duskpeg.projections.ledger.Publisher;
import duskpeg.projections.ops.Backups;
import duskpeg.projections.witness.Witnesses;
import java.time.Clock;
import java.time.Duration;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import javax.sql.DataSource;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.boot.web.servlet.context.ServletWebServerApplicationContext;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.context.event.ContextClosedEvent;
import org.springframework.context.event.EventListener;

/**
 * What is done by the clock: each minute the lookout looks, each hour the ledger is published where it was not yet that
 * day, and shown to its witnesses; each night a backup is made, where the settings say so. The schedule is in the
 * database: it goes on after a restart, and of several nodes one does it. It begins with the web server, so nobody is
 * told anything while projections are made anew, and only where the settings don't forbid it. What each node does for
 * itself, each minute and when it is stopped in order, is to write down what it sees of the log.
 */
@Configuration(proxyBeanMethods = false)
class Schedule {

    private static final Duration LOOK = Duration.ofMinutes(1);
    private static final Duration PUBLISH = Duration.ofHours(1);
    /** A witness far away must hold up nobody else. */
    private static final int THREADS = 2;

    private static final Duration POLL = Duration.ofSeconds(10);

    private final ScheduledExecutorService eachMinute = Executors.newSingleThreadScheduledExecutor(work -> {
        Thread thread = new Thread(work, "last-seen");
        thread.setDaemon(true);
        return thread;
    });

    @Bean(destroyMethod = "stop")
    Scheduler scheduler(
            @Qualifier(StoreConfig.OWN_TRANSACTIONS) DataSource dataSource,
            Lookout lookout,
            Publisher publisher,
            Witnesses witnesses,
            Backups backups,
            Index index,
            Clock clock) {
        RecurringTask<Void> look = Tasks.recurring("lookout", FixedDelay.of(LOOK))
                .execute((instance, context) -> index.farms().forEach(farm -> lookout.look(farm, clock.instant())));
        RecurringTask<Void> publish = Tasks.recurring("publisher", FixedDelay.of(PUBLISH))
                .execute(
                        (instance, context) -> index.farms().forEach(farm -> publisher.publish(farm, clock.instant())));
        RecurringTask<Void> witness = Tasks.recurring("witnesses", FixedDelay.of(PUBLISH))
                .execute(
                        (instance, context) -> index.farms().forEach(farm -> witnesses.publish(farm, clock.instant())));
        RecurringTask<Void> backup = Tasks.recurring("backup", Schedules.daily(ZoneId.systemDefault(), backups.at()))
                .execute((instance, context) -> backups.make());
        List<RecurringTask<Void>> tasks = new ArrayList<>(List.of(look, publish, witness));
        if (backups.wanted()) {
            // A node without a folder must not take it from one that has one.
            tasks.add(backup);
        }
        return Scheduler.create(dataSource)
                .startTasks(tasks)
                .threads(THREADS)
                .pollingInterval(POLL)
                .build();
    }

    @EventListener
    void begin(ApplicationReadyEvent ready) {
        if (ready.getApplicationContext() instanceof ServletWebServerApplicationContext web
                && web.getEnvironment().getRequiredProperty("duskpeg.schedule", Boolean.class)) {
            web.getBean(Scheduler.class).start();
            var unused = eachMinute.scheduleWithFixedDelay(web.getBean(LastSeen.class)::keep, 0, 1, TimeUnit.MINUTES);
        }
    }

    @EventListener
    void end(ContextClosedEvent closed) {
        // One that is at work comes to its end: nobody interrupts what uses the database.
        eachMinute.shutdown();
        if (closed.getApplicationContext() instanceof ServletWebServerApplicationContext web) {
            web.getBean(LastSeen.class).keep();
        }
    }
}
