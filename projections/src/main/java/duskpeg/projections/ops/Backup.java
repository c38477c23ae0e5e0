package duskpeg.projections.ops;

import duskpeg.core.farm.FarmId;
import duskpeg.core.ledger.Hash;
import duskpeg.core.ledger.VerifierKey;
import duskpeg.projections.ledger.KeyFile;
import duskpeg.projections.ledger.Ledger;
import duskpeg.projections.ledger.LedgerKeys;
import duskpeg.projections.ops.Kept.Table;
import java.io.BufferedOutputStream;
import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.channels.FileChannel;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.security.DigestOutputStream;
import java.security.MessageDigest;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Objects;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import javax.sql.DataSource;
import org.springframework.stereotype.Component;

/** Writes all that can't be made anew into one file, as it was at one moment. Reports are taken meanwhile. */
@Component
public class Backup {

    private final DataSource dataSource;
    private final Ledger ledger;
    private final LedgerKeys keys;

    Backup(DataSource dataSource, Ledger ledger, LedgerKeys keys) {
        this.dataSource = dataSource;
        this.ledger = ledger;
        this.keys = keys;
    }

    /**
     * Writes it. The file is there only once it is whole, and only its owner may read it: names and numbers are in it.
     *
     * @param made the time now
     * @throws FileAlreadyExistsException if there is such a file
     */
    public Manifest write(Path file, Instant made) throws IOException, SQLException {
        if (Files.exists(file)) {
            throw new FileAlreadyExistsException(file.toString());
        }
        signed();
        Path folder = Objects.requireNonNull(file.toAbsolutePath().getParent());
        Files.createDirectories(folder);
        Path part = Files.createTempFile(folder, file.getFileName().toString(), ".part", KeyFile.ownerOnly());
        try {
            Manifest manifest;
            try (Connection database = dataSource.getConnection()) {
                manifest = write(database, part, made);
            }
            try (FileChannel written = FileChannel.open(part, StandardOpenOption.WRITE)) {
                written.force(true);
            }
            Files.move(part, file, StandardCopyOption.ATOMIC_MOVE);
            return manifest;
        } finally {
            Files.deleteIfExists(part);
        }
    }

    /** Signs how the ledgers stand, where the key is at hand, so that the backup can be held against it. */
    private void signed() throws SQLException {
        if (!keys.exist()) {
            return;
        }
        List<String> farms;
        try (Connection database = dataSource.getConnection()) {
            farms = farms(database);
        }
        farms.forEach(farm -> ledger.checkpoint(new FarmId(farm)));
    }

    private Manifest write(Connection database, Path file, Instant made) throws IOException, SQLException {
        // Everything is read as it was at the first statement, and nobody waits for it. H2 promises that of all tables
        // only when serializable; its repeatable read begins anew with each table.
        boolean h2 = database.getMetaData().getDatabaseProductName().equals("H2");
        database.setAutoCommit(false);
        database.setTransactionIsolation(
                h2 ? Connection.TRANSACTION_SERIALIZABLE : Connection.TRANSACTION_REPEATABLE_READ);
        try (ZipOutputStream zip = new ZipOutputStream(new BufferedOutputStream(Files.newOutputStream(file)))) {
            String schema = schema(database);
            List<Manifest.TableFile> tables = new ArrayList<>();
            for (Table table : Kept.TABLES) {
                tables.add(write(database, table, zip));
            }
            Manifest manifest = new Manifest(
                    Manifest.FORMAT,
                    made,
                    database.getMetaData().getDatabaseProductName(),
                    schema,
                    tables,
                    ledgers(database));
            zip.putNextEntry(new ZipEntry(Manifest.ENTRY));
            zip.write(manifest.bytes());
            zip.closeEntry();
            return manifest;
        } finally {
            database.rollback();
        }
    }

    private static Manifest.TableFile write(Connection database, Table table, ZipOutputStream zip)
            throws IOException, SQLException {
        MessageDigest sha = Hash.sha256();
        zip.putNextEntry(new ZipEntry(table.name() + ".jsonl"));
        Rows.Read read;
        try (OutputStream entry = new BufferedOutputStream(new DigestOutputStream(new Open(zip), sha))) {
            read = Rows.write(database, table, entry);
        }
        zip.closeEntry();
        return new Manifest.TableFile(
                table.name(),
                read.rows(),
                HexFormat.of().formatHex(sha.digest()),
                read.digest(),
                Restore.last(database, table));
    }

    /** Leaves the file open for its next entry. */
    private static final class Open extends FilterOutputStream {
        Open(OutputStream out) {
            super(out);
        }

        @Override
        public void write(byte[] bytes, int from, int length) throws IOException {
            out.write(bytes, from, length);
        }

        @Override
        public void close() throws IOException {
            flush();
        }
    }

    /** The version of the newest migration. */
    static String schema(Connection database) throws SQLException {
        try (Statement statement = database.createStatement();
                ResultSet row = statement.executeQuery(
                        "select \"version\" from \"flyway_schema_history\" where \"success\" and \"version\" is not null"
                                + " order by \"installed_rank\" desc fetch first 1 rows only")) {
            if (!row.next()) {
                throw new IllegalStateException("there is no Duskpeg in this database");
            }
            return row.getString(1);
        }
    }

    static List<String> farms(Connection database) throws SQLException {
        List<String> farms = new ArrayList<>();
        try (Statement statement = database.createStatement();
                ResultSet rows = statement.executeQuery("select distinct farm from ledger_leaf order by farm")) {
            while (rows.next()) {
                farms.add(rows.getString(1));
            }
        }
        return farms;
    }

    private List<Manifest.LedgerState> ledgers(Connection database) throws SQLException {
        List<Manifest.LedgerState> ledgers = new ArrayList<>();
        for (String farm : farms(database)) {
            try (PreparedStatement newest = database.prepareStatement("select note from ledger_checkpoint"
                    + " where farm = ? order by tree_size desc fetch first 1 rows only")) {
                newest.setString(1, farm);
                try (ResultSet row = newest.executeQuery()) {
                    ledgers.add(new Manifest.LedgerState(
                            farm,
                            row.next() ? row.getString(1) : null,
                            keys.exist()
                                    ? ledger.keys(new FarmId(farm)).stream()
                                            .map(VerifierKey::toString)
                                            .toList()
                                    : List.of()));
                }
            }
        }
        return ledgers;
    }
}
