package duskpeg.projections.ledger;

import duskpeg.core.farm.FarmId;
import duskpeg.core.ledger.Note;
import duskpeg.core.ledger.VerifierKey;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionTemplate;

/** What witnesses gave for the checkpoints of the farms. */
@Component
public class Cosignatures {

    private final JdbcClient jdbc;
    private final TransactionTemplate transaction;

    Cosignatures(JdbcClient jdbc, TransactionTemplate transaction) {
        this.jdbc = jdbc;
        this.transaction = transaction;
    }

    /**
     * Keeps one that was checked; of a checkpoint and a witness the first is kept.
     *
     * @param size the checkpoint's
     */
    public void keep(FarmId farm, long size, VerifierKey witness, Note.Signature cosignature, Instant at) {
        transaction.executeWithoutResult(status -> jdbc.sql("insert into ledger_cosignature"
                        + " (farm, tree_size, witness, line, received)"
                        + " select ?, ?, ?, ?, ? where not exists (select 1 from ledger_cosignature"
                        + " where farm = ? and tree_size = ? and witness = ?)")
                .params(
                        farm.value(),
                        size,
                        witness.toString(),
                        cosignature.toString(),
                        OffsetDateTime.ofInstant(at, ZoneOffset.UTC),
                        farm.value(),
                        size,
                        witness.toString())
                .update());
    }

    /** The size of the largest tree that a witness cosigned; 0 if he cosigned none. */
    public long last(FarmId farm, VerifierKey witness) {
        return jdbc.sql("select coalesce(max(tree_size), 0) from ledger_cosignature where farm = ? and witness = ?")
                .params(farm.value(), witness.toString())
                .query(Long.class)
                .single();
    }

    /** Those of the checkpoint of that size, in the order in which they came. */
    List<Note.Signature> of(FarmId farm, long size) {
        return jdbc
                .sql("select line from ledger_cosignature where farm = ? and tree_size = ? order by received, witness")
                .params(farm.value(), size)
                .query(String.class)
                .list()
                .stream()
                .flatMap(line -> Note.signatures(line + "\n").stream())
                .toList();
    }
}
