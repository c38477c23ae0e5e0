package duskpeg.projections.people;

import duskpeg.core.fieldbook.Erasure;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.boot.autoconfigure.jdbc.JdbcConnectionDetails;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Sees to it that what was erased is in none of the database's files any more: a database only marks what is deleted as
 * free, and writes over it some day.
 */
@Component
public class CompactCommand {

    /** The tables in which something personal lies or lay. */
    private static final List<String> TABLES = List.of(
            "person",
            "field_text",
            "unread_line",
            "outgoing",
            "alert",
            "opted_out",
            "call_back",
            "account",
            "second_factor",
            "recovery_code",
            "account_note");

    private final Erasure erasure;
    private final TransactionTemplate transaction;
    private final JdbcConnectionDetails connection;

    CompactCommand(Erasure erasure, TransactionTemplate transaction, JdbcConnectionDetails connection) {
        this.erasure = erasure;
        this.transaction = transaction;
        this.connection = connection;
    }

    /** Erases once more whatever came in late, and gives what is to be done when nothing is connected any more. */
    public Compaction prepare() {
        transaction.executeWithoutResult(status -> erasure.again());
        return new Compaction(connection.getJdbcUrl(), connection.getUsername(), connection.getPassword());
    }

    /** A database to be compacted. */
    public record Compaction(
            String url, @Nullable String user, @Nullable String password) {

        /**
         * Writes the files of the database anew, with nothing in them but what is kept. Nobody else may be connected.
         *
         * @return 0 if it was done, 1 if not
         */
        public int run(PrintStream out) {
            try (Connection database = DriverManager.getConnection(url, user, password);
                    Statement statement = database.createStatement()) {
                if (database.getMetaData().getDatabaseProductName().equals("H2")) {
                    h2(statement, out);
                } else {
                    for (String table : TABLES) {
                        statement.execute("vacuum full " + table);
                    }
                    out.println("Written anew: " + String.join(", ", TABLES)
                            + ". The write-ahead log keeps what it has until it is recycled.");
                }
            } catch (SQLException | IOException e) {
                out.println("Not compacted: " + e.getMessage());
                return 1;
            }
            out.println("Copies of the database, backups, file-system snapshots and downloads are not reached.");
            return 0;
        }

        private static void h2(Statement statement, PrintStream out) throws SQLException, IOException {
            String path;
            try (ResultSet row = statement.executeQuery("select database_path()")) {
                path = row.next() ? row.getString(1) : null;
            }
            statement.execute("shutdown compact");
            if (path == null) {
                return;
            }
            // What an earlier version of this program, or one that was stopped in the middle, may have left behind.
            for (String left : List.of(".trace.db", ".trace.db.old", ".mv.db.tempFile", ".mv.db.newFile")) {
                Files.deleteIfExists(Path.of(path + left));
            }
            out.println("Written anew: " + path + ".mv.db, " + Files.size(Path.of(path + ".mv.db")) + " bytes.");
        }
    }
}
