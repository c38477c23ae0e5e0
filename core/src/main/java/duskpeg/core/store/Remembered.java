package duskpeg.core.store;

import java.util.HashMap;
import java.util.Map;
import java.util.function.Supplier;
import org.springframework.transaction.support.TransactionSynchronization;
import org.springframework.transaction.support.TransactionSynchronizationManager;

/**
 * What was read in a transaction and is the same until the transaction changes it or ends; so texts that are heard
 * together ask the database once for what they have in common. Outside of transactions everything is read anew.
 */
public final class Remembered {

    /**
     * Reads something, unless it was read in this transaction.
     *
     * @param key what it is; the same key must always be used for the same type
     */
    @SuppressWarnings("unchecked") // the same key, the same type
    public <T> T get(Object key, Supplier<T> read) {
        if (!TransactionSynchronizationManager.isSynchronizationActive()
                || !TransactionSynchronizationManager.isActualTransactionActive()) {
            return read.get();
        }
        Map<Object, Object> known = known();
        Object found = known.get(key);
        if (found == null) {
            found = read.get();
            known.put(key, found);
        }
        return (T) found;
    }

    /** Forgets all that was read in this transaction, since some of it was changed. */
    public void forget() {
        if (TransactionSynchronizationManager.hasResource(this)) {
            known().clear();
        }
    }

    @SuppressWarnings("unchecked") // put there below
    private Map<Object, Object> known() {
        Map<Object, Object> known = (Map<Object, Object>) TransactionSynchronizationManager.getResource(this);
        if (known == null) {
            known = new HashMap<>();
            TransactionSynchronizationManager.bindResource(this, known);
            TransactionSynchronizationManager.registerSynchronization(new Ending());
        }
        return known;
    }

    private final class Ending implements TransactionSynchronization {

        @Override
        public void suspend() {
            // Another transaction of this thread may see something else; what was known is read anew afterwards.
            TransactionSynchronizationManager.unbindResourceIfPossible(Remembered.this);
        }

        @Override
        public void afterCompletion(int status) {
            TransactionSynchronizationManager.unbindResourceIfPossible(Remembered.this);
        }
    }
}
