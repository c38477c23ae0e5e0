package db;

import java.sql.SQLException;
import java.sql.Statement;
import org.flywaydb.core.api.migration.BaseJavaMigration;
import org.flywaydb.core.api.migration.Context;

/**
 * On H2 numbers are taken a thousand at a time: each time it takes some, all that is not yet on the disk is written, and
 * with 32 at a time that was a good part of the price of a text. Those that were taken when a process dies are missing in
 * the log, as those of transactions that were rolled back are.
 *
 * <p>PostgreSQL would take them for each connection, and the log's order would no longer be that of its numbers.
 */
@SuppressWarnings("TypeName") // by its name it is found and put in order
public class V26__numbers_ahead extends BaseJavaMigration {

    @Override
    public void migrate(Context context) throws SQLException {
        if (context.getConnection().getMetaData().getDatabaseProductName().equals("H2")) {
            try (Statement statement = context.getConnection().createStatement()) {
                statement.execute("alter table event alter column position set cache 1000");
                statement.execute("alter table field_text alter column received set cache 1000");
                statement.execute("alter table said alter column said set cache 1000");
                statement.execute("alter table tie_use alter column used set cache 1000");
            }
        }
    }
}
