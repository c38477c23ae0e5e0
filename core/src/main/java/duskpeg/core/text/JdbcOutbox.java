package duskpeg.core.text;

import duskpeg.core.farm.FarmId;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.support.TransactionSynchronization;
import org.springframework.transaction.support.TransactionSynchronizationManager;
import org.springframework.transaction.support.TransactionTemplate;

/** {@link Outbox} in a table. */
public final class JdbcOutbox implements Outbox {

    private static final int LONGEST_NAME = 120;

    private final JdbcClient jdbc;
    private final TransactionTemplate nested;
    private final ApplicationEventPublisher events;

    public JdbcOutbox(JdbcClient jdbc, PlatformTransactionManager transactions, ApplicationEventPublisher events) {
        this.jdbc = jdbc;
        // A failed insert would end a PostgreSQL transaction; behind a savepoint it ends only itself.
        this.nested = new TransactionTemplate(transactions);
        this.nested.setPropagationBehavior(TransactionDefinition.PROPAGATION_NESTED);
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
        try {
            nested.executeWithoutResult(status -> {
                insert(farm, recipient, words, once, urgent, made);
                TransactionSynchronizationManager.registerSynchronization(new TransactionSynchronization() {
                    @Override
                    public void afterCommit() {
                        events.publishEvent(new Posted());
                    }
                });
            });
        } catch (DuplicateKeyException e) {
            // It was posted before, which is what its name is for.
            return;
        }
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
