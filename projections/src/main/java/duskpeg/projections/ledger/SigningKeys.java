package duskpeg.projections.ledger;

import java.util.Collections;
import java.util.List;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.web.bind.annotation.ResponseStatus;

/**
 * Which keys sign on this database. Keys are in files, one on each node's disk, and never in the database; what is kept
 * there is their public halves, by which a node that has another key than the others finds that out and signs nothing.
 * A key that stands in a file beside one of them is one of them from then on.
 */
@Component
public class SigningKeys {

    /** The keys of checkpoints. */
    static final String LEDGER = "ledger";

    /** The keys of cosignatures. */
    public static final String WITNESS = "witness";

    private final JdbcClient jdbc;
    private final TransactionTemplate transaction;
    private final Set<String> agreed = ConcurrentHashMap.newKeySet();

    SigningKeys(JdbcClient jdbc, TransactionTemplate transaction) {
        this.jdbc = jdbc;
        this.transaction = transaction;
    }

    /** This node has another key than the one that signs on its database, or none. */
    @ResponseStatus(code = HttpStatus.SERVICE_UNAVAILABLE, reason = "This node can't sign: see its log.")
    public static final class OtherKey extends IllegalStateException {

        private static final long serialVersionUID = 1L;

        OtherKey(String message) {
            super(message);
        }
    }

    /** The public halves of the keys that sign, as in the files; none until something is first signed. */
    List<String> known(String kind) {
        return jdbc.sql("select public_key from signing_key where kind = ? order by place")
                .param(kind)
                .query(String.class)
                .list();
    }

    /**
     * Sees to it that this node may sign with the keys of its file; they are made if there are none anywhere.
     *
     * @param kind what they sign
     * @throws OtherKey if others sign on this database
     */
    public void agree(String kind, KeyFile file) {
        if (agreed.contains(kind)) {
            return;
        }
        List<String> known = known(kind);
        if (!known.isEmpty() && !file.exists()) {
            throw otherKey(kind, file, "has no key");
        }
        List<String> here = file.publicHalves();
        if (known.isEmpty()) {
            keep(kind, 1, here.get(0));
            known = known(kind);
        }
        if (Collections.disjoint(known, here)) {
            throw otherKey(kind, file, "has another key than the one that signs");
        }
        int place = known.size();
        for (String key : here) {
            if (!known.contains(key)) {
                place++;
                keep(kind, place, key);
            }
        }
        agreed.add(kind);
    }

    private static OtherKey otherKey(String kind, KeyFile file, String what) {
        return new OtherKey(file + " of this node " + what + " for this database's " + kind
                + ": put the file of the other nodes in its place");
    }

    /** Of two nodes that come at once, one's is kept. */
    private void keep(String kind, int place, String key) {
        try {
            transaction.executeWithoutResult(
                    status -> jdbc.sql("insert into signing_key (kind, place, public_key) values (?, ?, ?)")
                            .params(kind, place, key)
                            .update());
        } catch (DuplicateKeyException e) {
            // The other node's: what that means is seen by whoever asked.
        }
    }
}
