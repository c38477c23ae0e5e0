package duskpeg.projections.signin;

import duskpeg.core.act.Seal;
import duskpeg.core.crew.BesideTheLog;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** The accounts and their codes, as tables. What is kept of a password is its hash, of a code its SHA-256. */
@Component
class Accounts implements BesideTheLog {

    /** How long a code can be used. */
    static final Duration CODE_LASTS = Duration.ofHours(24);

    private static final String SELECT =
            "select id, farm, worker, login, role, password, made, disabled, stamp, exists (select 1 from second_factor f"
                    + " where f.account = account.id and f.confirmed is not null) from account";

    private final JdbcClient jdbc;

    Accounts(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    private static Account account(ResultSet row, int number) throws SQLException {
        FarmId farm = new FarmId(row.getString(2));
        String worker = row.getString(3);
        OffsetDateTime disabled = row.getObject(8, OffsetDateTime.class);
        return new Account(
                row.getLong(1),
                farm,
                worker == null ? null : new WorkerId(farm, worker),
                row.getString(4),
                AccountRole.valueOf(row.getString(5).toUpperCase(Locale.ROOT)),
                row.getString(6) != null,
                row.getObject(7, OffsetDateTime.class).toInstant(),
                disabled == null ? null : disabled.toInstant(),
                row.getBoolean(10),
                row.getInt(9));
    }

    /** Everybody of a farm, the first made first. */
    List<Account> all(FarmId farm) {
        return jdbc.sql(SELECT + " where farm = ? order by id")
                .param(farm.value())
                .query(Accounts::account)
                .list();
    }

    /** The account of that number. */
    Optional<Account> find(long id) {
        return jdbc.sql(SELECT + " where id = ?")
                .param(id)
                .query(Accounts::account)
                .optional();
    }

    /** The account with that login, disabled or not. */
    Optional<Account> withLogin(String login) {
        return jdbc.sql(SELECT + " where login = ?")
                .param(login)
                .query(Accounts::account)
                .optional();
    }

    /** The hash of an account's password; empty before one was set. */
    Optional<String> password(Account account) {
        return jdbc
                .sql("select password from account where id = ? and password is not null")
                .param(account.id())
                .query(String.class)
                .list()
                .stream()
                .findFirst();
    }

    /**
     * Makes an account without a password.
     *
     * @throws org.springframework.dao.DuplicateKeyException if there is one with that login, or of that worker
     */
    Account make(FarmId farm, @Nullable WorkerId worker, String login, AccountRole role, Instant made) {
        jdbc.sql("insert into account (farm, worker, login, role, made, stamp) values (?, ?, ?, ?, ?, 0)")
                .params(
                        farm.value(),
                        worker == null ? null : worker.pseudonym(),
                        login,
                        role.word(),
                        made.atOffset(ZoneOffset.UTC))
                .update();
        return withLogin(login).orElseThrow();
    }

    /** Sets whose account an owner's is; whoever is signed in with it must sign in anew. */
    void setWorker(Account account, @Nullable WorkerId worker) {
        jdbc.sql("update account set worker = ?, stamp = stamp + 1 where id = ?")
                .params(worker == null ? null : worker.pseudonym(), account.id())
                .update();
    }

    /** Sets a password; whoever is signed in with the account must sign in anew. */
    void setPassword(Account account, String hash) {
        jdbc.sql("update account set password = ?, stamp = stamp + 1 where id = ?")
                .params(hash, account.id())
                .update();
    }

    /** Puts a newer hash of the same password in the place of an old one; nobody must sign in anew. */
    void rehash(Account account, String hash) {
        jdbc.sql("update account set password = ? where id = ?")
                .params(hash, account.id())
                .update();
    }

    /** Disables it from then on, or enables it again; its codes are void and whoever is signed in is no more. */
    void setDisabled(Account account, @Nullable Instant since) {
        jdbc.sql("update account set disabled = ?, stamp = stamp + 1 where id = ?")
                .params(since == null ? null : since.atOffset(ZoneOffset.UTC), account.id())
                .update();
        jdbc.sql("delete from account_code where account = ?")
                .param(account.id())
                .update();
    }

    /** Whether a farm has an owner who can sign in. */
    boolean hasOwner(FarmId farm) {
        return owners(farm) > 0;
    }

    /** How many owners of a farm can sign in. */
    int owners(FarmId farm) {
        return jdbc.sql("select count(*) from account where farm = ? and role = ? and disabled is null"
                        + " and password is not null")
                .params(farm.value(), AccountRole.OWNER.word())
                .query(Integer.class)
                .single();
    }

    /**
     * Keeps a new code, and voids older ones for the same.
     *
     * @param account whose password it sets; null for a code that makes the farm's first owner
     */
    void keepCode(String code, FarmId farm, @Nullable Account account, Instant made) {
        if (account == null) {
            jdbc.sql("delete from account_code where farm = ? and account is null")
                    .param(farm.value())
                    .update();
        } else {
            jdbc.sql("delete from account_code where account = ?")
                    .param(account.id())
                    .update();
        }
        jdbc.sql("insert into account_code (code, farm, account, made, expires) values (?, ?, ?, ?, ?)")
                .params(
                        Seal.of("", code),
                        farm.value(),
                        account == null ? null : account.id(),
                        made.atOffset(ZoneOffset.UTC),
                        made.plus(CODE_LASTS).atOffset(ZoneOffset.UTC))
                .update();
    }

    /**
     * What a code is for.
     *
     * @param account whose password it sets; null for the farm's first owner
     */
    record Purpose(FarmId farm, @Nullable Long account) {}

    /** What a code opens; empty for one that is none, was used, or has expired. */
    Optional<Purpose> purpose(String code, Instant now) {
        return jdbc.sql("select farm, account from account_code where code = ? and expires > ?")
                .params(Seal.of("", code), now.atOffset(ZoneOffset.UTC))
                .query((row, number) ->
                        new Purpose(new FarmId(row.getString(1)), row.getObject(2) == null ? null : row.getLong(2)))
                .optional();
    }

    /**
     * Uses a code up. Two who come at once with the same code don't both get true.
     *
     * @return whether it could still be used
     */
    boolean use(String code) {
        return jdbc.sql("delete from account_code where code = ?")
                        .param(Seal.of("", code))
                        .update()
                == 1;
    }

    @Override
    public void erase(WorkerId worker, Set<String> phones) {
        jdbc.sql("delete from account_code where account in (select id from account where farm = ? and worker = ?)")
                .params(worker.farm().value(), worker.pseudonym())
                .update();
        jdbc.sql("delete from visit where account in (select id from account where farm = ? and worker = ?)")
                .params(worker.farm().value(), worker.pseudonym())
                .update();
        jdbc.sql("delete from account where farm = ? and worker = ?")
                .params(worker.farm().value(), worker.pseudonym())
                .update();
    }
}
