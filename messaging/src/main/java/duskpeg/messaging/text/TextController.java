package duskpeg.messaging.text;

import com.twilio.twiml.MessagingResponse;
import com.twilio.twiml.messaging.Message;
import duskpeg.core.crew.People;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.text.Texts;
import duskpeg.core.text.Texts.Text;
import jakarta.servlet.http.HttpServletRequest;
import java.security.SecureRandom;
import java.time.Clock;
import java.util.HexFormat;
import java.util.List;
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
    private static final int SALT_BYTES = 16;

    private final CommandGateway commands;
    private final Texts texts;
    private final People people;
    private final Index index;
    private final Clock clock;
    private final SecureRandom random = new SecureRandom();
    private final Signature signature;
    private final Languages languages;

    TextController(
            CommandGateway commands,
            Texts texts,
            People people,
            Index index,
            Clock clock,
            Languages languages,
            @Value("${TWILIO_AUTH_TOKEN:}") String token,
            @Value("${duskpeg.public-url:}") String publicUrl) {
        this.commands = commands;
        this.texts = texts;
        this.people = people;
        this.index = index;
        this.clock = clock;
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
            String sender = parameter(request, "From");
            String words = parameter(request, "Body");
            if (sender.isEmpty() && words.isEmpty() && parameter(request, "MessageSid").isEmpty()) {
                // No form, or one too long to be read: there is no text in it that could be kept.
                return languages.of(Languages.ENGLISH).phrases().say("unread.empty");
            }
            Text text = Incoming.text(
                    farm(Incoming.phone(sender)),
                    sid(request),
                    sender,
                    words,
                    hex(SALT_BYTES),
                    clock.instant());
            return hear(new HearText(text, parameter(request, "OptOutType")));
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

    /** The farm on whose crew list the sender is; a stranger's message is kept by the first farm. */
    private FarmId farm(String sender) {
        List<FarmId> farms = people.farmsOf(sender);
        return (farms.isEmpty() ? index.farms() : farms).get(0);
    }

    private String sid(HttpServletRequest request) {
        String sid = parameter(request, "MessageSid");
        return sid.isEmpty() ? "n-" + hex(SALT_BYTES) : sid;
    }

    private String hex(int bytes) {
        byte[] value = new byte[bytes];
        random.nextBytes(value);
        return HexFormat.of().formatHex(value);
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
