package duskpeg.core.text;

import duskpeg.core.act.TextId;
import duskpeg.core.crew.WorkerId;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Every message that ever came in, readable or not. */
public final class Texts {

    /** Longest words kept, in UTF-16 units; what a carrier delivers is far shorter. */
    public static final int MAX_WORDS = 100_000;

    private final JdbcClient jdbc;

    public Texts(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /**
     * A message as it came in.
     *
     * @param id its id
     * @param sender the number it came from
     * @param words what it said
     * @param salt 32 random hex digits for the seal of the words
     * @param heard when it reached the server
     */
    public record Text(TextId id, String sender, String words, String salt, Instant heard) {}

    /**
     * Claims a message by storing it. The same message delivered twice, even at once, is claimed once: the second
     * delivery waits for the first one's transaction and then fails.
     *
     * @throws DuplicateKeyException if it was claimed before; the transaction is then of no further use
     */
    public void claim(Text text) {
        jdbc.sql("insert into field_text (farm, text_id, sender, words, salt, heard) values (?, ?, ?, ?, ?, ?)")
                .param(text.id().farm().value())
                .param(text.id().value())
                .param(text.sender())
                .param(text.words())
                .param(text.salt())
                .param(OffsetDateTime.ofInstant(text.heard(), ZoneOffset.UTC))
                .update();
    }

    /**
     * Stores a message that its sender has still to confirm, as what was keyed on a call. It is without an answer, and
     * counts as unread, until {@link #claimUnconfirmed} or {@link #dropUnconfirmed}.
     *
     * @param worker who sent it
     * @throws DuplicateKeyException as {@link #claim}
     */
    public void keepUnconfirmed(Text text, WorkerId worker) {
        claim(text);
        jdbc.sql("update field_text set worker = ?, unread = 1 where farm = ? and text_id = ?")
                .params(worker.pseudonym(), text.id().farm().value(), text.id().value())
                .update();
    }

    /**
     * Claims a message that was kept, now that it is confirmed. Confirmed twice, even at once, it is claimed once.
     *
     * @return the message; empty if it does not wait to be confirmed
     */
    public Optional<Text> claimUnconfirmed(TextId id) {
        return settle(id, "") ? known(id).map(Known::text) : Optional.empty();
    }

    /**
     * Notes that the sender of a kept message said that it was wrong.
     *
     * @return whether it was waiting to be confirmed
     */
    public boolean dropUnconfirmed(TextId id, String reply) {
        return settle(id, reply);
    }

    private boolean settle(TextId id, String reply) {
        return jdbc.sql("update field_text set unread = 0, reply = ?"
                                + " where farm = ? and text_id = ? and unread = 1 and reply is null")
                        .params(reply, id.farm().value(), id.value())
                        .update()
                == 1;
    }

    /**
     * A message that is stored.
     *
     * @param reply what was answered; empty while it waits to be confirmed
     */
    public record Known(Text text, Optional<String> reply) {}

    /** A message that came in before. */
    public Optional<Known> known(TextId id) {
        return jdbc.sql("select sender, words, salt, heard, reply from field_text where farm = ? and text_id = ?")
                .params(id.farm().value(), id.value())
                .query((row, number) -> new Known(
                        new Text(
                                id,
                                row.getString(1),
                                row.getString(2),
                                row.getString(3),
                                row.getObject(4, OffsetDateTime.class).toInstant()),
                        Optional.ofNullable(row.getString(5))))
                .optional();
    }

    /**
     * Notes what was answered, and who the sender was found to be.
     *
     * @param worker empty for an unknown sender
     * @param unread how many of its lines could not be read or written down
     */
    public void answered(TextId id, Optional<WorkerId> worker, int unread, String reply) {
        jdbc.sql("update field_text set worker = ?, unread = ?, reply = ? where farm = ? and text_id = ?")
                .params(
                        worker.map(WorkerId::pseudonym).orElse(null),
                        unread,
                        reply,
                        id.farm().value(),
                        id.value())
                .update();
    }

    /** What was answered to a message that was claimed before. */
    public Optional<String> reply(TextId id) {
        return jdbc.sql("select reply from field_text where farm = ? and text_id = ?")
                .params(id.farm().value(), id.value())
                .query(String.class)
                .optional();
    }

    /** The words of these messages; a message whose words were erased is left out. */
    public Map<TextId, String> words(Collection<TextId> ids) {
        Map<TextId, String> words = new HashMap<>();
        for (TextId id : List.copyOf(ids)) {
            jdbc.sql("select words from field_text where farm = ? and text_id = ?")
                    .params(id.farm().value(), id.value())
                    .query(String.class)
                    .optional()
                    .ifPresent(said -> words.put(id, said));
        }
        return words;
    }
}
