package duskpeg.projections.signin;

import duskpeg.core.crew.People;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.projections.signin.AccountNotes.What;
import duskpeg.projections.signin.SecondController.NoteView;
import duskpeg.projections.signin.SignIn.NotDone;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Clock;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.server.ResponseStatusException;

/** Where an owner makes accounts, disables them, and gives out codes. A code is shown once and sent to nobody. */
@Controller
@ConditionalOnProperty(name = "duskpeg.demo", havingValue = "false")
class AccountsController {

    private final Accounts accounts;
    private final SecondFactors second;
    private final AccountNotes notes;
    private final SignIn signIn;
    private final Index index;
    private final People people;
    private final TransactionTemplate transaction;
    private final Clock clock;

    AccountsController(
            Accounts accounts,
            SecondFactors second,
            AccountNotes notes,
            SignIn signIn,
            Index index,
            People people,
            TransactionTemplate transaction,
            Clock clock) {
        this.accounts = accounts;
        this.second = second;
        this.notes = notes;
        this.signIn = signIn;
        this.index = index;
        this.people = people;
        this.transaction = transaction;
        this.clock = clock;
    }

    /** An account in the list; {@code state} is open, waiting for its password, or disabled. */
    record AccountView(
            long id,
            String login,
            String role,
            @Nullable String worker,
            @Nullable String name,
            OffsetDateTime made,
            boolean second,
            String state) {}

    @GetMapping("/accounts")
    String page(HttpServletRequest request, Model model) {
        return page(owner(request), Map.of(), model);
    }

    private static Account owner(HttpServletRequest request) {
        return Account.of(request).orElseThrow();
    }

    private String page(Account owner, Map<String, String> form, Model model) {
        FarmId farm = owner.farm();
        ZoneId zone = index.settings(farm).zone();
        Map<WorkerId, String> names = people.names(farm);
        model.addAttribute("farm", farm.value());
        model.addAttribute(
                "accounts",
                accounts.all(farm).stream()
                        .map(one -> new AccountView(
                                one.id(),
                                one.login(),
                                one.role().word(),
                                one.pseudonym().orElse(null),
                                one.worker() == null ? null : names.get(one.worker()),
                                one.made().atZone(zone).toOffsetDateTime(),
                                one.second(),
                                one.disabled() != null
                                        ? "disabled"
                                        : one.hasPassword() ? "open" : "waiting for its password"))
                        .toList());
        model.addAttribute("crew", people.all(farm));
        model.addAttribute(
                "roles", Stream.of(AccountRole.values()).map(AccountRole::word).toList());
        model.addAttribute("form", form);
        return "accounts";
    }

    private String refused(
            Account owner, Map<String, String> form, NotDone why, Model model, HttpServletResponse response) {
        response.setStatus(HttpStatus.UNPROCESSABLE_ENTITY.value());
        model.addAttribute("problem", "Nothing was changed: " + why.getMessage() + ".");
        return page(owner, form, model);
    }

    private String withCode(Account owner, Account account, Model model) {
        model.addAttribute("codeFor", account.login());
        model.addAttribute("code", signIn.newCode(owner.farm(), account));
        return page(owner, Map.of(), model);
    }

    /** Makes an account. The answer shows, once, the code by which its holder sets the password. */
    @PostMapping("/accounts")
    String make(
            @RequestParam Map<String, String> form,
            HttpServletRequest request,
            HttpServletResponse response,
            Model model) {
        Account owner = owner(request);
        try {
            String login = SignIn.login(form.getOrDefault("login", ""));
            signIn.requireLogin(login);
            AccountRole role = Stream.of(AccountRole.values())
                    .filter(one -> one.word().equals(form.get("role")))
                    .findFirst()
                    .orElseThrow(() -> new NotDone("choose what it may do"));
            WorkerId worker = worker(owner.farm(), role, form.getOrDefault("worker", ""));
            Account made = accounts.make(
                    owner.farm(), worker, login, role, clock.instant().truncatedTo(ChronoUnit.MILLIS));
            notes.note(made, owner, What.MADE, Address.of(request));
            return withCode(owner, made, model);
        } catch (DuplicateKeyException e) {
            return refused(owner, form, new NotDone("there is an account of that person already"), model, response);
        } catch (NotDone e) {
            return refused(owner, form, e, model, response);
        }
    }

