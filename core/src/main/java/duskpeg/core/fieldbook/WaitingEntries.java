package duskpeg.core.fieldbook;

import java.util.Objects;
import java.util.function.Consumer;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.JdbcOperations;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionSynchronization;
import org.springframework.transaction.support.TransactionSynchronizationManager;

/**
 * What a transaction says of subjects and ties and is not yet in the tables: several texts that are heard together are
 * written together. Whoever reads those tables gets the database from here, after what waits was written. Outside of
 * transactions nothing waits.
 */
final class WaitingEntries implements Supplier<JdbcClient> {

    private final JdbcOperations operations;
    private final JdbcClient jdbc;

    WaitingEntries(JdbcOperations operations) {
        this.operations = operations;
        this.jdbc = JdbcClient.create(operations);
    }

    /** Adds something: outside of a transaction it is written at once. */
    void add(Consumer<SaidEntries> what) {
        if (!TransactionSynchronizationManager.isSynchronizationActive()) {
            SaidEntries entries = new SaidEntries(operations);
            what.accept(entries);
            entries.write();
            return;
        }
        SaidEntries entries = bound();
        if (entries == null) {
            entries = new SaidEntries(operations);
            TransactionSynchronizationManager.bindResource(this, entries);
            TransactionSynchronizationManager.registerSynchronization(new Ending());
        }
        what.accept(entries);
    }

    /** The database, with everything in its tables that this transaction said. */
    @Override
    public JdbcClient get() {
        SaidEntries entries = bound();
        if (entries != null) {
            entries.write();
        }
        return jdbc;
    }

    private @Nullable SaidEntries bound() {
        return (SaidEntries) TransactionSynchronizationManager.getResource(this);
    }

    private final class Ending implements TransactionSynchronization {

        private @Nullable SaidEntries suspended;

        @Override
        public void beforeCommit(boolean readOnly) {
            get();
        }

        @Override
        public void suspend() {
            suspended = (SaidEntries) TransactionSynchronizationManager.unbindResource(WaitingEntries.this);
        }

        @Override
        public void resume() {
            TransactionSynchronizationManager.bindResource(WaitingEntries.this, Objects.requireNonNull(suspended));
        }

        @Override
        public void afterCompletion(int status) {
            TransactionSynchronizationManager.unbindResourceIfPossible(WaitingEntries.this);
        }
    }
}
