package duskpeg.projections.signin;

import duskpeg.core.act.Seal;
import duskpeg.core.crew.BesideTheLog;
import duskpeg.core.crew.WorkerId;
import java.security.SecureRandom;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.stream.Stream;
import org.springframework.core.annotation.Order;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * The second factors of accounts: codes of an app, and codes for whoever lost it. Each code works once. An app's secret has
 * to be kept as it is, or no code could be reckoned; of the others only their SHA-256 is.
 */
@Component
@Order(SecondFactors.BEFORE_ACCOUNTS)
class SecondFactors implements BesideTheLog {

    /** Whose they are is found by the accounts, which are erased after them. */
    static final int BEFORE_ACCOUNTS = -1;

    static final int RECOVERY_CODES = 10;

    private static final String OF_WORKER = " where account in (select id from account where farm = ? and worker = ?)";

    private final JdbcClient jdbc;
    private final SecureRandom random = new SecureRandom();

    SecondFactors(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /** Begins one with a new secret; nothing is asked for until a code of it was entered. One that is in use stays. */
    void begin(Account account) {
        jdbc.sql("delete from second_factor where account = ? and confirmed is null")
                .param(account.id())
                .update();
        if (secret(account).isEmpty()) {
            jdbc.sql("insert into second_factor (account, secret, step) values (?, ?, 0)")
                    .params(account.id(), Totp.newSecret(random))
                    .update();
        }
    }

    /** The secret that an app of that account's holder has, in use or only begun. */
    Optional<String> secret(Account account) {
        return jdbc.sql("select secret from second_factor where account = ?")
                .param(account.id())
                .query(String.class)
                .optional();
    }

    /** From now on a code is asked for. Whoever is signed in with the account must sign in anew. */
    void confirm(Account account, Instant now) {
        jdbc.sql("update second_factor set confirmed = ? where account = ?")
                .params(now.atOffset(ZoneOffset.UTC), account.id())
                .update();
        signOut(account);
    }

    /** Takes it away, with its recovery codes. Whoever is signed in with the account must sign in anew. */
    void end(Account account) {
        List.of("recovery_code", "second_factor")
                .forEach(table -> jdbc.sql("delete from " + table + " where account = ?")
                        .param(account.id())
                        .update());
        signOut(account);
    }

    private void signOut(Account account) {
        jdbc.sql("update account set stamp = stamp + 1 where id = ?")
                .param(account.id())
                .update();
    }

    /** New recovery codes in the place of older ones, which are told this once. */
    List<String> newRecoveryCodes(Account account) {
        jdbc.sql("delete from recovery_code where account = ?")
                .param(account.id())
                .update();
        List<String> codes =
                Stream.generate(() -> Code.draw(random)).limit(RECOVERY_CODES).toList();
        codes.forEach(code -> jdbc.sql("insert into recovery_code (code, account) values (?, ?)")
                .params(Seal.of("", code), account.id())
                .update());
        return codes;
    }

    /** How many recovery codes are left. */
    int recoveryCodes(Account account) {
        return jdbc.sql("select count(*) from recovery_code where account = ?")
                .param(account.id())
                .query(Integer.class)
                .single();
    }

    /** Uses up a code of the app. Two who come at once with the same code don't both get true. */
    boolean useAppCode(Account account, String typed, Instant now) {
        OptionalLong step =
                secret(account).map(secret -> Totp.step(secret, typed, now)).orElse(OptionalLong.empty());
        return step.isPresent()
                && jdbc.sql("update second_factor set step = ? where account = ? and step < ?")
                                .params(step.getAsLong(), account.id(), step.getAsLong())
                                .update()
                        == 1;
    }

    /** Uses up a code of either kind. */
    boolean use(Account account, String typed, Instant now) {
        return useAppCode(account, typed, now)
                || jdbc.sql("delete from recovery_code where account = ? and code = ?")
                                .params(account.id(), Seal.of("", Code.typed(typed)))
                                .update()
                        == 1;
    }

    @Override
    public void erase(WorkerId worker, Set<String> phones) {
        List.of("recovery_code", "second_factor", "account_note")
                .forEach(table -> jdbc.sql("delete from " + table + OF_WORKER)
                        .params(worker.farm().value(), worker.pseudonym())
                        .update());
    }
}
