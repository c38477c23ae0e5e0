package duskpeg.messaging.text;

import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * The words by which a number asks for no more texts, or for texts again. Carriers heed them by themselves, whatever
 * the farm thinks of it, so they never mean an act.
 *
 * <p>The words are those the carrier documents (its page on opt-out keywords). Only a text that is nothing but such a
 * word counts. HELP, which is the third of them, stays the help of the field language.
 */
enum CarrierWord {
    /** No more texts. */
    STOP,
    /** Texts again. */
    START;

    private static final Map<String, CarrierWord> WORDS = Map.ofEntries(
            Map.entry("STOP", STOP),
            Map.entry("STOPALL", STOP),
            Map.entry("UNSUBSCRIBE", STOP),
            Map.entry("CANCEL", STOP),
            Map.entry("END", STOP),
            Map.entry("QUIT", STOP),
            Map.entry("REVOKE", STOP),
            Map.entry("OPTOUT", STOP),
            Map.entry("START", START),
            Map.entry("YES", START),
            Map.entry("UNSTOP", START));

    /**
     * The word that a text is, if it is one.
     *
     * @param text what was sent
     * @param optOutType what the carrier took it for, where a service of its own has words of the farm's choice; empty
     *     where it said nothing
     */
    static Optional<CarrierWord> in(String text, String optOutType) {
        return Optional.ofNullable(WORDS.get(text.strip().toUpperCase(Locale.ROOT)))
                .or(() -> Stream.of(values())
                        .filter(one -> one.name().equals(optOutType))
                        .findFirst());
    }
}
