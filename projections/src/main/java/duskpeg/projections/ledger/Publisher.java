package duskpeg.projections.ledger;

import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.ledger.Checkpoint;
import duskpeg.core.text.Outbox;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Sends the ledger's checkpoint once a day, by text, to people whom the farm named: what lies on their phones the farm
 * can't take back. A checkpoint is a hash, a size and a name, so it says nothing of the farm to anybody.
 */
@Component
public class Publisher {

    private final Ledger ledger;
    private final Index index;
    private final Outbox outbox;
    private final TransactionTemplate transaction;
    private final List<String> readers;

    Publisher(
            Ledger ledger,
            Index index,
            Outbox outbox,
            TransactionTemplate transaction,
            @Value("${duskpeg.ledger-readers}") List<String> readers) {
        this.ledger = ledger;
        this.index = index;
        this.outbox = outbox;
        this.transaction = transaction;
        this.readers = readers.stream()
                .map(String::strip)
                .filter(number -> !number.isEmpty())
                .toList();
    }

    /** Posts what is to be sent that day, from noon on by the farm's clock; again on the same day it does nothing. */
    public void publish(FarmId farm, Instant now) {
        FarmSettings settings = index.settings(farm);
        if (readers.isEmpty() || !settings.afternoonAt(now)) {
            return;
        }
        LocalDate today = settings.dateAt(now);
        Checkpoint checkpoint = Checkpoint.parse(ledger.checkpoint(farm).text());
        transaction.executeWithoutResult(status -> readers.forEach(reader -> outbox.post(
                farm,
                reader,
                "Please keep this text. The log on " + today + ":\n"
                        + checkpoint.text().strip(),
                "checkpoint-" + today + "-" + reader,
                now)));
    }
}
