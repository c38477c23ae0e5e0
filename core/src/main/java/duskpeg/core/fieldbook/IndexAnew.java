package duskpeg.core.fieldbook;

import duskpeg.core.act.FieldEvent;
import java.util.BitSet;
import java.util.LinkedHashMap;
import java.util.Map;
import org.springframework.jdbc.core.JdbcOperations;

/**
 * The index while it is made anew from the log. Nobody may read or write it meanwhile. {@link #begin}, every event in the
 * order of the log with {@link #write} now and then, and {@link #finish}.
 */
public final class IndexAnew {

    /** Indexes that are cheaper made of all rows at once, and what they are on. */
    private static final Map<String, String> LATER = later();

    /** Four megabytes: of a million messages it takes one in three hundred for known that is not. */
    private static final int BITS = 1 << 25;

    private final Index index;
    private final JdbcOperations jdbc;
    private final SaidEntries entries;
    private final BitSet seen = new BitSet(BITS);

    IndexAnew(Index index, JdbcOperations jdbc) {
        this.index = index;
        this.jdbc = jdbc;
        this.entries = new SaidEntries(jdbc, this::seenBefore);
    }

    private static Map<String, String> later() {
        Map<String, String> later = new LinkedHashMap<>();
        later.put("said_worker", "said (worker, said)");
        later.put("tie_use_tie", "tie_use (farm, tie)");
        return later;
    }

    /** Empties the index. */
    public void begin() {
        index.clear();
        LATER.keySet().forEach(name -> jdbc.execute("drop index if exists " + name));
    }

    /** Enters what an event says. */
    public void enter(FieldEvent event) {
        index.enter(event, entries, true);
    }

    /** Writes what was entered. */
    public void write() {
        entries.write();
    }

    /** Makes it whole. */
    public void finish() {
        write();
        index.strips().foldAll();
        LATER.forEach((name, on) -> jdbc.execute("create index if not exists " + name + " on " + on));
    }

    /** False only for what certainly was not entered yet. */
    private boolean seenBefore(SaidEntries.Key key) {
        int one = key.hashCode();
        int other = (key.text() + key.subject()).hashCode() * 0x9E3779B1;
        boolean before = seen.get(one & (BITS - 1)) && seen.get(other >>> 7);
        seen.set(one & (BITS - 1));
        seen.set(other >>> 7);
        return before;
    }
}
