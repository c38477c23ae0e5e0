package duskpeg.projections.ops;

import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import duskpeg.core.ledger.VerifierKey;
import java.io.IOException;
import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What a backup says of itself.
 *
 * @param format {@link #FORMAT}
 * @param made when it was begun
 * @param engine the database it was made of
 * @param schema the version of the newest migration of that database
 * @param tables its tables, in the order in which they are restored
 * @param ledgers how the ledger of each farm stood
 */
public record Manifest(
        String format, Instant made, String engine, String schema, List<TableFile> tables, List<LedgerState> ledgers) {

    /** The name of the form in which backups are written. */
    public static final String FORMAT = "duskpeg-backup-1";

    /** The entry it is in. */
    static final String ENTRY = "manifest.json";

    private static final ObjectMapper JSON = new ObjectMapper()
            .registerModule(new JavaTimeModule())
            .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS)
            .enable(SerializationFeature.INDENT_OUTPUT)
            .enable(DeserializationFeature.FAIL_ON_NULL_FOR_PRIMITIVES)
            .enable(DeserializationFeature.FAIL_ON_MISSING_CREATOR_PROPERTIES);

    public Manifest {
        tables = List.copyOf(tables);
        ledgers = List.copyOf(ledgers);
    }

    /**
     * A table.
     *
     * @param rows how many rows it has
     * @param sha256 of its file, as hex
     * @param digest of its rows in any order, see {@link Rows.Read}
     * @param last the highest number that the database counted up for it; 0 where it counts nothing
     */
    public record TableFile(String name, long rows, String sha256, String digest, long last) {

        String entry() {
            return name + ".jsonl";
        }

        Rows.Read read() {
            return new Rows.Read(rows, digest);
        }
    }

    /**
     * A farm's ledger.
     *
     * @param checkpoint the newest that was signed; null if none ever was
     * @param keys the public keys that sign for the farm; empty where the backup was made without them
     */
    public record LedgerState(String farm, @Nullable String checkpoint, List<String> keys) {

        public LedgerState {
            keys = List.copyOf(keys);
        }

        List<VerifierKey> verifiers() {
            return keys.stream().map(VerifierKey::parse).toList();
        }
    }

    /**
     * A table of it.
     *
     * @throws BadBackup if it is not in it
     */
    TableFile table(String name) {
        return tables.stream()
                .filter(table -> table.name().equals(name))
                .findFirst()
                .orElseThrow(() -> new BadBackup("there is no " + name + " in it"));
    }

    byte[] bytes() throws IOException {
        return JSON.writeValueAsBytes(this);
    }

    static Manifest read(byte[] bytes) {
        try {
            Manifest manifest = JSON.readValue(bytes, Manifest.class);
            if (manifest == null || !manifest.format().equals(FORMAT)) {
                throw new BadBackup("it is of a form that this program does not know");
            }
            return manifest;
        } catch (IOException | NullPointerException e) {
            throw new BadBackup("its manifest can't be read");
        }
    }
}
