package duskpeg.projections.signin;

import duskpeg.core.farm.FarmId;
import duskpeg.projections.signin.AccountNotes.What;
import duskpeg.projections.signin.Accounts.Purpose;
import java.security.SecureRandom;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Signing in, and setting passwords. Whether a login exists, is disabled or has another password is answered alike and
 * takes alike long. Nothing here is logged; that somebody signed in, or failed to, is noted.
 */
@Component
class SignIn {

    private static final int FREE_FOR_LOGIN = 5;
    private static final int FREE_FOR_ADDRESS = 20;
    private static final Duration LONGEST_PAUSE = Duration.ofMinutes(5);
    /** So many seconds a person waits until others' passwords are hashed. */
    private static final int PATIENCE = 5;

    private final Accounts accounts;
    private final SecondFactors second;
    private final AccountNotes notes;
    private final TransactionTemplate transaction;
    private final Clock clock;
    private final SecureRandom random;
    private final Passwords passwords = new Passwords();
    private final Attempts byLogin = new Attempts(FREE_FOR_LOGIN, LONGEST_PAUSE);
    private final Attempts byAddress = new Attempts(FREE_FOR_ADDRESS, LONGEST_PAUSE);

    /** Hashing is made to be slow: one at a time, so that who tries passwords takes no more than one core from reports. */
    private final Semaphore hashing = new Semaphore(1, true);

    @Autowired
    SignIn(Accounts accounts, SecondFactors second, AccountNotes notes, TransactionTemplate transaction, Clock clock) {
        this(accounts, second, notes, transaction, clock, new SecureRandom());
    }

    SignIn(
            Accounts accounts,
            SecondFactors second,
            AccountNotes notes,
            TransactionTemplate transaction,
            Clock clock,
            SecureRandom random) {
        this.accounts = accounts;
        this.second = second;
        this.notes = notes;
        this.transaction = transaction;
        this.clock = clock;
        this.random = random;
    }

    /** It was tried too often; nothing was looked at. */
    static final class TooOften extends RuntimeException {

        private static final long serialVersionUID = 1L;

        private final Duration pause;

        TooOften(Duration pause) {
            super("tried too often", null, false, false);
            this.pause = pause;
        }

        /** How long to wait, in whole seconds, at least 1. */
        long seconds() {
            return Math.max(1, pause.plusMillis(999).toSeconds());
        }
    }

    /** What was asked can't be done; the message says it in plain words. */
    static final class NotDone extends RuntimeException {

        private static final long serialVersionUID = 1L;

        NotDone(String message) {
            super(message, null, false, false);
        }
    }

    /** A login as it is kept. */
    static String login(String typed) {
        return typed.strip().toLowerCase(Locale.ROOT);
    }

    /**
     * Signs in.
     *
     * @param code of the second factor, or a recovery code; looked at only where the account has one
     * @return empty if login, password and code don't belong together, whatever is wrong with them
     * @throws TooOften if that login, or anybody at that address, failed too often just now
     */
    Optional<Account> account(String typed, String password, String code, String address) {
        return account(typed, password, code, address, What.SIGNED_IN, What.NOT_LET_IN);
    }

    /**
     * Whether it is still her who signed in; asked before what can't be undone.
     *
     * @throws TooOften as above
     */
    boolean confirms(Account account, String password, String code, String address) {
        return account(account.login(), password, code, address, What.CONFIRMED, What.NOT_CONFIRMED)
                .isPresent();
    }

    private Optional<Account> account(
            String typed, String password, String code, String address, What done, What failed) {
        Optional<Account> account = knows(typed, password, address, Optional.of(code));
        account.ifPresentOrElse(
                one -> notes.note(one, done, address),
                () -> notes.note(accounts.withLogin(login(typed)).orElse(null), failed, address));
        return account;
    }

    /**
     * The account of that login and password; empty if they are not, whatever is wrong with them.
     *
     * @param code of the second factor; empty where none is asked for
     * @throws TooOften if that login, or anybody at that address, failed too often just now
     */
    private Optional<Account> knows(String typed, String password, String address, Optional<String> code) {
        String login = login(typed);
        return tried("login " + login, address, () -> {
            Optional<Account> account = Optional.of(login)
                    .filter(one -> one.matches(Account.LOGIN))
                    .flatMap(accounts::withLogin)
                    .filter(one -> one.disabled() == null);
            Optional<String> hash = account.flatMap(accounts::password);
            if (!slowly(() -> passwords.matches(password, hash))) {
                return Optional.empty();
            }
            if (code.isPresent() && !hasSecond(account.orElseThrow(), code.get(), address)) {
                return Optional.empty();
            }
            hash.filter(passwords::isOld)
                    .ifPresent(old -> accounts.rehash(account.orElseThrow(), slowly(() -> passwords.hash(password))));
            return account;
        });
    }

    private boolean hasSecond(Account account, String code, String address) {
        if (!account.second() || second.useAppCode(account, code, clock.instant())) {
            return true;
        }
        boolean recovered = second.use(account, code, clock.instant());
        if (recovered) {
            notes.note(account, What.RECOVERY_CODE_USED, address);
        }
        return recovered;
    }

    /** Tries something that can be guessed at. */
    private <T> Optional<T> tried(String what, String address, Supplier<Optional<T>> trying) {
        Instant now = clock.instant();
        Duration pause = byLogin.pause(what, now);
        Duration there = byAddress.pause(address, now);
        if (!pause.isZero() || !there.isZero()) {
            throw new TooOften(pause.compareTo(there) > 0 ? pause : there);
        }
        Optional<T> found = trying.get();
        if (found.isEmpty()) {
            byLogin.failed(what, now);
            byAddress.failed(address, now);
        } else {
            // Not the address: whoever has one account there could try others for ever.
            byLogin.succeeded(what);
        }
        return found;
    }

