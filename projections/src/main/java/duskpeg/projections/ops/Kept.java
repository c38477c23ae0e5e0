package duskpeg.projections.ops;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * Which tables a backup holds: all that can't be made anew. Every table there is stands in one of the two lists, and
 * {@code KeptTest} finds one that stands in none.
 */
public final class Kept {

    /**
     * A table that a backup holds.
     *
     * @param name its name
     * @param order the columns it is ordered by
     * @param identity the column that the database counts up; null if there is none
     * @param columns what is taken of each row, as in a select
     * @param where which rows are taken, as in a select
     */
    record Table(String name, String order, @Nullable String identity, String columns, String where) {

        String select() {
            return "select " + columns + " from " + name + where + " order by " + order;
        }

        /** The columns and their types, and no row. */
        String shape() {
            return "select " + columns + " from " + name + " where 1 = 0";
        }
    }

    /** What is backed up, in this order. */
    static final List<Table> TABLES = List.of(
            counted("event", "position"),
            // How far the ledger has read. The other processors begin anew, it never does. Who held it is of no use.
            new Table(
                    "token",
                    "processor, segment",
                    null,
                    "processor, segment, token, token_type, claimed_at",
                    " where processor = 'ledger'"),
            plain("ledger_leaf", "farm, leaf"),
            plain("ledger_tile", "farm, tile_level, tile_index"),
            plain("ledger_checkpoint", "farm, tree_size"),
            plain("ledger_cosignature", "farm, tree_size, witness"),
            plain("witnessed", "origin"),
            plain("person", "farm, worker"),
            counted("field_text", "received"),
            plain("unread_line", "farm, text_id, line"),
            counted("outgoing", "id"),
            plain("outgoing_day", "farm, sent_on"),
            plain("opted_out", "phone"),
            plain("call_back", "farm, worker"),
            plain("alert", "farm, on_day, kind, about, worker"),
            counted("auditor_link", "id"),
            counted("auditor_look", "look"),
            counted("account", "id"),
            plain("farm_number", "number"),
            plain("second_factor", "account"),
            plain("recovery_code", "code"),
            counted("account_note", "id"));

    /** What is not backed up, and why. */
    static final Map<String, String> MADE_ANEW = madeAnew();

    private Kept() {}

    private static Table plain(String name, String order) {
        return new Table(name, order, null, "*", "");
    }

    private static Table counted(String name, String identity) {
        return new Table(name, identity, identity, "*", "");
    }

    private static Map<String, String> madeAnew() {
        Map<String, String> why = new LinkedHashMap<>();
        List.of(
                        "farm",
                        "farm_row",
                        "neighbour",
                        "enrolled",
                        "custody",
                        "holding",
                        "tie_use",
                        "said",
                        "settled",
                        "day_entry",
                        "lot_entry",
                        "harvest_entry",
                        "figure_entry")
                .forEach(table -> why.put(table, "the index, made from the log by a rebuild"));
        why.put("parked", "what projections could not take, found again by a rebuild");
        why.put("projection", "which copy of each projection is looked at, made with the tables");
        List.of("board_act_1", "board_act_2", "history_tie_1", "history_tie_2")
                .forEach(table -> why.put(table, "a projection, made from the log by a rebuild"));
        why.put("snapshot", "never written");
        why.put("signing_key", "public halves of keys, kept anew by the first node that signs");
        why.put("turn", "rows to be held, made with the table");
        why.put("visit", "who is signed in: she signs in anew");
        why.put("account_code", "codes that hold for a day, and once");
        why.put("scheduled_tasks", "the scheduler's own, made at its start");
        why.put("flyway_schema_history", "the schema's own, made with the tables");
        return Map.copyOf(why);
    }
}
