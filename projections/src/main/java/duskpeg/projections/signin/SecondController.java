package duskpeg.projections.signin;

import duskpeg.core.fieldbook.Index;
import duskpeg.projections.Qr;
import duskpeg.projections.signin.AccountNotes.Note;
import duskpeg.projections.signin.AccountNotes.What;
import duskpeg.projections.signin.SignIn.NotDone;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Clock;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.stereotype.Controller;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Where whoever is signed in sets up a second factor and sees what was done with her account; and the page that asks once more. */
@Controller
@ConditionalOnProperty(name = "duskpeg.demo", havingValue = "false")
class SecondController {

    private static final int LATELY = 20;

    private final SignIn signIn;
    private final SecondFactors second;
    private final AccountNotes notes;
    private final Accounts accounts;
    private final Index index;
    private final TransactionTemplate transaction;
    private final Visits visits;
    private final Clock clock;

    SecondController(
            SignIn signIn,
            SecondFactors second,
            AccountNotes notes,
            Accounts accounts,
            Index index,
            TransactionTemplate transaction,
            Visits visits,
            Clock clock) {
        this.signIn = signIn;
        this.second = second;
        this.notes = notes;
        this.accounts = accounts;
        this.index = index;
        this.transaction = transaction;
        this.visits = visits;
        this.clock = clock;
    }

    /** A note as a page shows it, in the farm's zone. */
    record NoteView(@Nullable String login, @Nullable String by, OffsetDateTime at, String network, String what) {

        static NoteView of(Note note, ZoneId zone) {
            return new NoteView(
                    note.login(), note.by(), note.at().atZone(zone).toOffsetDateTime(), note.network(), note.what());
        }
    }

    private static Account account(HttpServletRequest request) {
        return Account.of(request).orElseThrow();
    }

    @GetMapping("/second")
    String page(HttpServletRequest request, Model model) {
        return page(account(request), model);
    }

    private String page(Account account, Model model) {
        ZoneId zone = index.settings(account.farm()).zone();
        model.addAttribute("login", account.login());
        model.addAttribute("on", account.second());
        if (!account.second()) {
            second.secret(account).ifPresent(secret -> {
                model.addAttribute("secret", secret.replaceAll("(.{4})(?!$)", "$1 "));
                model.addAttribute(
                        "qr", Qr.of(Totp.address(secret, account.farm().value(), account.login())));
            });
        }
        model.addAttribute("left", second.recoveryCodes(account));
        model.addAttribute(
                "notes",
                notes.of(account, LATELY).stream()
                        .map(note -> NoteView.of(note, zone))
                        .toList());
        return "second";
    }

    /** Draws a secret and shows it; nothing is asked for until a code of it was entered. */
    @PostMapping("/second/begin")
    String begin(HttpServletRequest request) {
        transaction.executeWithoutResult(status -> second.begin(account(request)));
        return "redirect:/second";
    }

    /** From here on a code is asked for. The answer shows, once, the recovery codes. */
    @PostMapping("/second/confirm")
    String confirm(
            @RequestParam(defaultValue = "") String code,
            HttpServletRequest request,
            HttpServletResponse response,
            Model model) {
        Account account = account(request);
        return answer(account, response, model, () -> {
            model.addAttribute("codes", signIn.confirmSecond(account, code, Address.of(request)));
            return again(account, request, response);
        });
    }

    /** New recovery codes in the place of the old ones. */
    @PostMapping("/second/codes")
    String codes(HttpServletRequest request, HttpServletResponse response, Model model) {
        Account account = account(request);
        return answer(account, response, model, () -> {
            if (!account.second()) {
                throw new NotDone("there is no second factor yet");
            }
            model.addAttribute("codes", transaction.execute(status -> second.newRecoveryCodes(account)));
            notes.note(account, What.RECOVERY_CODES_MADE, Address.of(request));
            return account;
        });
    }

    /** No code is asked for any more. */
    @PostMapping("/second/end")
    String end(
            @RequestParam(defaultValue = "") String code,
            HttpServletRequest request,
            HttpServletResponse response,
            Model model) {
        Account account = account(request);
        return answer(account, response, model, () -> {
            signIn.endSecond(account, code, Address.of(request));
            return again(account, request, response);
        });
    }

    /** Everybody else who is signed in with it is signed out; she who did it goes on. */
    private Account again(Account account, HttpServletRequest request, HttpServletResponse response) {
        Account changed = accounts.find(account.id()).orElseThrow();
        visits.begin(request, response, changed, clock.instant());
        return changed;
    }

    /**
     * Shows the page with what was done, or with why it was not.
     *
     * @param doing gives the account as it is afterwards
     */
    private String answer(Account account, HttpServletResponse response, Model model, Supplier<Account> doing) {
        return page(Trying.to(doing, response, model).orElse(account), model);
    }

    /** The page that asks for the password once more; {@link Proof} leads here, and nothing else does. */
    @PostMapping(Proof.PAGE)
    String ask(HttpServletRequest request, Model model) {
        Proof.Asked asked = Proof.asked(request);
        if (asked == null) {
            return "redirect:/";
        }
        model.addAttribute("asked", asked);
        return "confirm";
    }
}
