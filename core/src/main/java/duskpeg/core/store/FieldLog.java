package duskpeg.core.store;

import java.util.stream.Stream;
import org.axonframework.eventhandling.DomainEventData;
import org.axonframework.eventsourcing.eventstore.jdbc.JdbcEventStorageEngine;

/** The log. A subject's events are few, so that no snapshots are made and none are looked for. */
final class FieldLog extends JdbcEventStorageEngine {

    FieldLog(Builder builder) {
        super(builder);
    }

    @Override
    protected Stream<? extends DomainEventData<?>> readSnapshotData(String subject) {
        return Stream.empty();
    }
}
