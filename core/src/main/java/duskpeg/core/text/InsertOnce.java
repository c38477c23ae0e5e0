package duskpeg.core.text;

import org.springframework.dao.DuplicateKeyException;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Inserts a row that may be there already, and lets the transaction live on. A failed insert would end a PostgreSQL
 * transaction; behind a savepoint it ends only itself.
 */
final class InsertOnce {

    private final TransactionTemplate savepoint;

    InsertOnce(PlatformTransactionManager transactions) {
        savepoint = new TransactionTemplate(transactions);
        savepoint.setPropagationBehavior(TransactionDefinition.PROPAGATION_NESTED);
    }

    /** Whether it was inserted; nothing else that was done is kept where it wasn't. */
    boolean insert(Runnable insert) {
        try {
            savepoint.executeWithoutResult(status -> insert.run());
            return true;
        } catch (DuplicateKeyException e) {
            return false;
        }
    }
}
