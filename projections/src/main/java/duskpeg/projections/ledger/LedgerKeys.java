package duskpeg.projections.ledger;

import duskpeg.core.farm.FarmId;
import duskpeg.core.ledger.SignerKey;
import duskpeg.core.ledger.VerifierKey;
import java.nio.file.Path;
import java.util.Base64;
import java.util.List;
import java.util.Optional;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.boot.web.context.WebServerApplicationContext;
import org.springframework.context.event.EventListener;
import org.springframework.stereotype.Component;

/**
 * The keys that sign checkpoints. To take a new key into use, add its line to the file; once auditors have its public
 * half, remove the old line.
 */
@Component
public class LedgerKeys {

    private static final Logger LOG = LoggerFactory.getLogger(LedgerKeys.class);

    private final KeyFile file;
    private final String name;
    private final ObjectProvider<SigningKeys> signing;

    /**
     * @param signing none where nothing is signed but what was signed before
     */
    LedgerKeys(
            @Value("${duskpeg.ledger-key}") Path file,
            @Value("${duskpeg.ledger-name}") String name,
            ObjectProvider<SigningKeys> signing) {
        this.file = new KeyFile(file);
        this.name = name;
        this.signing = signing;
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

    /** Says at once where this node could sign nothing, and not when a checkpoint is first wanted. */
    @EventListener
    void look(ApplicationReadyEvent ready) {
        if (ready.getApplicationContext() instanceof WebServerApplicationContext) {
            problem().ifPresent(why -> LOG.error("No checkpoint is signed here: {}", why));
        }
    }

    /** Why this node can't sign; empty if it can, or nothing was ever signed. */
    public Optional<String> problem() {
        SigningKeys keys = signing.getIfAvailable();
        if (keys == null || keys.known(SigningKeys.LEDGER).isEmpty()) {
            return Optional.empty();
        }
        try {
            keys.agree(SigningKeys.LEDGER, file);
            return Optional.empty();
        } catch (SigningKeys.OtherKey e) {
            return Optional.ofNullable(e.getMessage());
        }
    }

    /**
     * The keys that sign for a farm; the first is the main one.
     *
     * @throws SigningKeys.OtherKey if others sign on this database
     */
    List<SignerKey> of(FarmId farm) {
        signing.ifAvailable(keys -> keys.agree(SigningKeys.LEDGER, file));
        return file.keys(origin(farm), VerifierKey.Kind.NOTE);
    }

    /** The public halves of the keys that sign for a farm, also on a node that can't. */
    List<VerifierKey> verifiers(FarmId farm) {
        SigningKeys keys = signing.getIfAvailable();
        return keys == null || problem().isEmpty()
                ? of(farm).stream().map(SignerKey::verifier).toList()
                : keys.known(SigningKeys.LEDGER).stream()
                        .map(key -> new VerifierKey(
                                origin(farm),
                                VerifierKey.Kind.NOTE,
                                Base64.getDecoder().decode(key)))
                        .toList();
    }
}
