package duskpeg.server;

import java.sql.SQLException;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.springframework.boot.diagnostics.AbstractFailureAnalyzer;
import org.springframework.boot.diagnostics.FailureAnalysis;

/** Says in plain words why the server can't start with its database, and what to do, in the place of a stack trace. */
final class DatabaseFault extends AbstractFailureAnalyzer<SQLException> {

    /** H2's codes (its class ErrorCode): open in another process, a damaged file, one that is too short, one it can't read at all. */
    private static final int IN_USE = 90020;

    private static final int CORRUPTED = 90030;
    private static final int IO = 90028;
    private static final int GENERAL = 50000;
    private static final int UNSUPPORTED = 90048;

    /** SQL states: no connection, and not let in. */
    private static final String NO_CONNECTION = "08";

    private static final String NOT_LET_IN = "28";

    @Override
    protected @Nullable FailureAnalysis analyze(Throwable root, SQLException fault) {
        String state = Objects.toString(fault.getSQLState(), "");
        return switch (fault.getErrorCode()) {
            case IN_USE ->
                new FailureAnalysis(
                        "The embedded database is open in another running server.",
                        "Stop that first. To back up while it runs, have it make backups by itself:"
                                + " duskpeg.backup-dir.",
                        fault);
            case CORRUPTED, IO, GENERAL, UNSUPPORTED ->
                new FailureAnalysis(
                        "The file of the embedded database is damaged, or is none: " + firstLine(fault.getMessage()),
                        "Nothing was changed. Put the damaged file aside, do not delete it, and restore the newest"
                                + " backup into an empty folder: java -jar duskpeg.jar restore FILE. What came in after"
                                + " that backup is in the carrier's list of messages.",
                        fault);
            default ->
                state.startsWith(NO_CONNECTION) || state.startsWith(NOT_LET_IN)
                        ? new FailureAnalysis(
                                "The database can't be reached: " + firstLine(fault.getMessage()),
                                "Is its machine up, and are spring.datasource.url, username and password right?",
                                fault)
                        : null;
        };
    }

    private static String firstLine(@Nullable String message) {
        return Objects.toString(message, "").lines().findFirst().orElse("");
    }
}
