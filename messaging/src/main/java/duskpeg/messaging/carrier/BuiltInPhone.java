package duskpeg.messaging.carrier;

import duskpeg.core.farm.FarmId;
import duskpeg.core.text.Outgoing;
import java.time.Instant;
import java.util.List;

/** The carrier where no account is set up: a text is on the built-in phone as soon as it is sent. */
final class BuiltInPhone implements Carrier {

    @Override
    public Answer send(Outgoing text) {
        return new Answer.Taken("BP-" + text.id() + "-" + text.attempts(), Outgoing.State.DELIVERED, null);
    }

    @Override
    public List<Known> sentTo(FarmId farm, String recipient, Instant since) {
        return List.of();
    }

    @Override
    public boolean answersStop() {
        return false;
    }
}
