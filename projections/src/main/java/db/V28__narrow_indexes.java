package db;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import org.flywaydb.core.api.migration.BaseJavaMigration;
import org.flywaydb.core.api.migration.Context;

/**
 * Fewer and narrower indexes in the tables that each text writes: on H2 what a text costs is mostly the pages of its
 * indexes, above all of those by subject, where each text has a page of its own. A subject and a pseudonym are of one farm; a
 * message's id nearly always is. What was ever said of a subject is in the log, by stream.
 */
@SuppressWarnings("TypeName") // by its name it is found and put in order
public class V28__narrow_indexes extends BaseJavaMigration {

    @Override
    public void migrate(Context context) throws SQLException {
        Connection connection = context.getConnection();
        try (Statement statement = connection.createStatement()) {
            for (String table : new String[] {"field_text", "said"}) {
                statement.execute("alter table " + table + " drop constraint \"" + unique(connection, table) + "\"");
            }
            for (String change : new String[] {
                "alter table field_text add constraint field_text_once unique (text_id, farm)",
                "drop index field_text_id",
                "drop index field_text_worker",
                "create index said_text on said (text_id)",
                "drop index said_worker",
                "create index said_worker on said (worker, said)",
                "drop index said_subject",
                "drop index tie_use_text",
                "create index tie_use_text on tie_use (text_id)",
                "drop index history_act_subject_1",
                "create index history_act_subject_1 on history_act_1 (subject, position)",
                "drop index history_act_subject_2",
                "create index history_act_subject_2 on history_act_2 (subject, position)"
            }) {
                statement.execute(change);
            }
        }
    }

    /** The name that the database gave to a table's only unique constraint. */
    private static String unique(Connection connection, String table) throws SQLException {
        try (PreparedStatement ask =
                connection.prepareStatement("select constraint_name from information_schema.table_constraints"
                        + " where lower(table_name) = ? and constraint_type = 'UNIQUE'"
                        + " and table_schema = current_schema")) {
            ask.setString(1, table);
            try (ResultSet names = ask.executeQuery()) {
                names.next();
                return names.getString(1);
            }
        }
    }
}
