package duskpeg.messaging.text;

import com.twilio.twiml.MessagingResponse;
import com.twilio.twiml.messaging.Message;
import duskpeg.core.store.DatabaseGone;
import duskpeg.core.text.Texts;
import duskpeg.core.text.Texts.Text;
import jakarta.servlet.http.HttpServletRequest;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.slf4j.spi.LoggingEventBuilder;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RestController;

/**
 * The webhook for messages. It answers every message it may answer with one short text; what goes wrong inside is
 * said to the worker in plain words, never as an error of the server. Only while the database does not answer it is an
 * error: then the carrier may deliver the message again, and nobody takes it for kept.
 */
@RestController
class TextController {

    private static final Logger LOG = LoggerFactory.getLogger(TextController.class);

    private static final String RETRY_AFTER_SECONDS = "5";

    private final Hearing hearing;
    private final Texts texts;
    private final Reception reception;
    private final Signature signature;
    private final Languages languages;

    TextController(
            Hearing hearing,
            Texts texts,
            Reception reception,
            Languages languages,
            @Value("${TWILIO_AUTH_TOKEN:}") String token,
            @Value("${duskpeg.public-url:}") String publicUrl) {
        this.hearing = hearing;
        this.texts = texts;
        this.reception = reception;
        this.languages = languages;
        this.signature = new Signature(token, publicUrl);
    }

    @PostMapping("/field/text")
    ResponseEntity<String> text(HttpServletRequest request) {
        if (!signature.accepts(request)) {
            return ResponseEntity.status(HttpStatus.FORBIDDEN)
                    .contentType(MediaType.TEXT_PLAIN)
                    .body("This address answers only the carrier it is set up for.");
        }
        String reply;
        try {
            reply = reply(request);
        } catch (RuntimeException | Error e) {
            // An error of the JVM too, of words that go too deep for instance: nobody's text is answered with silence.
            if (DatabaseGone.is(e)) {
                failed(request)
                        .log(
                                "The database does not answer: a message was not kept, and the carrier was told so: {}",
                                e.toString());
                return ResponseEntity.status(HttpStatus.SERVICE_UNAVAILABLE)
                        .header(HttpHeaders.RETRY_AFTER, RETRY_AFTER_SECONDS)
                        .contentType(MediaType.TEXT_PLAIN)
                        .body("The database does not answer: the message was not kept. Deliver it again.");
            }
            failed(request).setCause(e).log("A message could not be heard; its sender was asked to send it again");
            reply = languages.of(Languages.ENGLISH).phrases().say("failed");
        }
        return ResponseEntity.ok().contentType(MediaType.APPLICATION_XML).body(twiml(reply));
    }

    /** What is logged while it is heard has its id by {@link TextDesk}; what is said afterwards has the carrier's. */
    private static LoggingEventBuilder failed(HttpServletRequest request) {
        return LOG.atError().addKeyValue(TextDesk.TEXT, parameter(request, "MessageSid"));
    }

    private String reply(HttpServletRequest request) {
        String sid = parameter(request, "MessageSid");
        String sender = parameter(request, "From");
        String words = parameter(request, "Body");
        if (sender.isEmpty() && words.isEmpty() && sid.isEmpty()) {
            // No form, or one too long to be read: there is no text in it that could be kept.
            return languages.of(Languages.ENGLISH).phrases().say("unread.empty");
        }
        Text text = reception.text(sid, sender, parameter(request, "To"), words);
        return hear(new HearText(text, parameter(request, "OptOutType")));
    }

    private String hear(HearText command) {
        try {
            return hearing.hear(command);
        } catch (AlreadyHeard e) {
            return texts.reply(command.text().id()).orElseThrow();
        }
    }

    private static String parameter(HttpServletRequest request, String name) {
        @Nullable String value = request.getParameter(name);
        return value == null ? "" : value;
    }

    private static String twiml(String reply) {
        MessagingResponse.Builder response = new MessagingResponse.Builder();
        if (!reply.isEmpty()) {
            response.message(new Message.Builder(reply).build());
        }
        return response.build().toXml();
    }
}
