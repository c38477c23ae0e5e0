package duskpeg.core.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.springframework.transaction.support.TransactionSynchronization;
import org.springframework.transaction.support.TransactionSynchronizationManager;

class RememberedTest {

    private final AtomicInteger reads = new AtomicInteger();
    private final Remembered remembered = new Remembered();

    private int read() {
        return remembered.get("count", reads::incrementAndGet);
    }

    private static void begin() {
        TransactionSynchronizationManager.initSynchronization();
        TransactionSynchronizationManager.setActualTransactionActive(true);
    }

    private static List<TransactionSynchronization> synchronizations() {
        return TransactionSynchronizationManager.getSynchronizations();
    }

    private static void end() {
        synchronizations().forEach(one -> one.afterCompletion(TransactionSynchronization.STATUS_COMMITTED));
        TransactionSynchronizationManager.clear();
    }

    @AfterEach
    void nothingIsLeft() {
        assertThat(TransactionSynchronizationManager.getResourceMap()).isEmpty();
        TransactionSynchronizationManager.clear();
    }

    @Test
    void outsideOfTransactionsEverythingIsReadAnew() {
        assertThat(read()).isEqualTo(1);
        assertThat(read()).isEqualTo(2);
    }

    @Test
    void inATransactionItIsReadOnceUntilSomethingIsChanged() {
        begin();
        assertThat(read()).isEqualTo(1);
        assertThat(read()).isEqualTo(1);
        remembered.forget();
        assertThat(read()).isEqualTo(2);
        end();
    }

    @Test
    void theNextTransactionReadsAnew() {
        begin();
        assertThat(read()).isEqualTo(1);
        end();
        begin();
        assertThat(read()).isEqualTo(2);
        end();
    }

    @Test
    void aTransactionInsideAnotherSeesNothingOfIt() {
        begin();
        assertThat(read()).isEqualTo(1);
        List<TransactionSynchronization> outer = synchronizations();
        outer.forEach(TransactionSynchronization::suspend);
        TransactionSynchronizationManager.clearSynchronization();
        begin();
        assertThat(read()).isEqualTo(2);
        end();
    }
}
