package duskpeg.core.text;

import duskpeg.core.farm.FarmId;
import java.time.Duration;
import java.time.Instant;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * A text that goes out by itself, as it stands.
 *
 * <p>Sending is timed by the server's clock. A text made in a demo by somebody whose clock shows another time lives on
 * at her time: {@link #farmTime} tells what it is for her.
 *
 * @param id its number here
 * @param farm the farm it is from
 * @param once its name on the farm
 * @param recipient the number it goes to; empty where it was erased
 * @param words what it says; empty where that was erased
 * @param urgent whether it goes out in quiet hours too
 * @param insisted whether a person decided that it be sent, limit and quiet hours or not
 * @param made when it was made
 * @param stored when it was stored, by the database's clock
 * @param state how it stands
 * @param heldFor why it is held
 * @param attempts how often it was tried
 * @param claimed when it was last tried
 * @param sid the carrier's id
 * @param error the carrier's code for why it was refused
 * @param sent when the carrier took it
 * @param delivered when it was on her phone, as the carrier said
 * @param price what the carrier said it cost, with its currency
 */
public record Outgoing(
        long id,
        FarmId farm,
        String once,
        String recipient,
        String words,
        boolean urgent,
        boolean insisted,
        Instant made,
        Instant stored,
        State state,
        @Nullable HeldFor heldFor,
        int attempts,
        @Nullable Instant claimed,
        @Nullable String sid,
        @Nullable Integer error,
        @Nullable Instant sent,
        @Nullable Instant delivered,
        @Nullable String price) {

    /** How a text stands. */
    public enum State {
        /** It is to be sent. */
        WAITING,
        /** It is being handed to the carrier. */
        SENDING,
        /** The carrier took it. */
        SENT,
        /** The carrier said that it is on her phone. */
        DELIVERED,
        /** It was refused, or could not be delivered. */
        FAILED,
        /** It was handed over and no answer came: she may have it, or not. It is never sent again by itself. */
        UNKNOWN,
        /** It is not sent until a person decides. */
        HELD,
        /** A person decided that it is not sent. */
        DROPPED;

        /** Its name in tables and pages. */
        public String word() {
            return name().toLowerCase(Locale.ROOT);
        }

        /** Whether a person must decide what becomes of it. */
        public boolean open() {
            return this == FAILED || this == UNKNOWN || this == HELD;
        }

        static State of(String word) {
            return valueOf(word.toUpperCase(Locale.ROOT));
        }
    }

    /** Why a text is held. */
    public enum HeldFor {
        /** The farm has sent as many texts as it may that day. */
        LIMIT,
        /** The number asked for no more texts. */
        OPTED_OUT;

        /** Its name in tables and pages. */
        public String word() {
            return name().toLowerCase(Locale.ROOT).replace('_', '-');
        }

        static HeldFor of(String word) {
            return valueOf(word.toUpperCase(Locale.ROOT).replace('-', '_'));
        }
    }

    /** The time on its farm, for whoever made it, when the server's clock shows that. */
    public Instant farmTime(Instant now) {
        return made.plus(Duration.between(stored, now));
    }
}
