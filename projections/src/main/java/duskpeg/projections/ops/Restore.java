package duskpeg.projections.ops;

import duskpeg.core.farm.FarmId;
import duskpeg.core.ledger.Checkpoint;
import duskpeg.core.ledger.Note;
import duskpeg.core.ledger.VerifierKey;
import duskpeg.projections.ledger.Ledger;
import duskpeg.projections.ledger.Ledger.Inspection;
import duskpeg.projections.ops.Kept.Table;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.PrintStream;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.stream.Stream;
import javax.sql.DataSource;
import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.FlywayException;
import org.flywaydb.core.api.MigrationInfo;
import org.flywaydb.core.api.MigrationVersion;
import org.flywaydb.core.api.configuration.FluentConfiguration;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.jdbc.datasource.DataSourceUtils;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Puts a backup into an empty database: all of it in one transaction, or nothing. What can be made anew is left to a
 * rebuild.
 */
final class Restore {

    private final DataSource dataSource;
    private final TransactionTemplate transaction;
    private final Ledger ledger;
    private final String migrations;

    Restore(
            DataSource dataSource,
            TransactionTemplate transaction,
            Ledger ledger,
            @Value("${spring.flyway.locations}") String migrations) {
        this.dataSource = dataSource;
        this.transaction = transaction;
        this.ledger = ledger;
        this.migrations = migrations;
    }

    /**
     * Restores it and says what it finds.
     *
     * @param although whether to restore it also if the log does not fit its ledger
     * @param later whether a server may have worked since the backup was made: of the texts that waited then nobody knows
     *     whether they were sent, and none is sent once more
     * @throws BadBackup if the file is not what a backup wrote, or the database is not empty; nothing is restored then
     */
    Manifest run(Path path, boolean although, boolean later, PrintStream out) throws IOException {
        try (BackupFile file = new BackupFile(path)) {
            Manifest manifest = file.manifest();
            out.println("A backup of " + manifest.made() + ", from " + manifest.engine() + ", schema "
                    + manifest.schema() + ": every file in it is as it was written.");
            prepare(manifest);
            try (Connection database = dataSource.getConnection()) {
                countOn(database, manifest);
            } catch (SQLException e) {
                throw new BadBackup("the database does not take it: " + e.getMessage());
            }
            transaction.executeWithoutResult(status -> {
                Connection database = DataSourceUtils.getConnection(dataSource);
                try {
                    load(database, file, out);
                    check(manifest, although, out);
                    if (later) {
                        nobodyKnows(database, out);
                    }
                } catch (IOException e) {
                    throw new UncheckedIOException(e);
                } catch (SQLException e) {
                    throw new BadBackup("the database does not take it: " + e.getMessage());
                } finally {
                    DataSourceUtils.releaseConnection(database, dataSource);
                }
            });
            return manifest;
        }
    }

    /**
     * Makes the tables as they were when the backup was made; what changed since is done to the rows by the next start.
     */
    private void prepare(Manifest manifest) {
        MigrationVersion schema = MigrationVersion.fromVersion(manifest.schema());
        FluentConfiguration known = Flyway.configure().dataSource(dataSource).locations(migrations);
        Flyway flyway = known.load();
        if (Stream.of(flyway.info().all()).noneMatch(one -> schema.equals(one.getVersion()))) {
            throw new BadBackup("it is of schema " + schema + ", which this program does not know");
        }
        MigrationInfo now = flyway.info().current();
        if (now != null && !schema.equals(now.getVersion())) {
            throw new BadBackup("the database is not empty: it has the tables of schema " + now.getVersion());
        }
        try {
            known.target(schema).load().migrate();
        } catch (FlywayException e) {
            throw new BadBackup("the tables can't be made: " + e.getMessage());
        }
    }

    /**
     * Sees to it that nothing is in the way, and that what the database counts up goes on behind what is restored. On H2
     * a change of a table ends a transaction, so it is done before.
     */
    private void countOn(Connection database, Manifest manifest) throws SQLException {
        for (Table table : present(database)) {
            try (Statement statement = database.createStatement();
                    ResultSet row =
                            statement.executeQuery("select 1 from " + table.name() + " fetch first 1 rows only")) {
                if (row.next()) {
                    throw new BadBackup("the database is not empty: there are rows in " + table.name());
                }
            }
        }
        for (Table table : present(database)) {
            long last = manifest.table(table.name()).last();
            if (table.identity() != null) {
                try (Statement statement = database.createStatement()) {
                    statement.execute("alter table " + table.name() + " alter column " + table.identity()
                            + " restart with " + (last + 1));
                }
            }
        }
    }

