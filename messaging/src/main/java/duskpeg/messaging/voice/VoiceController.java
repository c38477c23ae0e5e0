package duskpeg.messaging.voice;

import duskpeg.messaging.text.Signature;
import jakarta.servlet.http.HttpServletRequest;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RestController;

/** The webhook for calls. It is asked at the start of a call and after every time keys were waited for. */
@RestController
class VoiceController {

    static final String PATH = "/field/voice";

    private static final Logger LOG = LoggerFactory.getLogger(VoiceController.class);
    private static final Set<String> OVER = Set.of("completed", "busy", "failed", "no-answer", "canceled");

    private final CallDesk desk;
    private final Signature signature;
    private final CallXml xml;

    VoiceController(
            CallDesk desk,
            @Value("${TWILIO_AUTH_TOKEN:}") String token,
            @Value("${duskpeg.public-url:}") String publicUrl) {
        this.desk = desk;
        this.signature = new Signature(token, publicUrl);
        this.xml = new CallXml(publicUrl);
    }

    @PostMapping(PATH)
    ResponseEntity<String> call(HttpServletRequest request) {
        if (!signature.accepts(request)) {
            return ResponseEntity.status(HttpStatus.FORBIDDEN)
                    .contentType(MediaType.TEXT_PLAIN)
                    .body("This address answers only the carrier it is set up for.");
        }
        return ResponseEntity.ok().contentType(MediaType.APPLICATION_XML).body(xml.write(turn(request)));
    }

    private Turn turn(HttpServletRequest request) {
        Step step = Step.of(parameter(request, "step"), parameter(request, "report"), parameter(request, "tries"));
        try {
            return desk.next(
                    callOf(request),
                    step,
                    new Keys(
                            parameter(request, "Digits"),
                            !parameter(request, "FinishedOnKey").isEmpty()));
        } catch (RuntimeException e) {
            LOG.error("A call could not be led on; the caller was asked to do the same again", e);
            return desk.failed(step);
        }
    }

    /** Of a call that this server placed the worker's number is the one that was called. */
    private static Call callOf(HttpServletRequest request) {
        boolean incoming = !parameter(request, "Direction").startsWith("outbound");
        return new Call(
                parameter(request, "CallSid"),
                parameter(request, incoming ? "From" : "To"),
                parameter(request, incoming ? "To" : "From"),
                incoming,
                OVER.contains(parameter(request, "CallStatus")));
    }

    private static String parameter(HttpServletRequest request, String name) {
        @Nullable String value = request.getParameter(name);
        return value == null ? "" : value;
    }
}