    /** Whose account it is to be: a worker's is anybody's, one that enters something a supervisor's. */
    private @Nullable WorkerId worker(FarmId farm, AccountRole role, String pseudonym) {
        List<WorkerId> those = switch (role) {
            case WORKER -> List.copyOf(index.workers(farm).keySet());
            case SUPERVISOR, OWNER -> index.workers(farm, Role.SUPERVISOR);
            case AUDITOR -> List.of();
        };
        if (pseudonym.isEmpty() && (role == AccountRole.AUDITOR || role == AccountRole.OWNER)) {
            return null;
        }
        return those.stream()
                .filter(one -> one.pseudonym().equals(pseudonym))
                .findFirst()
                .orElseThrow(() -> new NotDone(
                        switch (role) {
                            case WORKER -> "choose whose it is";
                            case SUPERVISOR, OWNER -> "choose the supervisor whose it is";
                            case AUDITOR -> "an auditor is nobody of the crew";
                        }));
    }

    private Account account(Account owner, long id) {
        return accounts.find(id)
                .filter(one -> one.farm().equals(owner.farm()))
                .orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND, "There is no such account."));
    }

    /** Makes a code by which the password is set anew; until then the old one holds. */
    @PostMapping("/accounts/{id}/code")
    String code(@PathVariable long id, HttpServletRequest request, HttpServletResponse response, Model model) {
        Account owner = owner(request);
        Account account = account(owner, id);
        if (account.disabled() != null) {
            return refused(owner, Map.of(), new NotDone("that account is disabled"), model, response);
        }
        notes.note(account, owner, What.CODE_GIVEN, Address.of(request));
        return withCode(owner, account, model);
    }

    @PostMapping("/accounts/{id}/disable")
    String disable(@PathVariable long id, HttpServletRequest request, HttpServletResponse response, Model model) {
        Account owner = owner(request);
        Account account = account(owner, id);
        try {
            transaction.executeWithoutResult(status -> {
                accounts.setDisabled(account, clock.instant().truncatedTo(ChronoUnit.MILLIS));
                if (!accounts.hasOwner(owner.farm())) {
                    throw new NotDone("without another owner nobody could make accounts any more");
                }
                notes.note(account, owner, What.DISABLED, Address.of(request));
            });
        } catch (NotDone e) {
            return refused(owner, Map.of(), e, model, response);
        }
        return "redirect:/accounts";
    }

    @PostMapping("/accounts/{id}/enable")
    String enable(@PathVariable long id, HttpServletRequest request) {
        Account owner = owner(request);
        Account account = account(owner, id);
        transaction.executeWithoutResult(status -> {
            accounts.setDisabled(account, null);
            notes.note(account, owner, What.ENABLED, Address.of(request));
        });
        return "redirect:/accounts";
    }

    /** Takes away the second factor of somebody who lost both the app and the recovery codes. */
    @PostMapping("/accounts/{id}/second")
    String endSecond(@PathVariable long id, HttpServletRequest request) {
        Account owner = owner(request);
        Account account = account(owner, id);
        transaction.executeWithoutResult(status -> {
            second.end(account);
            notes.note(account, owner, What.SECOND_FACTOR_OFF, Address.of(request));
        });
        return "redirect:/accounts";
    }

    /** What was done with the farm's accounts lately. */
    @GetMapping("/accounts/notes")
    String notes(HttpServletRequest request, Model model) {
        FarmId farm = owner(request).farm();
        ZoneId zone = index.settings(farm).zone();
        model.addAttribute(
                "notes",
                notes.all(farm).stream().map(note -> NoteView.of(note, zone)).toList());
        model.addAttribute("days", notes.days());
        return "account-notes";
    }

    /** Says which supervisor an owner is, so that she can enter things. */
    @PostMapping("/accounts/{id}/worker")
    String worker(
            @PathVariable long id,
            @RequestParam(defaultValue = "") String worker,
            HttpServletRequest request,
            HttpServletResponse response,
            Model model) {
        Account owner = owner(request);
        Account account = account(owner, id);
        try {
            if (account.role() != AccountRole.OWNER) {
                throw new NotDone("whose account that is stays as it is");
            }
            accounts.setWorker(account, worker(owner.farm(), account.role(), worker));
            notes.note(account, owner, What.WORKER_SET, Address.of(request));
        } catch (DuplicateKeyException e) {
            return refused(owner, Map.of(), new NotDone("there is an account of that person already"), model, response);
        } catch (NotDone e) {
            return refused(owner, Map.of(), e, model, response);
        }
        return "redirect:/accounts";
    }
}