    private void load(Connection database, BackupFile file, PrintStream out) throws SQLException, IOException {
        List<Table> tables = present(database);
        if (file.manifest().tables().size() != tables.size()) {
            throw new BadBackup(
                    "its tables are not those of schema " + file.manifest().schema());
        }
        for (Table table : tables) {
            Manifest.TableFile written = file.manifest().table(table.name());
            try (BufferedReader lines = file.lines(written)) {
                Rows.load(database, table, lines);
            }
            // Read back: what lies there now is what was backed up, whatever the engine may make of it.
            Rows.Read read = Rows.digest(database, table);
            if (!read.equals(written.read()) || last(database, table) != written.last()) {
                throw new BadBackup(table.name() + " has " + read + ", and the backup says " + written.read());
            }
            out.println("  same   " + table.name() + ": " + read.rows() + " rows, digest " + read.digest());
        }
    }

    /** The tables of {@link Kept} that there are: an older schema has fewer. */
    private static List<Table> present(Connection database) throws SQLException {
        List<Table> present = new ArrayList<>();
        Set<String> names = new HashSet<>();
        try (ResultSet rows = database.getMetaData()
                .getTables(database.getCatalog(), database.getSchema(), null, new String[] {"TABLE", "BASE TABLE"})) {
            while (rows.next()) {
                names.add(rows.getString("TABLE_NAME").toLowerCase(Locale.ROOT));
            }
        }
        for (Table table : Kept.TABLES) {
            if (names.contains(table.name())) {
                present.add(table);
            }
        }
        return present;
    }

    /** The highest number that was counted up; 0 where there is none. */
    static long last(Connection database, Table table) throws SQLException {
        if (table.identity() == null) {
            return 0;
        }
        try (Statement statement = database.createStatement();
                ResultSet row = statement.executeQuery(
                        "select coalesce(max(" + table.identity() + "), 0) from " + table.name())) {
            return row.next() ? row.getLong(1) : 0;
        }
    }

    /** Holds the log against its ledger, and that against the checkpoint that the backup was signed with. */
    private void check(Manifest manifest, boolean although, PrintStream out) {
        boolean whole = true;
        for (Manifest.LedgerState state : manifest.ledgers()) {
            FarmId farm = new FarmId(state.farm());
            List<VerifierKey> keys = state.verifiers();
            Inspection found = ledger.inspect(farm, keys);
            out.println(farm + ": " + found.leaves() + " events in the ledger, " + found.checkpoints()
                    + " signed checkpoints");
            // What the ledger had not read yet is read after the restore.
            boolean log =
                    found.changed().isEmpty() && found.tree() && found.broken().isEmpty();
            say(out, log, "the log is that of its ledger", "the log is not that of its ledger: " + found);
            whole &= log;
            if (state.checkpoint() == null) {
                out.println("  note   nothing was ever signed, so there is no checkpoint to hold it against");
            } else {
                whole &= checkpoint(farm, Note.parse(state.checkpoint()), keys, out);
            }
        }
        if (!whole && !although) {
            throw new BadBackup("the log does not fit its ledger; with --although it is restored all the same");
        }
    }

    private static void nobodyKnows(Connection database, PrintStream out) throws SQLException {
        try (Statement statement = database.createStatement()) {
            int texts = statement.executeUpdate("update outgoing set state = 'unknown', next_try = null"
                    + " where state in ('waiting', 'sending')");
            if (texts > 0) {
                out.println("  note   " + texts + " texts waited to be sent: whether they were since is unknown,"
                        + " and a person decides (/outbox)");
            }
        }
    }

    private boolean checkpoint(FarmId farm, Note note, List<VerifierKey> keys, PrintStream out) {
        long size = Checkpoint.parse(note.text()).size();
        // It is among those that the inspection held against the tree.
        boolean kept =
                ledger.signedAt(farm, size).filter(note.toString()::equals).isPresent();
        say(out, kept, "it fits the signed checkpoint of " + size + " events", "the signed checkpoint is another");
        if (keys.isEmpty()) {
            out.println("  note   the backup was made without the keys, so no signature is checked");
            return kept;
        }
        boolean signed = keys.stream().anyMatch(note::isSignedBy);
        say(out, signed, "signed by " + keys.get(0), "the signature is wrong");
        return kept && signed;
    }

    private static void say(PrintStream out, boolean holds, String good, String bad) {
        out.println(holds ? "  holds  " + good : "  FAILS  " + bad);
    }
}
