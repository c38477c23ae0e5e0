package duskpeg.messaging.carrier;

import duskpeg.core.farm.FarmId;
import duskpeg.core.text.Outgoing;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** Who carries texts to phones. */
public interface Carrier {

    /** What came of handing a text over. */
    sealed interface Answer {

        /**
         * The carrier has it.
         *
         * @param sid the carrier's id
         * @param state sent, or already delivered
         * @param price what it costs, with the currency, where that is known
         */
        record Taken(
                String sid, Outgoing.State state, @Nullable String price) implements Answer {}

        /**
         * The carrier certainly does not have it, and may take it later.
         *
         * @param error the carrier's code, if it gave one
         * @param after how long the carrier asked to wait
         */
        record NotNow(@Nullable Integer error, @Nullable Duration after) implements Answer {}

        /** The carrier refused it for good, with its code if it gave one. */
        record Refused(@Nullable Integer error) implements Answer {}

        /** No answer came, or none that tells: the carrier may have it, or not. */
        record Nothing(String why) implements Answer {}
    }

    /**
     * A text as the carrier knows it.
     *
     * @param sid the carrier's id
     * @param words what it says
     * @param made when the carrier got it
     * @param state sent, delivered or failed
     * @param error the carrier's code for why it failed
     * @param price what it cost, with the currency, where that is known
     */
    record Known(
            String sid,
            String words,
            Instant made,
            Outgoing.State state,
            @Nullable Integer error,
            @Nullable String price) {}

    /** Hands a text over, once. Whatever goes wrong is an answer, never an exception. */
    Answer send(Outgoing text);

    /**
     * The texts from that farm's number to that number that the carrier got since that time.
     *
     * @throws RuntimeException if the carrier could not be asked
     */
    List<Known> sentTo(FarmId farm, String recipient, Instant since);

    /** Whether the carrier itself answers those who ask for no more texts; a second answer would be refused. */
    boolean answersStop();
}
