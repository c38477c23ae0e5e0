package duskpeg.server;

import jakarta.servlet.RequestDispatcher;
import jakarta.servlet.http.HttpServletRequest;
import java.net.URI;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.boot.web.server.ErrorPage;
import org.springframework.boot.web.server.ErrorPageRegistrar;
import org.springframework.boot.web.server.ErrorPageRegistry;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ProblemDetail;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.MissingServletRequestParameterException;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.method.annotation.MethodArgumentTypeMismatchException;
import org.springframework.web.servlet.DispatcherServlet;
import org.springframework.web.servlet.ModelAndView;

/** What is shown when a request fails: problem details (RFC 9457) to machines, a page to people. */
@Controller
class Errors implements ErrorPageRegistrar {

    private static final String PATH = "/error";

    @Override
    public void registerErrorPages(ErrorPageRegistry registry) {
        registry.addErrorPages(new ErrorPage(PATH));
    }

    @RequestMapping(PATH)
    Object error(HttpServletRequest request) {
        HttpStatus status = Optional.ofNullable(request.getAttribute(RequestDispatcher.ERROR_STATUS_CODE))
                .map(code -> HttpStatus.resolve((Integer) code))
                .orElse(HttpStatus.NOT_FOUND);
        String path = String.valueOf(request.getAttribute(RequestDispatcher.ERROR_REQUEST_URI));
        if (!path.startsWith("/api/") && !path.endsWith(".json")) {
            return new ModelAndView(
                    "error",
                    Map.of("status", status.value(), "unread", unread(request).orElse("")),
                    status);
        }
        String message = String.valueOf(request.getAttribute(RequestDispatcher.ERROR_MESSAGE));
        ProblemDetail problem = ProblemDetail.forStatusAndDetail(
                status,
                message.isEmpty() || message.equals("null")
                        ? unread(request).orElse(status.getReasonPhrase())
                        : message);
        problem.setInstance(URI.create(path));
        return ResponseEntity.status(status)
                .contentType(MediaType.APPLICATION_PROBLEM_JSON)
                .body(problem);
    }

    /** What of the address or the form could not be read, and how it is written. */
    private static Optional<String> unread(HttpServletRequest request) {
        Object failure = request.getAttribute(DispatcherServlet.EXCEPTION_ATTRIBUTE);
        if (failure instanceof MethodArgumentTypeMismatchException wrong) {
            return Optional.of(wrong.getName() + " is " + written(wrong.getRequiredType()) + ".");
        }
        if (failure instanceof MissingServletRequestParameterException missing) {
            return Optional.of(missing.getParameterName() + " is missing.");
        }
        return Optional.empty();
    }

    private static String written(@Nullable Class<?> type) {
        if (type == LocalDate.class) {
            return "a day, written like 2026-01-15";
        }
        if (type == OffsetDateTime.class) {
            return "a time, written like 2026-01-15T07:30:00+02:00";
        }
        if (type == boolean.class || type == Boolean.class) {
            return "true or false";
        }
        return type != null && (type.isPrimitive() || Number.class.isAssignableFrom(type))
                ? "a whole number"
                : "written in another way";
    }
}
