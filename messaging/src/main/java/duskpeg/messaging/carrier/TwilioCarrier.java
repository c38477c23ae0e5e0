package duskpeg.messaging.carrier;

import com.twilio.exception.ApiException;
import com.twilio.http.TwilioRestClient;
import com.twilio.rest.api.v2010.account.Message;
import com.twilio.rest.api.v2010.account.MessageCreator;
import com.twilio.type.PhoneNumber;
import duskpeg.core.farm.FarmId;
import duskpeg.core.text.Outgoing;
import duskpeg.core.text.Outgoing.State;
import java.net.ConnectException;
import java.net.NoRouteToHostException;
import java.net.URI;
import java.net.UnknownHostException;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.stream.StreamSupport;
import javax.net.ssl.SSLHandshakeException;
import org.apache.hc.client5.http.ConnectTimeoutException;
import org.apache.hc.core5.http.ConnectionRequestTimeoutException;
import org.jspecify.annotations.Nullable;

/** Texts by the carrier's API. */
public final class TwilioCarrier implements Carrier {

    /** Where the carrier tells how a text stands; {@code text} and {@code try} name the text and the attempt. */
    public static final String STATUS_PATH = "/field/status";

    private static final int REQUEST_TIMEOUT = 408;
    private static final int TOO_MANY_REQUESTS = 429;
    private static final int SERVER_ERRORS = 500;
    private static final long PAGE = 50;

    private final Supplier<TwilioRestClient> client;
    private final Function<FarmId, String> numbers;
    private final String publicUrl;

    /**
     * @param client made when it is first needed
     * @param numbers the number of each farm, in E.164 form
     * @param publicUrl the address of this server that the carrier calls; empty where it can't, and then whether a text
     *     was delivered is never known
     */
    public TwilioCarrier(Supplier<TwilioRestClient> client, Function<FarmId, String> numbers, String publicUrl) {
        this.client = client;
        this.numbers = numbers;
        this.publicUrl = publicUrl;
    }

    @Override
    public Answer send(Outgoing text) {
        try {
            return taken(creator(text).create(client.get()));
        } catch (NotTaken e) {
            return notTaken(e);
        } catch (ApiException e) {
            return neverLeft(e.getCause()) ? new Answer.NotNow(null, null) : new Answer.Nothing(why(e));
        } catch (RuntimeException e) {
            return new Answer.Nothing(why(e));
        }
    }

    private MessageCreator creator(Outgoing text) {
        MessageCreator creator = Message.creator(
                new PhoneNumber(text.recipient()), new PhoneNumber(numbers.apply(text.farm())), text.words());
        // The address names the text, so that a callback settles it even if the answer with its id never came.
        return publicUrl.isEmpty()
                ? creator
                : creator.setStatusCallback(
                        URI.create(publicUrl + STATUS_PATH + "?text=" + text.id() + "&try=" + text.attempts()));
    }

    private static Answer taken(Message message) {
        State state = state(message).orElse(State.SENT);
        return state == State.FAILED
                ? new Answer.Refused(message.getErrorCode())
                : new Answer.Taken(message.getSid(), state, price(message));
    }

    /** What the server refused it certainly did not take; what it failed at it may have taken. */
    private static Answer notTaken(NotTaken refusal) {
        if (refusal.status() == TOO_MANY_REQUESTS) {
            return new Answer.NotNow(refusal.getCode(), refusal.retryAfter());
        }
        if (refusal.status() >= SERVER_ERRORS || refusal.status() == REQUEST_TIMEOUT) {
            return new Answer.Nothing(why(refusal));
        }
        return new Answer.Refused(refusal.getCode() == null ? Integer.valueOf(refusal.status()) : refusal.getCode());
    }

    /** Whether no connection was made, so that nothing can have been handed over. */
    private static boolean neverLeft(@Nullable Throwable cause) {
        return cause instanceof ConnectException
                || cause instanceof ConnectTimeoutException
                || cause instanceof ConnectionRequestTimeoutException
                || cause instanceof UnknownHostException
                || cause instanceof NoRouteToHostException
                || cause instanceof SSLHandshakeException;
    }

    /** It is logged, so a number that the carrier names is left out. */
    private static String why(RuntimeException e) {
        String why = e.getCause() == null
                ? String.valueOf(e.getMessage())
                : e.getCause().toString();
        return why.replaceAll("\\+?[0-9]{6,}", "(a number)");
    }

    @Override
    public List<Known> sentTo(FarmId farm, String recipient, Instant since) {
        return StreamSupport.stream(
                        Message.reader()
                                .setTo(new PhoneNumber(recipient))
                                .setFrom(new PhoneNumber(numbers.apply(farm)))
                                .setPageSize(PAGE)
                                .limit(PAGE)
                                .read(client.get())
                                .spliterator(),
                        false)
                .filter(message -> message.getDirection() == Message.Direction.OUTBOUND_API)
                .filter(message -> message.getDateCreated() != null
                        && !message.getDateCreated().toInstant().isBefore(since))
                .map(message -> new Known(
                        message.getSid(),
                        String.valueOf(message.getBody()),
                        message.getDateCreated().toInstant(),
                        state(message).orElse(State.SENT),
                        message.getErrorCode(),
                        price(message)))
                .toList();
    }

    private static Optional<State> state(Message message) {
        return Optional.ofNullable(message.getStatus()).flatMap(status -> CarrierStatus.of(status.toString()));
    }

    private static @Nullable String price(Message message) {
        return message.getPrice() == null ? null : message.getPrice() + " " + message.getPriceUnit();
    }

    @Override
    public boolean answersStop() {
        return true;
    }
}
