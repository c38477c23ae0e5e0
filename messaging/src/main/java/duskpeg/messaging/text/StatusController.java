package duskpeg.messaging.text;

import duskpeg.core.store.DatabaseGone;
import duskpeg.core.text.Outgoing;
import duskpeg.core.text.Outgoing.State;
import duskpeg.core.text.OutgoingTexts;
import duskpeg.messaging.carrier.CarrierStatus;
import duskpeg.messaging.carrier.TwilioCarrier;
import jakarta.servlet.http.HttpServletRequest;
import java.time.Clock;
import java.util.Optional;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.http.HttpStatus;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RestController;

/**
 * Where the carrier tells how a text that went out stands. It may tell twice, late and in another order; a text only
 * ever moves forwards.
 */
@RestController
class StatusController {

    private static final Logger LOG = LoggerFactory.getLogger(StatusController.class);
    private static final int LONGEST_WORD = 64;

    private final OutgoingTexts texts;
    private final Clock clock;
    private final Signature signature;

    StatusController(
            OutgoingTexts texts,
            Clock clock,
            @Value("${TWILIO_AUTH_TOKEN:}") String token,
            @Value("${duskpeg.public-url:}") String publicUrl) {
        this.texts = texts;
        this.clock = clock;
        this.signature = new Signature(token, publicUrl);
    }

    @PostMapping(TwilioCarrier.STATUS_PATH)
    ResponseEntity<Void> status(HttpServletRequest request) {
        if (!signature.accepts(request)) {
            return ResponseEntity.status(HttpStatus.FORBIDDEN).build();
        }
        try {
            note(request);
        } catch (RuntimeException e) {
            LOG.error("What the carrier said of a text could not be noted", e);
            if (DatabaseGone.is(e)) {
                return ResponseEntity.status(HttpStatus.SERVICE_UNAVAILABLE).build();
            }
        }
        return ResponseEntity.ok().build();
    }

    private void note(HttpServletRequest request) {
        String sid = parameter(request, "MessageSid");
        String status = parameter(request, "MessageStatus");
        Optional<Outgoing> text = texts.withSid(sid).or(() -> identified(request, sid));
        Optional<State> state = CarrierStatus.of(status);
        if (text.isEmpty() || state.isEmpty()) {
            LOG.info(
                    "The carrier says {} of a text that is not known here, {}",
                    Incoming.keepable(status, LONGEST_WORD),
                    Incoming.keepable(sid, LONGEST_WORD));
            return;
        }
        Integer error = number(request, "ErrorCode").map(Long::intValue).orElse(null);
        texts.settle(text.get(), state.get(), error, clock.instant());
    }

    /** The text that the callback's address names: the carrier took it, and the answer that said so never came. */
    private Optional<Outgoing> identified(HttpServletRequest request, String sid) {
        Optional<Long> id = number(request, "text");
        Optional<Long> attempt = number(request, "try");
        String recipient = Incoming.phone(parameter(request, "To"));
        return sid.matches("[A-Za-z0-9]{1,64}")
                        && id.isPresent()
                        && attempt.isPresent()
                        && texts.identify(id.get(), attempt.get().intValue(), recipient, sid)
                ? texts.withSid(sid)
                : Optional.empty();
    }

    private static Optional<Long> number(HttpServletRequest request, String name) {
        return Optional.of(parameter(request, name))
                .filter(value -> value.matches("[0-9]{1,9}"))
                .map(Long::valueOf);
    }

    private static String parameter(HttpServletRequest request, String name) {
        return Optional.ofNullable(request.getParameter(name)).orElse("");
    }
}
