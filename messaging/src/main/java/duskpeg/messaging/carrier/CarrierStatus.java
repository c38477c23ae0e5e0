package duskpeg.messaging.carrier;

import duskpeg.core.text.Outgoing.State;
import java.util.Locale;
import java.util.Optional;

/** The carrier's words for how a text stands, as in its API and its status callbacks. */
public final class CarrierStatus {

    private CarrierStatus() {}

    /** How a text of that status stands; empty for a word that says nothing of a text going out. */
    public static Optional<State> of(String status) {
        return switch (status.toLowerCase(Locale.ROOT)) {
            case "accepted", "scheduled", "queued", "sending", "sent" -> Optional.of(State.SENT);
            case "delivered", "read", "partially_delivered" -> Optional.of(State.DELIVERED);
            case "undelivered", "failed", "canceled" -> Optional.of(State.FAILED);
            default -> Optional.empty();
        };
    }
}
