package duskpeg.projections.signin;

import duskpeg.projections.signin.SignIn.NotDone;
import duskpeg.projections.signin.SignIn.TooOften;
import jakarta.servlet.http.HttpServletResponse;
import java.util.Optional;
import java.util.function.Supplier;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.ui.Model;

/** What a page does with a form that may be refused. */
final class Trying {

    private Trying() {}

    /**
     * Does what the form asks for. Where that is refused the page says why, and never what was typed.
     *
     * @return what the doing gave; empty where it was refused
     */
    static <T> Optional<T> to(Supplier<T> doing, HttpServletResponse response, Model model) {
        try {
            return Optional.of(doing.get());
        } catch (TooOften e) {
            response.setStatus(HttpStatus.TOO_MANY_REQUESTS.value());
            response.setHeader(HttpHeaders.RETRY_AFTER, String.valueOf(e.seconds()));
            model.addAttribute("problem", "That was tried too often. Wait " + e.seconds() + " s.");
        } catch (NotDone e) {
            response.setStatus(HttpStatus.UNPROCESSABLE_ENTITY.value());
            model.addAttribute("problem", "That was not done: " + e.getMessage() + ".");
        }
        return Optional.empty();
    }
}
