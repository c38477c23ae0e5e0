package duskpeg.projections.outbox;

import com.fasterxml.jackson.annotation.JsonInclude;
import duskpeg.core.text.Outgoing;
import duskpeg.core.text.Outgoing.HeldFor;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import org.jspecify.annotations.Nullable;

/**
 * A text that goes out by itself, as it is shown; what is not known is left out. Times are the farm's, to the second.
 *
 * @param id its number
 * @param to the name of whoever it is for, or the number where no name is kept, while either is
 * @param words what it says; empty where that was erased
 * @param state waiting, sending, sent, delivered, failed, unknown, held or dropped
 * @param why what the state means where somebody must know
 * @param toDecide whether a person must decide what becomes of it
 * @param error the carrier's code
 * @param attempts how often it was tried
 * @param urgent whether it goes out in quiet hours too
 * @param made when it was made
 * @param sent when the carrier took it
 * @param delivered when it was on the phone
 * @param price what the carrier said it cost
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record OutgoingView(
        long id,
        String to,
        String words,
        String state,
        @Nullable String why,
        boolean toDecide,
        @Nullable Integer error,
        int attempts,
        boolean urgent,
        OffsetDateTime made,
        @Nullable OffsetDateTime sent,
        @Nullable OffsetDateTime delivered,
        @Nullable String price) {

    static OutgoingView of(Outgoing text, String to, ZoneId zone) {
        return new OutgoingView(
                text.id(),
                to,
                text.words(),
                text.state().word(),
                why(text),
                text.state().open(),
                text.error(),
                text.attempts(),
                text.urgent(),
                text.made().truncatedTo(ChronoUnit.SECONDS).atZone(zone).toOffsetDateTime(),
                onFarm(text, text.sent(), zone),
                onFarm(text, text.delivered(), zone),
                text.price());
    }

    private static @Nullable OffsetDateTime onFarm(Outgoing text, @Nullable Instant at, ZoneId zone) {
        return at == null
                ? null
                : text.farmTime(at).truncatedTo(ChronoUnit.SECONDS).atZone(zone).toOffsetDateTime();
    }

    private static @Nullable String why(Outgoing text) {
        return switch (text.state()) {
            case UNKNOWN -> "The carrier never answered. It may have arrived: ask before you send it again.";
            case FAILED -> "It did not arrive.";
            case HELD ->
                text.heldFor() == HeldFor.OPTED_OUT
                        ? "This number asked for no more texts. Only START, sent from it, changes that."
                        : "The farm had sent as many texts as it may on that day.";
            case WAITING, SENDING, SENT, DELIVERED, DROPPED -> null;
        };
    }
}
