package duskpeg.projections.signin;

import duskpeg.core.act.Worded;
import duskpeg.core.farm.FarmId;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * What was done with accounts: signing in, failing to, changes. Kept for some days and then forgotten. Of where it came
 * from only the network is kept; what somebody typed as a login that is none isn't, for it may be a password.
 */
@Component
class AccountNotes {

    /** As many as a page shows. */
    static final int SHOWN = 200;

    private final JdbcClient jdbc;
    private final Clock clock;
    private final Duration kept;

    /**
     * @param days for how many days a note is kept, at least 1
     */
    AccountNotes(JdbcClient jdbc, Clock clock, @Value("${duskpeg.account-notes-days}") int days) {
        this.jdbc = jdbc;
        this.clock = clock;
        this.kept = Duration.ofDays(Math.max(1, days));
    }

    /** What happened. */
    enum What implements Worded {
        SIGNED_IN,
        NOT_LET_IN,
        SIGNED_OUT,
        SESSION_ENDED,
        RECOVERY_CODE_USED,
        PASSWORD_SET,
        CONFIRMED,
        NOT_CONFIRMED,
        SECOND_FACTOR_ON,
        SECOND_FACTOR_OFF,
        RECOVERY_CODES_MADE,
        MADE,
        CODE_GIVEN,
        DISABLED,
        ENABLED,
        WORKER_SET
    }

    /**
     * A note.
     *
     * @param login whose account; null where that is nobody's
     * @param by the owner who did it; null where it was the holder
     * @param network from where, without the last part of the address
     * @param what in words
     */
    record Note(@Nullable String login, @Nullable String by, Instant at, String network, String what) {}

    /** For how many days a note is kept. */
    long days() {
        return kept.toDays();
    }

    /** Notes what an account's holder did, or somebody who tried to be her. */
    void note(@Nullable Account account, What what, String address) {
        note(account, null, what, address);
    }

    /** Notes what an owner did with an account. */
    void note(@Nullable Account account, @Nullable Account by, What what, String address) {
        Instant now = clock.instant();
        jdbc.sql("delete from account_note where noted < ?")
                .param(now.minus(kept).atOffset(ZoneOffset.UTC))
                .update();
        jdbc.sql("insert into account_note (farm, account, done_by, noted, network, what) values (?, ?, ?, ?, ?, ?)")
                .params(
                        account == null ? null : account.farm().value(),
                        account == null ? null : account.id(),
                        by == null ? null : by.id(),
                        now.atOffset(ZoneOffset.UTC),
                        Address.network(address),
                        what.word())
                .update();
    }

    /** The newest of a farm, and of logins that are nobody's. */
    List<Note> all(FarmId farm) {
        return notes("where n.farm = ? or n.farm is null", farm.value(), SHOWN);
    }

    /** The newest of an account. */
    List<Note> of(Account account, int most) {
        return notes("where n.account = ?", account.id(), most);
    }

    private List<Note> notes(String where, Object of, int most) {
        return jdbc.sql("select a.login, b.login, n.noted, n.network, n.what from account_note n"
                        + " left join account a on a.id = n.account left join account b on b.id = n.done_by "
                        + where + " order by n.id desc fetch first " + most + " rows only")
                .param(of)
                .query((row, number) -> new Note(
                        row.getString(1),
                        row.getString(2),
                        row.getObject(3, OffsetDateTime.class).toInstant(),
                        row.getString(4),
                        row.getString(5).replace('-', ' ')))
                .list();
    }
}
