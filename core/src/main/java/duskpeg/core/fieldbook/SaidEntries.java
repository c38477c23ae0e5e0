package duskpeg.core.fieldbook;

import duskpeg.core.act.Act;
import duskpeg.core.act.Subject;
import duskpeg.core.act.TextId;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.store.Inserts;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Predicate;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.JdbcOperations;

/**
 * What messages said of which subjects, and where they put ties on, on its way into the two largest tables of the index:
 * written before they are asked for or the transaction ends while reports are taken, and many together while the index is made anew. What is taken back
 * is taken from what waits here at once, and from the tables before what waits is written; so it comes to the same.
 */
final class SaidEntries {

    private final JdbcOperations jdbc;
    private final @Nullable Predicate<Key> mayBeThere;
    private final Map<Key, Said> said = new LinkedHashMap<>();
    private final List<Use> uses = new ArrayList<>();
    private final List<Gone> gone = new ArrayList<>();

    /** Each row is written where it is not there yet. */
    SaidEntries(JdbcOperations jdbc) {
        this(jdbc, null);
    }

    /**
     * @param mayBeThere whether the tables may know that already; if not they are not asked
     */
    SaidEntries(JdbcOperations jdbc, @Nullable Predicate<Key> mayBeThere) {
        this.jdbc = jdbc;
        this.mayBeThere = mayBeThere;
    }

    /** A message and something it was about. */
    record Key(String farm, String text, String subject) {
        static Key of(TextId text, Subject subject) {
            return new Key(text.farm().value(), text.value(), subject.toString());
        }
    }

    private record Said(String worker, boolean takenBack) {}

    private record Use(Key key, int line, String tie) {}

    private record Gone(Key key, @Nullable Integer line) {
        boolean takes(Use use) {
            return use.key().equals(key) && (line == null || line == use.line());
        }
    }

    void said(TextId text, WorkerId by, Subject subject) {
        Key key = Key.of(text, subject);
        if (!said.containsKey(key) && (mayBeThere == null || !(mayBeThere.test(key) && isThere(key)))) {
            said.put(key, new Said(by.pseudonym(), false));
        }
    }

    private boolean isThere(Key key) {
        Integer rows = jdbc.queryForObject(
                "select count(*) from said where farm = ? and text_id = ? and subject = ?",
                Integer.class,
                key.farm(),
                key.text(),
                key.subject());
        return rows != null && rows > 0;
    }

    void used(Act.Tied tied) {
        Key key = Key.of(tied.told().text(), tied.round());
        for (TieNumber tie : tied.ties()) {
            uses.add(new Use(key, tied.told().line(), tie.digits()));
        }
    }

    void takenBack(Act.TakenBack back) {
        Gone taken = new Gone(Key.of(back.text(), back.subject()), back.line());
        uses.removeIf(taken::takes);
        gone.add(taken);
        if (taken.line() == null) {
            said.computeIfPresent(taken.key(), (key, one) -> new Said(one.worker(), true));
        }
    }

    /** Writes what waits. */
    void write() {
        for (Gone one : gone) {
            Key key = one.key();
            if (one.line() == null) {
                jdbc.update(
                        "update said set taken_back = true where farm = ? and text_id = ? and subject = ?",
                        key.farm(),
                        key.text(),
                        key.subject());
                jdbc.update(
                        "delete from tie_use where farm = ? and text_id = ? and round = ?",
                        key.farm(),
                        key.text(),
                        key.subject());
            } else {
                jdbc.update(
                        "delete from tie_use where farm = ? and text_id = ? and round = ? and line = ?",
                        key.farm(),
                        key.text(),
                        key.subject(),
                        one.line());
            }
        }
        if (mayBeThere == null) {
            writeWhereNew();
        } else {
            writeNew();
        }
        Inserts intoUses = new Inserts(jdbc, "tie_use", List.of("farm", "tie", "text_id", "line", "round"));
        uses.forEach(use -> intoUses.add(
                use.key().farm(),
                use.tie(),
                use.key().text(),
                use.line(),
                use.key().subject()));
        intoUses.write();
        gone.clear();
        said.clear();
        uses.clear();
    }

    private void writeWhereNew() {
        if (said.isEmpty()) {
            return;
        }
        List<Object[]> rows = new ArrayList<>();
        said.forEach((key, one) -> rows.add(new Object[] {
            key.farm(), one.worker(), key.text(), key.subject(), one.takenBack(), key.farm(), key.text(), key.subject()
        }));
        jdbc.batchUpdate(
                "insert into said (farm, worker, text_id, subject, taken_back) select ?, ?, ?, ?, ? where not exists"
                        + " (select 1 from said where farm = ? and text_id = ? and subject = ?)",
                rows);
    }

    private void writeNew() {
        Inserts intoSaid = new Inserts(jdbc, "said", List.of("farm", "worker", "text_id", "subject", "taken_back"));
        said.forEach((key, one) -> intoSaid.add(key.farm(), one.worker(), key.text(), key.subject(), one.takenBack()));
        intoSaid.write();
    }
}
