package duskpeg.core.text;

import duskpeg.core.farm.FarmId;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionSynchronization;
import org.springframework.transaction.support.TransactionSynchronizationManager;

/** {@link Outbox} in a table. */
public final class JdbcOutbox implements Outbox {

    private static final int LONGEST_NAME = 120;

    private final JdbcClient jdbc;
    private final InsertOnce inserts;
    private final ApplicationEventPublisher events;

    public JdbcOutbox(JdbcClient jdbc, PlatformTransactionManager transactions, ApplicationEventPublisher events) {
        this.jdbc = jdbc;
        this.inserts = new InsertOnce(transactions);
        this.events = events;
    }

    /**
     * @throws IllegalArgumentException if the name has another length, or if there are no words
     */
    @Override
    public void post(FarmId farm, String recipient, String words, String once, boolean urgent, Instant made) {
        if (once.isEmpty() || once.length() > LONGEST_NAME) {
            throw new IllegalArgumentException("not the name of a text: " + once);
        }
        if (words.isBlank()) {
            throw new IllegalArgumentException("a text without words: " + once);
        }
        inserts.insert(() -> {
            insert(farm, recipient, words, once, urgent, made);
            TransactionSynchronizationManager.registerSynchronization(new TransactionSynchronization() {
                @Override
                public void afterCommit() {
                    events.publishEvent(new Posted());
                }
            });
        });
    }

    private void insert(FarmId farm, String recipient, String words, String once, boolean urgent, Instant made) {
        jdbc.sql("insert into outgoing (farm, once, recipient, words, urgent, made, state)"
                        + " values (?, ?, ?, ?, ?, ?, ?)")
                .params(
                        farm.value(),
                        once,
                        recipient,
                        words,
                        urgent,
                        OffsetDateTime.ofInstant(made, ZoneOffset.UTC),
                        Outgoing.State.WAITING.word())
                .update();
    }
}
