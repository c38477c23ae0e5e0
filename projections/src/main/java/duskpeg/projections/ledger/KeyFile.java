package duskpeg.projections.ledger;

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

/**
 * Keys in a file with a line for each, made on first use and readable by its owner only. Each line has the public and
 * the secret key in Base64, PKCS #8 for the secret one, with a space between.
 */
public final class KeyFile {

    private final Path file;

    public KeyFile(Path file) {
        this.file = file;
    }

    /** Whether there is the file. */
    public boolean exists() {
        return Files.exists(file);
    }

    /**
     * The keys, in the order of the lines; the first is made if there is no file.
     *
     * @param name who signs with them
     * @param kind what
     */
    public synchronized List<SignerKey> keys(String name, VerifierKey.Kind kind) {
        return halves().stream()
                .map(half -> SignerKey.of(
                        new VerifierKey(name, kind, Base64.getDecoder().decode(half[0])),
                        Base64.getDecoder().decode(half[1])))
                .toList();
    }

    private List<String[]> halves() {
        try {
            if (!Files.exists(file)) {
                make();
            }
            List<String[]> keys = Files.readAllLines(file).stream()
                    .filter(line -> !line.isBlank())
                    .map(this::halves)
                    .toList();
            if (keys.isEmpty()) {
                throw new IllegalStateException("no key in " + file);
            }
            return keys;
        } catch (IOException e) {
            throw new UncheckedIOException("the keys can't be read: " + file, e);
        }
    }

    /** The public half of each key, as in the file; the first is made if there is no file. */
    synchronized List<String> publicHalves() {
        return halves().stream().map(half -> half[0]).toList();
    }

    @Override
    public String toString() {
        return file.toString();
    }

    private String[] halves(String line) {
        String[] half = line.strip().split(" ", -1);
        if (half.length != 2) {
            throw new IllegalStateException("not a key: a line of " + file);
        }
        return half;
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
        Path whole = Files.createTempFile(folder, "keys", ".new", ownerOnly());
        Files.writeString(whole, line + System.lineSeparator());
        try {
            Files.move(whole, file);
        } catch (FileAlreadyExistsException e) {
            // Another node was first: its key is the key.
            Files.delete(whole);
        }
    }

    /** Has a new file be readable by its owner only, where the file system knows that. */
    public static FileAttribute<?>[] ownerOnly() {
        boolean posix = FileSystems.getDefault().supportedFileAttributeViews().contains("posix");
        return Stream.of(PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-------")))
                .filter(attribute -> posix)
                .toArray(FileAttribute<?>[]::new);
    }
}
