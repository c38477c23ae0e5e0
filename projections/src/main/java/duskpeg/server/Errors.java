package duskpeg.server;

import jakarta.servlet.RequestDispatcher;
import jakarta.servlet.http.HttpServletRequest;
import java.net.URI;
import java.util.Map;
import java.util.Optional;
import org.springframework.boot.web.server.ErrorPage;
import org.springframework.boot.web.server.ErrorPageRegistrar;
import org.springframework.boot.web.server.ErrorPageRegistry;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ProblemDetail;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.RequestMapping;
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
            return new ModelAndView("error", Map.of("status", status.value()), status);
        }
        String message = String.valueOf(request.getAttribute(RequestDispatcher.ERROR_MESSAGE));
        ProblemDetail problem = ProblemDetail.forStatusAndDetail(
                status, message.isEmpty() || message.equals("null") ? status.getReasonPhrase() : message);
        problem.setInstance(URI.create(path));
        return ResponseEntity.status(status)
                .contentType(MediaType.APPLICATION_PROBLEM_JSON)
                .body(problem);
    }
}