    private <T> T slowly(Supplier<T> hash) {
        try {
            if (!hashing.tryAcquire(PATIENCE, TimeUnit.SECONDS)) {
                throw new TooOften(Duration.ofSeconds(PATIENCE));
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new TooOften(Duration.ofSeconds(PATIENCE));
        }
        try {
            return hash.get();
        } finally {
            hashing.release();
        }
    }

    private Instant now() {
        return clock.instant().truncatedTo(ChronoUnit.MILLIS);
    }

    /**
     * A new code, which is told this once.
     *
     * @param account whose password it sets; null for the farm's first owner
     */
    String newCode(FarmId farm, @Nullable Account account) {
        String code = Code.draw(random);
        transaction.executeWithoutResult(status -> accounts.keepCode(code, farm, account, now()));
        return code;
    }

    private Purpose purpose(String code, String address) {
        return tried("codes " + address, address, () -> accounts.purpose(code, clock.instant()))
                .orElseThrow(() -> new NotDone("this code is none, was used, or is older than a day"));
    }

    private String hash(String password, String login) {
        Passwords.refusal(password, login).ifPresent(why -> {
            throw new NotDone(why);
        });
        return slowly(() -> passwords.hash(password));
    }

    /**
     * Makes a farm's first owner by the code that the server printed.
     *
     * @throws NotDone if the code or the login or the password can't be taken; the code can then be used again
     * @throws TooOften if that address failed too often just now
     */
    Account first(String typedCode, String typedLogin, String password, String address) {
        String code = Code.typed(typedCode);
        String login = login(typedLogin);
        Purpose purpose = purpose(code, address);
        if (purpose.account() != null) {
            throw new NotDone("this code sets a password; the server printed another");
        }
        requireLogin(login);
        String hash = hash(password, login);
        return done(code, () -> {
            if (accounts.hasOwner(purpose.farm())) {
                throw new NotDone("this farm has an owner already");
            }
            Account owner = accounts.make(purpose.farm(), null, login, AccountRole.OWNER, now());
            accounts.setPassword(owner, hash);
            notes.note(owner, What.MADE, address);
            return accounts.find(owner.id()).orElseThrow();
        });
    }

    /**
     * @throws NotDone if that can't be a login, or is somebody's
     */
    void requireLogin(String login) {
        if (!login.matches(Account.LOGIN)) {
            throw new NotDone("a login has 2 to 60 letters from a to z, digits, dots, dashes or at signs");
        }
        if (accounts.withLogin(login).isPresent()) {
            throw new NotDone("that login is taken");
        }
    }

    /**
     * Sets the password of an account by a code.
     *
     * @throws NotDone if the code or the password can't be taken; the code can then be used again
     * @throws TooOften if that address failed too often just now
     */
    Account set(String typedCode, String password, String address) {
        String code = Code.typed(typedCode);
        Purpose purpose = purpose(code, address);
        Account account = Optional.ofNullable(purpose.account())
                .flatMap(accounts::find)
                .filter(one -> one.disabled() == null)
                .orElseThrow(() -> new NotDone("this code makes a farm's first account"));
        String hash = hash(password, account.login());
        return done(code, () -> {
            accounts.setPassword(account, hash);
            byLogin.succeeded("login " + account.login());
            notes.note(account, What.PASSWORD_SET, address);
            return accounts.find(account.id()).orElseThrow();
        });
    }

    private Account done(String code, Supplier<Account> doing) {
        return transaction.execute(status -> {
            if (!accounts.use(code)) {
                throw new NotDone("this code was just used");
            }
            return doing.get();
        });
    }

    /**
     * Sets another password, by the old one.
     *
     * @throws NotDone if the old one is wrong, or the new one can't be taken
     * @throws TooOften if that account failed too often just now
     */
    Account change(Account account, String old, String password, String address) {
        if (knows(account.login(), old, address, Optional.empty()).isEmpty()) {
            notes.note(account, What.NOT_CONFIRMED, address);
            throw new NotDone("the password until now is another");
        }
        String hash = hash(password, account.login());
        accounts.setPassword(account, hash);
        notes.note(account, What.PASSWORD_SET, address);
        return accounts.find(account.id()).orElseThrow();
    }

    /**
     * Has a second factor asked for from now on.
     *
     * @param code what the app shows
     * @return the recovery codes, which are told this once
     * @throws NotDone if the code is not of the secret that was begun with
     * @throws TooOften if that account failed too often just now
     */
    List<String> confirmSecond(Account account, String code, String address) {
        if (account.second()) {
            throw new NotDone("a second factor is in use already");
        }
        Instant now = clock.instant();
        Optional<String> right = tried(
                "second " + account.id(),
                address,
                () -> Optional.of(code).filter(typed -> second.useAppCode(account, typed, now)));
        if (right.isEmpty()) {
            throw new NotDone("this is not what the app shows now; are its and the server's clock right?");
        }
        return Objects.requireNonNull(transaction.execute(status -> {
            second.confirm(account, now);
            notes.note(account, What.SECOND_FACTOR_ON, address);
            return second.newRecoveryCodes(account);
        }));
    }

    /**
     * Takes the second factor of one's own away.
     *
     * @throws NotDone if the code is none
     * @throws TooOften if that account failed too often just now
     */
    void endSecond(Account account, String code, String address) {
        Optional<String> right = tried(
                "second " + account.id(),
                address,
                () -> Optional.of(code).filter(typed -> second.use(account, typed, clock.instant())));
        if (right.isEmpty()) {
            throw new NotDone("this code is none, or was used");
        }
        transaction.executeWithoutResult(status -> {
            second.end(account);
            notes.note(account, What.SECOND_FACTOR_OFF, address);
        });
    }
}
