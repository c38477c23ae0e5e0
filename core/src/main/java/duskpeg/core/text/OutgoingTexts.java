package duskpeg.core.text;

import duskpeg.core.crew.BesideTheLog;
import duskpeg.core.crew.Named;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.text.Outgoing.HeldFor;
import duskpeg.core.text.Outgoing.State;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.PlatformTransactionManager;

/**
 * What becomes of posted texts. Every change names the state it starts from, so that of two nodes, or of a late answer
 * and a callback, one is heeded and the other changes nothing; each says whether it did.
 */
public final class OutgoingTexts implements BesideTheLog {

    private static final String SELECT = "select id, farm, once, recipient, words, urgent, insisted, made, stored,"
            + " state, held_for, attempts, claimed, sid, error, sent, delivered, price from outgoing o";

    private static final String MENTION = "sent/";
    private static final String DROPPED =
            " state = case when state in ('waiting', 'held', 'failed', 'unknown') then 'dropped' else state end";

    private final JdbcClient jdbc;
    private final InsertOnce inserts;

    public OutgoingTexts(JdbcClient jdbc, PlatformTransactionManager transactions) {
        this.jdbc = jdbc;
        this.inserts = new InsertOnce(transactions);
    }

    /* Sending. */

    /**
     * The texts that may be sent now, urgent ones first, then in the order they were posted. A text waits until those
     * before it to the same number are settled; an urgent one waits for urgent ones only.
     */
    public List<Outgoing> due(Instant now, int most) {
        return jdbc.sql(SELECT + " where state = 'waiting' and (next_try is null or next_try <= ?)"
                        + " and not exists (select 1 from outgoing e where e.recipient = o.recipient and e.id <> o.id"
                        + " and (e.state = 'sending'"
                        + " or (e.state = 'waiting' and e.id < o.id and (e.urgent or not o.urgent))))"
                        + " order by urgent desc, id fetch first ? rows only")
                .params(time(now), most)
                .query(OutgoingTexts::outgoing)
                .list();
    }

    /** Takes a waiting text to be sent by this node alone. */
    public boolean claim(Outgoing text, Instant now) {
        return jdbc.sql("update outgoing set state = 'sending', attempts = attempts + 1, claimed = ?, next_try = null,"
                                + " sid = null, error = null where id = ? and state = 'waiting' and attempts = ?")
                        .params(time(now), text.id(), text.attempts())
                        .update()
                == 1;
    }

    /**
     * Counts one more text of a farm on a day.
     *
     * @param limit the most there may be
     * @return whether there was room for it
     */
    public boolean count(FarmId farm, LocalDate day, int limit) {
        return limit > 0 && (countOneMore(farm, day, limit) || countFirst(farm, day) || countOneMore(farm, day, limit));
    }

    private boolean countFirst(FarmId farm, LocalDate day) {
        return inserts.insert(() -> jdbc.sql("insert into outgoing_day (farm, sent_on, texts) values (?, ?, 1)")
                .params(farm.value(), day)
                .update());
    }

    private boolean countOneMore(FarmId farm, LocalDate day, int limit) {
        return jdbc.sql("update outgoing_day set texts = texts + 1 where farm = ? and sent_on = ? and texts < ?")
                        .params(farm.value(), day, limit)
                        .update()
                == 1;
    }

    /** It waits until then. */
    public boolean postpone(Outgoing text, Instant until) {
        return jdbc.sql("update outgoing set state = 'waiting', next_try = ? where id = ? and state = ?")
                        .params(time(until), text.id(), text.state().word())
                        .update()
                == 1;
    }

    /** It is not sent until a person decides. */
    public boolean hold(Outgoing text, HeldFor why) {
        return jdbc.sql("update outgoing set state = 'held', held_for = ?, next_try = null where id = ? and state = ?")
                        .params(why.word(), text.id(), text.state().word())
                        .update()
                == 1;
    }

    /** The carrier did not take it, and it is tried again then. */
    public boolean tryAgain(Outgoing text, @Nullable Integer error, Instant then) {
        return jdbc.sql("update outgoing set state = 'waiting', next_try = ?, error = ?"
                                + " where id = ? and attempts = ? and state = 'sending'")
                        .params(time(then), error, text.id(), text.attempts())
                        .update()
                == 1;
    }

    /** The carrier took it. A text of which a callback already said more stays as it is, but for its id. */
    public boolean sent(Outgoing text, String sid, @Nullable String price, Instant now) {
        jdbc.sql(
                        "update outgoing set sid = ?, price = coalesce(?, price) where id = ? and attempts = ? and sid is null")
                .params(sid, price, text.id(), text.attempts())
                .update();
        return settle(text, State.SENT, null, now);
    }

