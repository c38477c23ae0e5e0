package duskpeg.projections.ledger;

import duskpeg.core.farm.FarmId;
import duskpeg.core.ledger.SignerKey;
import duskpeg.core.ledger.VerifierKey;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.GeneralSecurityException;
import java.security.KeyPair;
import java.security.KeyPairGenerator;
import java.util.Base64;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.stereotype.Component;

/**
 * The keys that sign checkpoints: a file with a line for each, made on first use and readable by its owner only. To
 * take a new key into use, add its line; once auditors have its public half, remove the old line. Each line has the
 * public and the secret key in Base64, PKCS #8 for the secret one, with a space between.
 */
@Component
class LedgerKeys {

    private final Path file;
    private final String name;

    LedgerKeys(@Value("${duskpeg.ledger-key}") Path file, @Value("${duskpeg.ledger-name}") String name) {
        this.file = file;
        this.name = name;
    }

    /** The name of a farm's log: the server's, and the farm's id behind it. */
    String origin(FarmId farm) {
        return name + "/" + farm;
    }

    /** The keys that sign for a farm; the first is the main one. */
    synchronized List<SignerKey> of(FarmId farm) {
        try {
            if (!Files.exists(file)) {
                make();
            }
            List<SignerKey> keys = Files.readAllLines(file).stream()
                    .filter(line -> !line.isBlank())
                    .map(line -> key(farm, line))
                    .toList();
            if (keys.isEmpty()) {
                throw new IllegalStateException("no key in " + file);
            }
            return keys;
        } catch (IOException e) {
            throw new UncheckedIOException("the ledger's key can't be read: " + file, e);
        }
    }

    private SignerKey key(FarmId farm, String line) {
        String[] half = line.strip().split(" ", -1);
        if (half.length != 2) {
            throw new IllegalStateException("not a key: a line of " + file);
        }
        VerifierKey verifier = new VerifierKey(origin(farm), Base64.getDecoder().decode(half[0]));
        return SignerKey.of(verifier, Base64.getDecoder().decode(half[1]));
    }

    private void make() throws IOException {
        KeyPair pair;
        try {
            pair = KeyPairGenerator.getInstance("Ed25519").generateKeyPair();
        } catch (GeneralSecurityException e) {
            throw new AssertionError("every JDK has Ed25519", e);
        }
        String line = Base64.getEncoder().encodeToString(SignerKey.publicBytes(pair))
                + " "
                + Base64.getEncoder().encodeToString(pair.getPrivate().getEncoded());
        Path folder = Objects.requireNonNull(file.toAbsolutePath().getParent());
        Files.createDirectories(folder);
        Path whole = Files.createTempFile(folder, "ledger", ".new", ownerOnly());
        Files.writeString(whole, line + System.lineSeparator());
        try {
            Files.move(whole, file);
        } catch (FileAlreadyExistsException e) {
            // Another node was first: its key is the key.
            Files.delete(whole);
        }
    }

    private static FileAttribute<?>[] ownerOnly() {
        boolean posix = FileSystems.getDefault().supportedFileAttributeViews().contains("posix");
        return Stream.of(PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-------")))
                .filter(attribute -> posix)
                .toArray(FileAttribute<?>[]::new);
    }
}
