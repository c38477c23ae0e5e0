package duskpeg.projections.signin;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import jakarta.servlet.http.HttpServletRequest;
import java.time.Instant;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * Who may sign in.
 *
 * @param id its number
 * @param farm the farm it is of, and the only one it sees
 * @param worker whose it is; always given for workers and supervisors, never for auditors
 * @param login what its holder signs in with, in lower case
 * @param role what it may do
 * @param hasPassword whether a password was set yet
 * @param made when it was made
 * @param disabled since when nobody can sign in with it; null while it can be used
 * @param second whether it has a second factor
 * @param stamp one more whenever everybody signed in with it must sign in anew
 */
public record Account(
        long id,
        FarmId farm,
        @Nullable WorkerId worker,
        String login,
        AccountRole role,
        boolean hasPassword,
        Instant made,
        @Nullable Instant disabled,
        boolean second,
        int stamp) {

    private static final String ATTRIBUTE = Account.class.getName();

    /** Two to 60 small letters, digits, dots, dashes, underscores and at signs; the first is a letter or a digit. */
    static final String LOGIN = "[a-z0-9][a-z0-9._@-]{1,59}";

    /** Whose request it is; empty in a demo, and for whoever isn't signed in. */
    public static Optional<Account> of(HttpServletRequest request) {
        return Optional.ofNullable((Account) request.getAttribute(ATTRIBUTE));
    }

    /** From here on it is this account's request. */
    void claim(HttpServletRequest request) {
        request.setAttribute(ATTRIBUTE, this);
    }

    /** Under which pseudonym whatever it enters is written down; empty where it can't enter anything. */
    public Optional<String> pseudonym() {
        return Optional.ofNullable(worker).map(WorkerId::pseudonym);
    }
}