    /** It was not and will not be delivered. */
    public boolean failed(Outgoing text, @Nullable Integer error, Instant now) {
        return settle(text, State.FAILED, error, now);
    }

    /** It was handed over and no answer came. */
    public boolean unknown(Outgoing text, Instant nextLook) {
        return jdbc.sql("update outgoing set state = 'unknown', next_try = ?, looks = 0"
                                + " where id = ? and attempts = ? and state = 'sending'")
                        .params(time(nextLook), text.id(), text.attempts())
                        .update()
                == 1;
    }

    /**
     * What was being sent since before that time by a process that must have died.
     *
     * @return how many texts are unknown for it
     */
    public int abandoned(Instant before, Instant nextLook) {
        return jdbc.sql("update outgoing set state = 'unknown', next_try = ?, looks = 0"
                        + " where state = 'sending' and claimed < ?")
                .params(time(nextLook), time(before))
                .update();
    }

    /* What the carrier says later. */

    /** The text of that carrier's id. */
    public Optional<Outgoing> withSid(String sid) {
        return jdbc.sql(SELECT + " where sid = ?")
                .param(sid)
                .query(OutgoingTexts::outgoing)
                .optional();
    }

    /** The text of that number. */
    public Optional<Outgoing> find(long id) {
        return jdbc.sql(SELECT + " where id = ?")
                .param(id)
                .query(OutgoingTexts::outgoing)
                .optional();
    }

    /** Learns the carrier's id of a text whose answer has not come, if the attempt is still its last. */
    public boolean identify(long id, int attempt, String recipient, String sid) {
        return jdbc.sql("update outgoing set sid = ? where id = ? and attempts = ? and recipient = ? and sid is null"
                                + " and state in ('sending', 'unknown')")
                        .params(sid, id, attempt, recipient)
                        .update()
                == 1;
    }

    /**
     * Settles a text of this attempt, forwards only: what was delivered or failed stays so.
     *
     * @param to sent, delivered or failed
     */
    public boolean settle(Outgoing text, State to, @Nullable Integer error, Instant now) {
        String from = to == State.SENT ? "('sending', 'unknown')" : "('sending', 'unknown', 'sent')";
        OffsetDateTime at = time(now);
        return jdbc.sql("update outgoing set state = ?, error = ?, next_try = null,"
                                + " sent = case when ? then coalesce(sent, ?) else sent end,"
                                + " delivered = case when ? then ? else delivered end"
                                + " where id = ? and attempts = ? and state in " + from)
                        .params(
                                to.word(),
                                error,
                                to != State.FAILED,
                                at,
                                to == State.DELIVERED,
                                at,
                                text.id(),
                                text.attempts())
                        .update()
                == 1;
    }

    /** Notes what a text cost. */
    public void price(Outgoing text, String price) {
        jdbc.sql("update outgoing set price = ? where id = ? and attempts = ?")
                .params(price, text.id(), text.attempts())
                .update();
    }

    /** The unknown texts to look for at the carrier's now. */
    public List<Outgoing> toLookFor(Instant now) {
        return jdbc.sql(
                        SELECT
                                + " where state = 'unknown' and next_try <= ? and words <> '' order by id fetch first 20 rows only")
                .param(time(now))
                .query(OutgoingTexts::outgoing)
                .list();
    }

    /** How often it was looked for. */
    public int looks(Outgoing text) {
        return jdbc.sql("select looks from outgoing where id = ?")
                .param(text.id())
                .query(Integer.class)
                .single();
    }

    /**
     * It was looked for.
     *
     * @param next when it is looked for again; null for never
     */
    public void looked(Outgoing text, @Nullable Instant next) {
        jdbc.sql("update outgoing set looks = looks + 1, next_try = ? where id = ? and state = 'unknown'")
                .params(next == null ? null : time(next), text.id())
                .update();
    }

    /* What people see and decide. */

    /** The newest texts of a farm, newest first. */
    public List<Outgoing> newest(FarmId farm, int most) {
        return jdbc.sql(SELECT + " where farm = ? order by id desc fetch first ? rows only")
                .params(farm.value(), most)
                .query(OutgoingTexts::outgoing)
                .list();
    }

    /** All texts of a farm that a person must decide about, oldest first. */
    public List<Outgoing> open(FarmId farm) {
        return jdbc.sql(SELECT + " where farm = ? and state in ('failed', 'unknown', 'held') order by id")
                .param(farm.value())
                .query(OutgoingTexts::outgoing)
                .list();
    }

