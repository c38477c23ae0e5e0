package duskpeg.messaging.text;

import com.twilio.twiml.MessagingResponse;
import com.twilio.twiml.messaging.Message;
import duskpeg.core.text.Texts;
import jakarta.servlet.http.HttpServletRequest;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RestController;

/**
 * The webhook for messages. It answers every message it may answer with one short text; what goes wrong inside is
 * said to the worker in plain words, never as an error of the server.
 */
@RestController
class TextController {

    private static final Logger LOG = LoggerFactory.getLogger(TextController.class);

    private final CommandGateway commands;
    private final Texts texts;
    private final Reception reception;
    private final Signature signature;
    private final Languages languages;

    TextController(
            CommandGateway commands,
            Texts texts,
            Reception reception,
            Languages languages,
            @Value("${TWILIO_AUTH_TOKEN:}") String token,
            @Value("${duskpeg.public-url:}") String publicUrl) {
        this.commands = commands;
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
        return ResponseEntity.ok().contentType(MediaType.APPLICATION_XML).body(twiml(reply(request)));
    }

    private String reply(HttpServletRequest request) {
        try {
            String sid = parameter(request, "MessageSid");
            String sender = parameter(request, "From");
            String words = parameter(request, "Body");
            if (sender.isEmpty() && words.isEmpty() && sid.isEmpty()) {
                // No form, or one too long to be read: there is no text in it that could be kept.
                return languages.of(Languages.ENGLISH).phrases().say("unread.empty");
            }
            return hear(new HearText(reception.text(sid, sender, words), parameter(request, "OptOutType")));
        } catch (RuntimeException e) {
            LOG.error("A message could not be heard; its sender was asked to send it again", e);
            return languages.of(Languages.ENGLISH).phrases().say("failed");
        }
    }

    private String hear(HearText command) {
        try {
            return commands.sendAndWait(command);
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
