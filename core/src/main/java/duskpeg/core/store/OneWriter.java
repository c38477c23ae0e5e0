package duskpeg.core.store;

import java.util.concurrent.Semaphore;
import java.util.concurrent.atomic.LongAdder;
import javax.sql.DataSource;
import org.springframework.jdbc.support.JdbcTransactionManager;
import org.springframework.transaction.TransactionDefinition;

/**
 * Lets one transaction run at a time, for H2.
 *
 * <p>H2 writes the state of its tables to disk one table after the other. When a process dies, a transaction that
 * committed while another thread was writing may be found in one of its tables and not in another: an answer without
 * its event. With one transaction at a time there is nothing to tear. Reads outside transactions are not held up.
 *
 * <p>A transaction must not be suspended for a new one in the same thread: that would wait for itself.
 */
final class OneWriter extends JdbcTransactionManager {

    private static final long serialVersionUID = 1L;

    private final transient Semaphore turn = new Semaphore(1, true);
    private final transient LongAdder begun = new LongAdder();

    OneWriter(DataSource dataSource) {
        super(dataSource);
    }

    /** Waits for the turn, for something that writes outside of transactions; {@link #end} must follow. */
    void begin() {
        turn.acquireUninterruptibly();
    }

    /** Gives the turn back. */
    void end() {
        turn.release();
    }

    /** How many transactions there were. */
    long begun() {
        return begun.sum();
    }

    @Override
    protected void doBegin(Object transaction, TransactionDefinition definition) {
        turn.acquireUninterruptibly();
        boolean done = false;
        try {
            super.doBegin(transaction, definition);
            done = true;
            begun.increment();
        } finally {
            if (!done) {
                turn.release();
            }
        }
    }

    @Override
    protected void doCleanupAfterCompletion(Object transaction) {
        try {
            super.doCleanupAfterCompletion(transaction);
        } finally {
            turn.release();
        }
    }
}
