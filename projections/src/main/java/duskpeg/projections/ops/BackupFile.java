package duskpeg.projections.ops;

import duskpeg.core.ledger.Hash;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.util.HexFormat;
import java.util.zip.ZipEntry;
import java.util.zip.ZipException;
import java.util.zip.ZipFile;

/** A backup that is read. */
final class BackupFile implements AutoCloseable {

    private static final int LONGEST_MANIFEST = 10_000_000;

    private final ZipFile zip;
    private final Manifest manifest;

    /**
     * Opens it and reads it through.
     *
     * @throws BadBackup if it is no backup, or any byte of its tables is not as it was written
     */
    BackupFile(Path file) throws IOException {
        try {
            zip = new ZipFile(file.toFile(), StandardCharsets.UTF_8);
        } catch (ZipException e) {
            throw new BadBackup("it is no backup, or was cut off");
        }
        try {
            manifest = Manifest.read(manifestBytes());
            for (Manifest.TableFile table : manifest.tables()) {
                verify(table);
            }
        } catch (ZipException e) {
            zip.close();
            throw new BadBackup("it was changed: " + e.getMessage());
        } catch (IOException | RuntimeException e) {
            zip.close();
            throw e;
        }
    }

    Manifest manifest() {
        return manifest;
    }

    private byte[] manifestBytes() throws IOException {
        try (InputStream in = entry(Manifest.ENTRY)) {
            byte[] bytes = in.readNBytes(LONGEST_MANIFEST + 1);
            if (bytes.length > LONGEST_MANIFEST) {
                throw new BadBackup("its manifest is too long");
            }
            return bytes;
        }
    }

    private InputStream entry(String name) throws IOException {
        ZipEntry entry = zip.getEntry(name);
        if (entry == null) {
            throw new BadBackup("there is no " + name + " in it");
        }
        return zip.getInputStream(entry);
    }

    private void verify(Manifest.TableFile table) throws IOException {
        MessageDigest sha = Hash.sha256();
        try (InputStream in = new DigestInputStream(entry(table.entry()), sha)) {
            in.transferTo(OutputStream.nullOutputStream());
        }
        if (!HexFormat.of().formatHex(sha.digest()).equals(table.sha256())) {
            throw new BadBackup(table.entry() + " is not as it was written");
        }
    }

    /** The rows of a table. */
    BufferedReader lines(Manifest.TableFile table) throws IOException {
        return new BufferedReader(new InputStreamReader(entry(table.entry()), StandardCharsets.UTF_8.newDecoder()));
    }

    @Override
    public void close() throws IOException {
        zip.close();
    }
}
