package duskpeg.core.store;

import com.zaxxer.hikari.SQLExceptionOverride;
import java.sql.SQLException;
import java.util.Set;

/**
 * Has the pool throw away a connection to an embedded database that closed itself, because its disk was full for instance.
 * Such a connection says of itself that it is valid, and would be given out for another half an hour; a new one opens the
 * database again as soon as it can be.
 */
public final class ClosedDatabase implements SQLExceptionOverride {

    /** H2's codes: the database has been closed, and is already closed. */
    private static final Set<Integer> CLOSED = Set.of(90098, 90121);

    @java.lang.Override
    public Override adjudicate(SQLException failure) {
        return CLOSED.contains(failure.getErrorCode()) ? Override.MUST_EVICT : Override.CONTINUE_EVICT;
    }
}
