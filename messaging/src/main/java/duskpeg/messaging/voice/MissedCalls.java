package duskpeg.messaging.voice;

import duskpeg.core.crew.BesideTheLog;
import duskpeg.core.crew.People.Person;
import duskpeg.core.crew.WorkerId;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Set;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import org.axonframework.commandhandling.CommandHandler;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.DisposableBean;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * Calls workers back, where the farm has set that up, so that a call costs them nothing. A worker is called back at most
 * once a minute, on whichever server. A call back that fails, or of which nobody knows whether it was placed, is not
 * tried again: she calls again herself.
 */
@Component
class MissedCalls implements DisposableBean, BesideTheLog {

    private static final Logger LOG = LoggerFactory.getLogger(MissedCalls.class);
    private static final Duration AT_MOST_EVERY = Duration.ofMinutes(1);

    private final CommandGateway commands;
    private final JdbcClient jdbc;
    private final Clock clock;
    private final ObjectProvider<CallBack> callBack;
    private final boolean on;
    private final Duration after;
    private final ScheduledExecutorService later = Executors.newSingleThreadScheduledExecutor(work -> {
        Thread thread = new Thread(work, "call-back");
        thread.setDaemon(true);
        return thread;
    });

    /**
     * @param on whether calls are not taken but called back
     * @param after how long it is waited, so that her phone is free again
     */
    MissedCalls(
            CommandGateway commands,
            JdbcClient jdbc,
            Clock clock,
            ObjectProvider<CallBack> callBack,
            @Value("${duskpeg.call-back:false}") boolean on,
            @Value("${duskpeg.call-back-after:PT4S}") Duration after) {
        this.commands = commands;
        this.jdbc = jdbc;
        this.clock = clock;
        this.callBack = callBack;
        this.on = on;
        this.after = after;
    }

    /**
     * A worker is to be called back.
     *
     * @param at when she called
     */
    record Missed(WorkerId worker, Instant at) {}

    /**
     * Whether this call is not to be taken, because she is called back; if so, it is on its way.
     */
    boolean callsBack(Person caller) {
        if (!on) {
            return false;
        }
        if (commands.<Boolean>sendAndWait(new Missed(caller.worker(), clock.instant()))) {
            CallBack carrier = callBack.getObject();
            Future<?> unused = later.schedule(() -> call(carrier, caller), after.toMillis(), TimeUnit.MILLISECONDS);
        }
        return true;
    }

    private static void call(CallBack carrier, Person caller) {
        try {
            carrier.call(caller.worker().farm(), caller.phone());
        } catch (RuntimeException e) {
            // What the carrier says of it may have her number in it.
            LOG.warn(
                    "{} may not have been called back, and is not called again: {}",
                    caller.worker(),
                    e.getClass().getName());
        }
    }

    /**
     * @return whether she is to be called now: not if that was done within the last minute
     */
    @CommandHandler
    boolean handle(Missed missed) {
        WorkerId worker = missed.worker();
        OffsetDateTime at = OffsetDateTime.ofInstant(missed.at(), ZoneOffset.UTC);
        boolean due = jdbc.sql("update call_back set asked = ? where farm = ? and worker = ? and asked <= ?")
                        .params(at, worker.farm().value(), worker.pseudonym(), at.minus(AT_MOST_EVERY))
                        .update()
                == 1;
        return due || (isFirst(worker) && insert(worker, at));
    }

    private boolean isFirst(WorkerId worker) {
        return jdbc.sql("select 1 from call_back where farm = ? and worker = ?")
                .params(worker.farm().value(), worker.pseudonym())
                .query(Integer.class)
                .optional()
                .isEmpty();
    }

    /** Where another server was faster this fails, and the command is tried again. */
    private boolean insert(WorkerId worker, OffsetDateTime at) {
        return jdbc.sql("insert into call_back (farm, worker, asked) values (?, ?, ?)")
                        .params(worker.farm().value(), worker.pseudonym(), at)
                        .update()
                == 1;
    }

    @Override
    public void erase(WorkerId worker, Set<String> phones) {
        jdbc.sql("delete from call_back where farm = ? and worker = ?")
                .params(worker.farm().value(), worker.pseudonym())
                .update();
    }

    @Override
    public void destroy() {
        later.shutdownNow();
    }
}