    /** The newest texts of a farm that the carrier delivered to a number since that time, oldest first. */
    public List<Outgoing> delivered(FarmId farm, String recipient, Instant since, int most) {
        return jdbc.sql("select * from (" + SELECT
                        + " where farm = ? and recipient = ? and state = 'delivered' and delivered >= ?"
                        + " order by delivered desc, id desc fetch first ? rows only) n order by delivered, id")
                .params(farm.value(), recipient, time(since), most)
                .query(OutgoingTexts::outgoing)
                .list();
    }

    /** A person decided that it be sent, or sent once more. */
    public boolean sendAgain(FarmId farm, long id) {
        return jdbc.sql(
                                "update outgoing set state = 'waiting', insisted = true, next_try = null, held_for = null"
                                        + " where farm = ? and id = ? and state in ('failed', 'unknown', 'held') and words <> ''")
                        .params(farm.value(), id)
                        .update()
                == 1;
    }

    /** A person decided that it is not sent. */
    public boolean drop(FarmId farm, long id) {
        return jdbc.sql("update outgoing set state = 'dropped', next_try = null"
                                + " where farm = ? and id = ? and state in ('failed', 'unknown', 'held')")
                        .params(farm.value(), id)
                        .update()
                == 1;
    }

    /* What is erased. Of a text without words it is known when it went out and what it cost. */

    /** Erases what was sent to her numbers; what was not sent yet is dropped. */
    @Override
    public void erase(WorkerId worker, Set<String> phones) {
        // Their names may have a number in them.
        phones.forEach(phone -> jdbc.sql("update outgoing set recipient = '', words = '', sid = null, next_try = null,"
                        + " once = 'erased-' || id," + DROPPED + " where recipient = ? and not exists"
                        + " (select 1 from person p where p.farm = outgoing.farm and p.phone = outgoing.recipient"
                        + " and not (p.farm = ? and p.worker = ?))")
                .params(phone, worker.farm().value(), worker.pseudonym())
                .update());
    }

    /**
     * The texts to others that name a person.
     *
     * @param phones her numbers
     */
    public List<Mention> mentions(FarmId farm, Set<String> phones, Named named) {
        return jdbc
                .sql("select id, recipient, words, made from outgoing where farm = ?")
                .param(farm.value())
                .query((row, number) -> phones.contains(row.getString(2)) || !named.in(row.getString(3))
                        ? Optional.<Mention>empty()
                        : Optional.of(new Mention(
                                MENTION + row.getLong(1),
                                row.getString(3),
                                row.getObject(4, OffsetDateTime.class).toInstant())))
                .list()
                .stream()
                .flatMap(Optional::stream)
                .toList();
    }

    /**
     * Erases the words of texts to other people; what was not sent yet is dropped.
     *
     * @param keys of {@link #mentions}; others are passed over
     */
    public void eraseMentions(FarmId farm, Set<String> keys) {
        keys.stream()
                .filter(key -> key.matches(MENTION + "[0-9]{1,18}"))
                .map(key -> Long.valueOf(key.substring(MENTION.length())))
                .forEach(id -> jdbc.sql("update outgoing set words = '', next_try = null," + DROPPED
                                + " where farm = ? and id = ?")
                        .params(farm.value(), id)
                        .update());
    }

    private static OffsetDateTime time(Instant at) {
        return OffsetDateTime.ofInstant(at, ZoneOffset.UTC);
    }

    private static Outgoing outgoing(ResultSet row, int number) throws SQLException {
        String heldFor = row.getString("held_for");
        return new Outgoing(
                row.getLong("id"),
                new FarmId(row.getString("farm")),
                row.getString("once"),
                row.getString("recipient"),
                row.getString("words"),
                row.getBoolean("urgent"),
                row.getBoolean("insisted"),
                row.getObject("made", OffsetDateTime.class).toInstant(),
                row.getObject("stored", OffsetDateTime.class).toInstant(),
                State.of(row.getString("state")),
                heldFor == null ? null : HeldFor.of(heldFor),
                row.getInt("attempts"),
                instant(row, "claimed"),
                row.getString("sid"),
                row.getObject("error", Integer.class),
                instant(row, "sent"),
                instant(row, "delivered"),
                row.getString("price"));
    }

    private static @Nullable Instant instant(ResultSet row, String column) throws SQLException {
        OffsetDateTime at = row.getObject(column, OffsetDateTime.class);
        return at == null ? null : at.toInstant();
    }
}
