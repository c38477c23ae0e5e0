package duskpeg.core.store;

import java.sql.SQLException;
import java.sql.SQLNonTransientConnectionException;
import java.sql.SQLRecoverableException;
import java.sql.SQLTransientConnectionException;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * Tells a database that can't be reached, or can't write, from a fault of the program: what failed for the first will
 * succeed when it is tried again later, and what failed for the other will not.
 */
public final class DatabaseGone {

    /**
     * The beginnings of SQL states (ISO 9075, and PostgreSQL's manual, appendix A): connection exceptions; too few
     * resources, a full disk among them; ended by an operator; errors of the system; and a database that only reads.
     */
    private static final Set<String> STATES = Set.of("08", "53", "57P", "58", "25006");

    /** H2's codes: open elsewhere, input or output failed (twice), connection broken, closed, shutting down. */
    private static final Set<Integer> H2_CODES = Set.of(90020, 90028, 90031, 90067, 90098, 90121);

    private DatabaseGone() {}

    /** Whether that is why it failed. */
    public static boolean is(@Nullable Throwable failure) {
        for (Throwable cause = failure; cause != null; cause = cause.getCause()) {
            if (cause instanceof SQLException sql && gone(sql)) {
                return true;
            }
        }
        return false;
    }

    private static boolean gone(SQLException error) {
        String state = error.getSQLState();
        return error instanceof SQLTransientConnectionException
                || error instanceof SQLNonTransientConnectionException
                || error instanceof SQLRecoverableException
                || H2_CODES.contains(error.getErrorCode())
                || (state != null && STATES.stream().anyMatch(state::startsWith));
    }
}
