package duskpeg.projections.signin;

import duskpeg.projections.signin.AccountNotes.What;
import duskpeg.projections.signin.SignIn.NotDone;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Clock;
import java.util.function.Supplier;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The pages on which people sign in and set passwords. */
@Controller
@ConditionalOnProperty(name = "duskpeg.demo", havingValue = "false")
class SignInController {

    private final SignIn signIn;
    private final Visits visits;
    private final AccountNotes notes;
    private final Clock clock;

    SignInController(SignIn signIn, Visits visits, AccountNotes notes, Clock clock) {
        this.signIn = signIn;
        this.visits = visits;
        this.notes = notes;
        this.clock = clock;
    }

    @GetMapping("/signin")
    String page(@RequestParam(defaultValue = "") String to, Model model) {
        model.addAttribute("to", within(to));
        return "signin";
    }

    /** An address of this server's own; any other is led back to the start. */
    static String within(String to) {
        return to.matches("/([^/\\\\\\p{Cntrl}][^\\\\\\p{Cntrl}]*)?") ? to : "/";
    }

    @PostMapping("/signin")
    String signIn(
            @RequestParam(defaultValue = "") String login,
            @RequestParam(defaultValue = "") String password,
            @RequestParam(defaultValue = "") String code,
            @RequestParam(defaultValue = "") String to,
            HttpServletRequest request,
            HttpServletResponse response,
            Model model) {
        model.addAttribute("to", within(to));
        return answer(
                "signin",
                request,
                response,
                model,
                within(to),
                () -> signIn.account(login, password, code, Address.of(request))
                        .orElseThrow(() -> new NotDone(
                                "login and password don't belong together, or the code is missing or was used")));
    }

    @PostMapping("/signout")
    String signOut(HttpServletRequest request, HttpServletResponse response) {
        Account.of(request).ifPresent(account -> notes.note(account, What.SIGNED_OUT, Address.of(request)));
        visits.end(request, response);
        return "redirect:/signin";
    }

    @GetMapping("/first")
    String first() {
        return "first";
    }

    @PostMapping("/first")
    String first(
            @RequestParam(defaultValue = "") String code,
            @RequestParam(defaultValue = "") String login,
            @RequestParam(defaultValue = "") String password,
            HttpServletRequest request,
            HttpServletResponse response,
            Model model) {
        return answer(
                "first",
                request,
                response,
                model,
                "/accounts",
                () -> signIn.first(code, login, password, Address.of(request)));
    }

    @GetMapping("/password")
    String password(HttpServletRequest request, Model model) {
        model.addAttribute("known", Account.of(request).isPresent());
        return "password";
    }

    /** Sets a password: by a code, or by the old one for whoever is signed in. */
    @PostMapping("/password")
    String password(
            @RequestParam(defaultValue = "") String code,
            @RequestParam(defaultValue = "") String old,
            @RequestParam(defaultValue = "") String password,
            HttpServletRequest request,
            HttpServletResponse response,
            Model model) {
        model.addAttribute("known", Account.of(request).isPresent());
        String address = Address.of(request);
        return answer(
                "password",
                request,
                response,
                model,
                "/",
                () -> Account.of(request)
                        .map(account -> signIn.change(account, old, password, address))
                        .orElseGet(() -> signIn.set(code, password, address)));
    }

    /** Begins a session and leads on, or shows the page again. */
    private String answer(
            String page,
            HttpServletRequest request,
            HttpServletResponse response,
            Model model,
            String to,
            Supplier<Account> doing) {
        return Trying.to(doing, response, model)
                .map(account -> {
                    visits.begin(request, response, account, clock.instant());
                    return "redirect:" + to;
                })
                .orElse(page);
    }
}
