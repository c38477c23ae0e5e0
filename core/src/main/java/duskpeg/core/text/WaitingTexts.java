package duskpeg.core.text;

import duskpeg.core.act.TextId;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.List;
import java.util.Optional;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Texts, or lines of them, of which nothing was made and which nobody has settled. */
public final class WaitingTexts {

    private static final String WAITING = " from field_text t"
            + " left join unread_line l on l.farm = t.farm and l.text_id = t.text_id"
            + " where t.farm = :farm and t.unread > 0 and t.words is not null"
            + " and not exists (select 1 from settled s where s.farm = t.farm"
            + " and s.subject = t.farm || '/text/' || t.text_id and s.line = coalesce(l.line, 0))";

    private final JdbcClient jdbc;

    public WaitingTexts(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /**
     * A line that waits.
     *
     * @param text the message
     * @param sender the number it came from
     * @param worker who sent it; empty for an unknown sender, whose message waits as a whole
     * @param heard when it was heard
     * @param line which line of it, from 1; 0 for the whole message, of which nothing was written down
     * @param words the line as it was sent
     * @param problem why nothing was made of it, as {@link Texts.UnreadLine} has it; empty for a whole message
     * @param word the word it failed on; empty where something is missing
     */
    public record Waiting(
            TextId text,
            String sender,
            Optional<WorkerId> worker,
            Instant heard,
            int line,
            String words,
            String problem,
            String word) {}

    /** What waits, newest message first. */
    public List<Waiting> of(FarmId farm, int most) {
        return jdbc.sql("select t.text_id, t.sender, t.worker, t.heard, t.words, l.line, l.line_start, l.line_end,"
                        + " l.problem, l.word_start, l.word_end" + WAITING
                        + " order by t.received desc, l.line fetch first " + most + " rows only")
                .param("farm", farm.value())
                .query((row, number) -> waiting(farm, row))
                .list();
    }

    /** One line that waits; empty where it does not. */
    public Optional<Waiting> find(TextId text, int line) {
        return jdbc.sql("select t.text_id, t.sender, t.worker, t.heard, t.words, l.line, l.line_start, l.line_end,"
                        + " l.problem, l.word_start, l.word_end" + WAITING
                        + " and t.text_id = :text and coalesce(l.line, 0) = :line")
                .param("farm", text.farm().value())
                .param("text", text.value())
                .param("line", line)
                .query((row, number) -> waiting(text.farm(), row))
                .optional();
    }

    /** How many wait; beyond a thousand, a thousand. */
    public int count(FarmId farm) {
        return jdbc.sql("select count(*) from (select 1" + WAITING + " fetch first 1000 rows only) waiting")
                .param("farm", farm.value())
                .query(Integer.class)
                .single();
    }

    private static Waiting waiting(FarmId farm, ResultSet row) throws SQLException {
        TextId text = new TextId(farm, row.getString(1));
        String sender = row.getString(2);
        Optional<WorkerId> worker = Optional.ofNullable(row.getString(3)).map(known -> new WorkerId(farm, known));
        Instant heard = row.getObject(4, OffsetDateTime.class).toInstant();
        String words = row.getString(5);
        int line = row.getInt(6);
        return line == 0
                ? new Waiting(text, sender, worker, heard, 0, words, "", "")
                : new Waiting(
                        text,
                        sender,
                        worker,
                        heard,
                        line,
                        words.substring(row.getInt(7), row.getInt(8)),
                        row.getString(9),
                        words.substring(row.getInt(10), row.getInt(11)));
    }
}
