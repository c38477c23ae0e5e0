package duskpeg.projections.parking;

import duskpeg.core.farm.FarmId;
import duskpeg.core.store.DatabaseGone;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.axonframework.common.jdbc.ConnectionProvider;
import org.axonframework.common.transaction.TransactionManager;
import org.axonframework.config.EventProcessingConfiguration;
import org.axonframework.eventhandling.DomainEventMessage;
import org.axonframework.eventhandling.EventMessage;
import org.axonframework.eventhandling.GapAwareTrackingToken;
import org.axonframework.eventhandling.deadletter.jdbc.DeadLetterSchema;
import org.axonframework.eventhandling.deadletter.jdbc.JdbcSequencedDeadLetterQueue;
import org.axonframework.eventsourcing.eventstore.EventStorageEngine;
import org.axonframework.messaging.deadletter.DeadLetter;
import org.axonframework.messaging.deadletter.Decisions;
import org.axonframework.messaging.deadletter.EnqueueDecision;
import org.axonframework.messaging.deadletter.GenericDeadLetter;
import org.axonframework.messaging.deadletter.SequencedDeadLetterQueue;
import org.axonframework.serialization.Serializer;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.dao.RecoverableDataAccessException;
import org.springframework.dao.TransientDataAccessException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * Events that a projection could not take wait here, each with those of the same subject that came after it; all other
 * subjects go on. Only faults of the program park: what failed because the database was gone, or two met, is tried again
 * where it is. The ledger never parks: it stands still until it can take the event.
 */
@Component
public class Parking {

    private static final DeadLetterSchema SCHEMA = new DeadLetterSchema.Builder()
            .deadLetterTable("parked")
            .deadLetterIdentifierColumn("letter")
            .processingGroupColumn("projection")
            .sequenceIdentifierColumn("subject")
            .sequenceIndexColumn("place")
            .messageTypeColumn("message_type")
            .eventIdentifierColumn("event_id")
            .timestampColumn("stored_at")
            .payloadTypeColumn("event_type")
            .payloadRevisionColumn("revision")
            .payloadColumn("payload")
            .metaDataColumn("metadata")
            .aggregateTypeColumn("stream_type")
            .aggregateIdentifierColumn("stream")
            .sequenceNumberColumn("sequence")
            .tokenTypeColumn("token_type")
            .tokenColumn("token")
            .enqueuedAtColumn("parked_at")
            .lastTouchedColumn("touched_at")
            .processingStartedColumn("claimed_at")
            .causeTypeColumn("cause_type")
            .causeMessageColumn("cause")
            .diagnosticsColumn("diagnostics")
            .build();

    private final JdbcClient jdbc;
    private final ConnectionProvider connections;
    private final TransactionManager transactions;
    private final Serializer serializer;
    private final EventStorageEngine log;
    private final ObjectProvider<EventProcessingConfiguration> processing;

    Parking(
            JdbcClient jdbc,
            ConnectionProvider connections,
            TransactionManager transactions,
            @Qualifier("eventSerializer") Serializer serializer,
            EventStorageEngine log,
            ObjectProvider<EventProcessingConfiguration> processing) {
        this.jdbc = jdbc;
        this.connections = connections;
        this.transactions = transactions;
        this.serializer = serializer;
        this.log = log;
        this.processing = processing;
    }

    /**
     * An event that waits.
     *
     * @param subject what it is about
     * @param reason why; null where it only waits behind another of the subject
     */
    public record Waiting(
            String projection,
            String subject,
            String event,
            String type,
            @Nullable String reason,
            Instant since) {}

    /**
     * An event that could not be taken while a projection was made anew, or waits behind one.
     *
     * @param position where it lies in the log
     * @param reason null where it only waits
     */
    public record LeftOut(
            long position, String subject, @Nullable Throwable reason) {}

    /** Where the events of a projection wait. */
    public SequencedDeadLetterQueue<EventMessage<?>> queue(String projection) {
        return JdbcSequencedDeadLetterQueue.<EventMessage<?>>builder()
                .processingGroup(projection)
                .schema(SCHEMA)
                .connectionProvider(connections)
                .transactionManager(transactions)
                .genericSerializer(serializer)
                .eventSerializer(serializer)
                .build();
    }

    /** Whether what failed so is parked: it would fail again and again. */
    public static boolean parks(@Nullable Throwable failure) {
        if (failure == null || DatabaseGone.is(failure)) {
            return false;
        }
        for (Throwable cause = failure; cause != null; cause = cause.getCause()) {
            if (cause instanceof TransientDataAccessException
                    || cause instanceof RecoverableDataAccessException
                    || cause instanceof Error) {
                return false;
            }
        }
        return true;
    }

    /**
     * What becomes of an event that failed.
     *
     * @throws IllegalStateException if it is to be tried again where it is
     */
    public static EnqueueDecision<EventMessage<?>> decide(
            DeadLetter<? extends EventMessage<?>> letter, Throwable failure) {
        if (!parks(failure)) {
            throw new IllegalStateException("to be tried again", failure);
        }
        return Decisions.enqueue(failure);
    }

    /** In the place of what waits of a projection comes what was left out when it was made anew. */
    public void replace(String projection, List<LeftOut> leftOut) {
        SequencedDeadLetterQueue<EventMessage<?>> queue = queue(projection);
        queue.clear();
        for (LeftOut one : leftOut) {
            try (var events = log.readEvents(
                    one.position() == 0 ? null : GapAwareTrackingToken.newInstance(one.position() - 1, List.of()),
                    false)) {
                EventMessage<?> event = events.findFirst().orElseThrow();
                queue.enqueue(
                        one.subject(),
                        one.reason() == null
                                ? new GenericDeadLetter<>(one.subject(), event)
                                : new GenericDeadLetter<>(one.subject(), event, one.reason()));
            }
        }
    }

    /** Everything that waits, what waits longest first. */
    public List<Waiting> waiting() {
        return jdbc.sql("select projection, subject, event_id, event_type, cause_type, cause, parked_at from parked"
                        + " order by projection, subject, place")
                .query((row, number) -> new Waiting(
                        row.getString(1),
                        row.getString(2),
                        row.getString(3),
                        row.getString(4),
                        row.getString(5) == null
                                ? null
                                : row.getString(5).replaceAll(".*\\.", "") + ": " + row.getString(6),
                        Instant.parse(row.getString(7))))
                .list();
    }

    /** How many events wait, by projection; those without any are left out. */
    public Map<String, Long> counts() {
        Map<String, Long> counts = new TreeMap<>();
        jdbc.sql("select projection, count(*) from parked group by projection").query(row -> {
            counts.put(row.getString(1), row.getLong(2));
        });
        return counts;
    }

    /** How many events of a farm wait in a projection. */
    public int count(String projection, FarmId farm) {
        return jdbc.sql("select count(*) from parked where projection = ? and (subject = ? or subject like ?)")
                .params(projection, farm.value(), farm + "/%")
                .query(Integer.class)
                .single();
    }

    /**
     * Tries the events of a subject once more, one after the other until one fails.
     *
     * @return whether there were any and all were taken
     */
    public boolean tryAgain(String projection, String subject) {
        return processing
                .getObject()
                .sequencedDeadLetterProcessor(projection)
                .map(parked -> parked.process(letter -> letter.message() instanceof DomainEventMessage<?> event
                        && event.getAggregateIdentifier().equals(subject)))
                .orElse(false);
    }
}
