package duskpeg.core.store;

import java.util.concurrent.TimeUnit;
import org.axonframework.common.transaction.Transaction;
import org.axonframework.common.transaction.TransactionManager;

/**
 * Transactions of those who follow the log, where one transaction runs at a time: each commit of theirs keeps texts
 * waiting, and what they don't write now they write a moment later with more. So between two of theirs there is time for
 * others, as long as others want it.
 */
final class AfterTexts implements TransactionManager {

    /** Of the writer's time, followers get one part in so many and one. */
    private static final int REST = 4;

    private static final long LONGEST_REST_NANOS = TimeUnit.MILLISECONDS.toNanos(100);

    private final TransactionManager transactions;
    private final OneWriter writer;
    private final Object lock = new Object();
    private long restUntil;
    private long own;
    private long othersSeen;

    AfterTexts(TransactionManager transactions, OneWriter writer) {
        this.transactions = transactions;
        this.writer = writer;
    }

    @Override
    public Transaction startTransaction() {
        rest();
        Transaction begun = transactions.startTransaction();
        long since = System.nanoTime();
        return new Transaction() {
            @Override
            public void commit() {
                try {
                    begun.commit();
                } finally {
                    ended(since);
                }
            }

            @Override
            public void rollback() {
                try {
                    begun.rollback();
                } finally {
                    ended(since);
                }
            }
        };
    }

    private void rest() {
        long nanos;
        synchronized (lock) {
            nanos = restUntil - System.nanoTime();
            if (nanos <= 0 || writer.begun() - own == othersSeen) {
                return;
            }
        }
        try {
            TimeUnit.NANOSECONDS.sleep(nanos);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private void ended(long since) {
        synchronized (lock) {
            long now = System.nanoTime();
            own++;
            othersSeen = writer.begun() - own;
            restUntil = Math.max(restUntil, now) + REST * (now - since);
            restUntil = Math.min(restUntil, now + LONGEST_REST_NANOS);
        }
    }
}
