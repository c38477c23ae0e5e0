package duskpeg.core.text;

import duskpeg.core.act.TextId;
import duskpeg.core.crew.BesideTheLog;
import duskpeg.core.crew.Named;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.settle.Settle;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.JdbcOperations;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * Every message that ever came in, readable or not. Of one that was erased it is still known that it came, when, and
 * under which pseudonym: delivered again, it is the same message.
 */
public final class Texts implements BesideTheLog {

    /** Longest words kept, in UTF-16 units; what a carrier delivers is far shorter. */
    public static final int MAX_WORDS = 100_000;

    private static final String MENTION = "text/";

    private final JdbcClient jdbc;
    private final JdbcOperations batches;

    public Texts(JdbcOperations jdbc) {
        this.jdbc = JdbcClient.create(jdbc);
        this.batches = jdbc;
    }

    /**
     * A message as it came in.
     *
     * @param id its id
     * @param sender the number it came from; empty for what was written on the inbox page, and where it was erased
     * @param words what it said
     * @param salt 32 random hex digits for the seal of the words
     * @param heard when it reached the server
     */
    public record Text(TextId id, String sender, String words, String salt, Instant heard) {}

    /**
     * A line of a message that nothing was made of. Offsets are UTF-16 indexes into the message's words.
     *
     * @param number which line, from 1
     * @param start where it begins
     * @param end where it ends, exclusive
     * @param problem why, one word of at most 40 characters
     * @param wordStart where the word stands that it failed on, or where something is missing
     * @param wordEnd where that word ends, exclusive
     */
    public record UnreadLine(int number, int start, int end, String problem, int wordStart, int wordEnd) {}

    /**
     * Claims a message by storing it. The same message delivered twice, even at once, is claimed once: the second
     * delivery waits for the first one's transaction and then fails.
     *
     * @throws DuplicateKeyException if it was claimed before; the transaction is then of no further use
     */
    public void claim(Text text) {
        claim(List.of(text), List.of());
    }

