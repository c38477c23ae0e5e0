package duskpeg.projections.ledger;

import duskpeg.core.farm.FarmId;
import duskpeg.core.ledger.SignerKey;
import duskpeg.core.ledger.VerifierKey;
import java.nio.file.Path;
import java.util.List;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.stereotype.Component;

/**
 * The keys that sign checkpoints. To take a new key into use, add its line to the file; once auditors have its public
 * half, remove the old line.
 */
@Component
public class LedgerKeys {

    private final KeyFile file;
    private final String name;

    LedgerKeys(@Value("${duskpeg.ledger-key}") Path file, @Value("${duskpeg.ledger-name}") String name) {
        this.file = new KeyFile(file);
        this.name = name;
    }

    /** Whether there are keys; if not, some are made when something is to be signed. */
    public boolean exist() {
        return file.exists();
    }

    /** The name of a farm's log: the server's, and the farm's id behind it. */
    String origin(FarmId farm) {
        return name + "/" + farm;
    }

    /** Whether a log of that name is one of this server's. */
    public boolean isOwn(String origin) {
        return origin.startsWith(name + "/");
    }

    /** The keys that sign for a farm; the first is the main one. */
    List<SignerKey> of(FarmId farm) {
        return file.keys(origin(farm), VerifierKey.Kind.NOTE);
    }
}