    /**
     * Claims several messages together with their answers, all or none.
     *
     * @param claimed no message twice
     * @param answers one for each, in the same order; none where they are still to be answered
     * @throws DuplicateKeyException as {@link #claim(Text)}, if one of them was claimed before
     */
    public void claim(List<Text> claimed, List<Answer> answers) {
        List<@Nullable Object[]> rows = new ArrayList<>();
        for (int i = 0; i < claimed.size(); i++) {
            Text text = claimed.get(i);
            Answer answer = answers.isEmpty() ? null : answers.get(i);
            rows.add(new @Nullable Object[] {
                text.id().farm().value(),
                text.id().value(),
                text.sender(),
                text.words(),
                text.salt(),
                OffsetDateTime.ofInstant(text.heard(), ZoneOffset.UTC),
                answer == null ? null : answer.worker().map(WorkerId::pseudonym).orElse(null),
                answer == null ? null : answer.unread(),
                answer == null ? null : answer.reply()
            });
        }
        batches.batchUpdate(
                "insert into field_text (farm, text_id, sender, words, salt, heard, worker, unread, reply)"
                        + " values (?, ?, ?, ?, ?, ?, ?, ?, ?)",
                rows);
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
        return settle(id, "") ? known(id).flatMap(Known::text) : Optional.empty();
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
     * @param text what it said; empty once its words were erased
     * @param heard when it reached the server
     * @param worker who sent it; empty for an unknown sender
     * @param reply what was answered; empty while it waits to be confirmed
     */
    public record Known(
            TextId id, Optional<Text> text, Instant heard, Optional<WorkerId> worker, Optional<String> reply) {}

    /** A message that came in before. */
    public Optional<Known> known(TextId id) {
        return jdbc.sql(
                        "select sender, words, salt, heard, worker, reply from field_text where farm = ? and text_id = ?")
                .params(id.farm().value(), id.value())
                .query((row, number) -> known(id, row))
                .optional();
    }

    private static Known known(TextId id, ResultSet row) throws SQLException {
        String words = row.getString(2);
        Instant heard = row.getObject(4, OffsetDateTime.class).toInstant();
        return new Known(
                id,
                words == null
                        ? Optional.empty()
                        : Optional.of(new Text(id, row.getString(1), words, row.getString(3), heard)),
                heard,
                Optional.ofNullable(row.getString(5)).map(worker -> new WorkerId(id.farm(), worker)),
                Optional.ofNullable(row.getString(6)));
    }

    /**
     * What a message was answered.
     *
     * @param id the message's id
     * @param worker who the sender was found to be; empty for an unknown sender
     * @param unread how many of its lines could not be read or written down; unless {@link #unread(TextId, List)} says
     *     which, nothing at all of the message was written down
     * @param reply the answer
     */
    public record Answer(TextId id, Optional<WorkerId> worker, int unread, String reply) {}

    /** Notes what a message was answered that was claimed before. */
    public void answered(Answer answer) {
        jdbc.sql("update field_text set worker = ?, unread = ?, reply = ? where farm = ? and text_id = ?")
                .params(
                        answer.worker().map(WorkerId::pseudonym).orElse(null),
                        answer.unread(),
                        answer.reply(),
                        answer.id().farm().value(),
                        answer.id().value())
                .update();
    }

    /** Notes which of a message's lines wait for somebody to look at them. */
    public void unread(TextId id, List<UnreadLine> lines) {
        for (UnreadLine line : lines) {
            jdbc.sql(
                            "insert into unread_line (farm, text_id, line, line_start, line_end, problem, word_start, word_end)"
                                    + " values (?, ?, ?, ?, ?, ?, ?, ?)")
                    .params(
                            id.farm().value(),
                            id.value(),
                            line.number(),
                            line.start(),
                            line.end(),
                            line.problem(),
                            line.wordStart(),
                            line.wordEnd())
                    .update();
        }
    }

    /**
     * Notes that a message of an unknown sender was found to be that worker's. Its answer stays the one it was given.
     *
     * @param unread how many of its lines could not be read or written down
     */
    public void foundToBeOf(TextId id, WorkerId worker, int unread) {
        jdbc.sql("update field_text set worker = ?, unread = ? where farm = ? and text_id = ?")
                .params(worker.pseudonym(), unread, id.farm().value(), id.value())
                .update();
    }

    /** Notes that a message of which nothing was written down was settled as a whole, so that nobody waits for it. */
    public void settledAsAWhole(TextId id) {
        jdbc.sql("update field_text set unread = 0 where farm = ? and text_id = ?")
                .params(id.farm().value(), id.value())
                .update();
    }

    /** Keeps what a supervisor wrote on the inbox page, as a message of hers that nobody answers. */
    public void keep(Settle.Own own, WorkerId by, Instant at) {
        claim(
                List.of(new Text(own.id(), "", own.words(), own.salt(), at)),
                List.of(new Answer(own.id(), Optional.of(by), 0, "")));
    }

    /**
     * The words of the worker's last message before that one of which every line was read, and which told of anything; empty
     * if there is none.
     */
    public Optional<String> readBefore(WorkerId worker, TextId text) {
        return jdbc.sql("select words from said join field_text on field_text.farm = said.farm"
                        + " and field_text.text_id = said.text_id where said.farm = :farm and said.worker = :worker"
                        + " and unread = 0 and sender <> '' and words is not null and received <"
                        + " (select received from field_text where farm = :farm and text_id = :text)"
                        + " order by said.worker desc, said desc fetch first row only")
                .param("farm", worker.farm().value())
                .param("worker", worker.pseudonym())
                .param("text", text.value())
                .query(String.class)
                .optional();
    }

    /** What was answered to a message that was claimed before; an empty text where that was erased. */
    public Optional<String> reply(TextId id) {
        return jdbc.sql("select reply from field_text where farm = ? and text_id = ?")
                .params(id.farm().value(), id.value())
                .query(String.class)
                .optional();
    }

    /** The farms that answered a message of that id, by id. */
    public List<FarmId> farmsThatAnswered(String id) {
        return jdbc
                .sql("select farm from field_text where text_id = ? and reply is not null order by farm")
                .param(id)
                .query(String.class)
                .list()
                .stream()
                .map(FarmId::new)
                .toList();
    }

    /** The words of these messages; a message whose words were erased is left out. */
    public Map<TextId, String> words(Collection<TextId> ids) {
        Map<TextId, String> words = new HashMap<>();
        for (TextId id : List.copyOf(ids)) {
            jdbc.sql("select words from field_text where farm = ? and text_id = ? and words is not null")
                    .params(id.farm().value(), id.value())
                    .query(String.class)
                    .optional()
                    .ifPresent(said -> words.put(id, said));
        }
        return words;
    }

    /** When each worker's last message was heard; who never sent one is left out. */
    public Map<WorkerId, Instant> lastHeard(FarmId farm) {
        Map<WorkerId, Instant> last = new HashMap<>();
        jdbc.sql("select worker, max(heard) from field_text where farm = ? and worker is not null and sender <> ''"
                        + " group by worker")
                .param(farm.value())
                .query(row -> {
                    last.put(
                            new WorkerId(farm, row.getString(1)),
                            row.getObject(2, OffsetDateTime.class).toInstant());
                });
        return last;
    }

    /* What is erased. */

    /** The numbers a worker's messages came from; every message of the farm is looked at. */
    public List<String> sendersOf(WorkerId worker) {
        return jdbc.sql("select distinct sender from field_text where farm = ? and worker = ? and sender <> ''")
                .params(worker.farm().value(), worker.pseudonym())
                .query(String.class)
                .list();
    }

    /** Erases her messages, and those of no known worker that came from her numbers. */
    @Override
    public void erase(WorkerId worker, Set<String> phones) {
        erase("farm = ? and worker = ?", worker.farm().value(), worker.pseudonym());
        String hers = "sender = ? and not exists (select 1 from person p where p.farm = field_text.farm"
                + " and p.phone = field_text.sender and not (p.farm = ? and p.worker = ?))";
        for (String phone : phones) {
            erase(hers + " and worker is null", phone, worker.farm().value(), worker.pseudonym());
            // Words of somebody who had the number before her stay; the number is hers.
            jdbc.sql("update field_text set sender = '' where " + hers)
                    .params(phone, worker.farm().value(), worker.pseudonym())
                    .update();
        }
    }

    private void erase(String which, Object... values) {
        jdbc.sql(
                        "delete from unread_line where exists (select 1 from field_text where field_text.farm = unread_line.farm"
                                + " and field_text.text_id = unread_line.text_id and "
                                + which + ")")
                .params(values)
                .update();
        jdbc.sql("update field_text set sender = '', words = null, salt = null, reply = '', unread = 0 where " + which)
                .params(values)
                .update();
    }

    /**
     * The messages and answers that name a person and are not hers.
     *
     * @param worker the person
     * @param phones her numbers
     */
    public List<Mention> mentions(WorkerId worker, Set<String> phones, Named named) {
        List<Mention> mentions = new ArrayList<>();
        jdbc.sql("select text_id, sender, worker, words, reply, heard from field_text"
                        + " where farm = ? and words is not null and (worker is null or worker <> ?)")
                .params(worker.farm().value(), worker.pseudonym())
                .query(row -> {
                    String words = row.getString(4);
                    String reply = Objects.requireNonNullElse(row.getString(5), "");
                    boolean hers = row.getString(3) == null && phones.contains(row.getString(2));
                    if (!hers && (named.in(words) || named.in(reply))) {
                        mentions.add(new Mention(
                                MENTION + row.getString(1),
                                named.in(words) ? words : reply,
                                row.getObject(6, OffsetDateTime.class).toInstant()));
                    }
                });
        return mentions;
    }

    /**
     * Erases the words, or the answer, or both, of other people's messages, as far as they name a person.
     *
     * @param keys of {@link #mentions}; others are passed over
     */
    public void eraseMentions(FarmId farm, Set<String> keys, Named named) {
        for (String key : keys) {
            if (!key.matches(MENTION + "[A-Za-z0-9_-]{1,64}")) {
                continue;
            }
            TextId id = new TextId(farm, key.substring(MENTION.length()));
            Known known = known(id).orElse(null);
            if (known == null) {
                continue;
            }
            if (known.text().map(Text::words).filter(named::in).isPresent()) {
                jdbc.sql("delete from unread_line where farm = ? and text_id = ?")
                        .params(farm.value(), id.value())
                        .update();
                jdbc.sql("update field_text set words = null, salt = null, unread = 0, reply = coalesce(reply, '')"
                                + " where farm = ? and text_id = ?")
                        .params(farm.value(), id.value())
                        .update();
            }
            if (known.reply().filter(named::in).isPresent()) {
                jdbc.sql("update field_text set reply = '' where farm = ? and text_id = ?")
                        .params(farm.value(), id.value())
                        .update();
            }
        }
    }
}
