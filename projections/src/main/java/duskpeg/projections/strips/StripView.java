package duskpeg.projections.strips;

import com.fasterxml.jackson.annotation.JsonInclude;
import duskpeg.core.act.Worded;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A strip, as shown and as published. Absent values are left out.
 *
 * @param first its first number
 * @param last its last number
 * @param printed whether its numbers end in a check digit
 * @param ties how many ties it has
 * @param used how many of them were put on, by the standing reports
 * @param left how many can still be put on by who holds them
 * @param damaged how many were reported damaged
 * @param skipped how many were passed over: neither put on nor damaged, though one behind them was put on
 * @param shed how many are back in the shed
 * @param lost how many were lost
 * @param hands in whose hands it is, or was until it was used up
 * @param custody its history, in the order in which it was entered
 */
public record StripView(
        String first,
        String last,
        boolean printed,
        int ties,
        int used,
        int left,
        int damaged,
        int skipped,
        int shed,
        int lost,
        List<HandView> hands,
        List<CustodyView> custody) {

    public StripView {
        hands = List.copyOf(hands);
        custody = List.copyOf(custody);
    }

    /**
     * Ties in one worker's hands.
     *
     * @param worker who, by pseudonym
     * @param name who, by name, while it is known
     * @param first the first number she holds
     * @param last the last number she holds
     * @param next the next number; left out where all are used up
     * @param left how many are left
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record HandView(
            String worker,
            @Nullable String name,
            String first,
            String last,
            @Nullable String next,
            long left) {}

    /**
     * One line of a strip's history.
     *
     * @param event what happened, a word of {@link duskpeg.core.crew.CustodyEvent.Kind}
     * @param ties which ties, as people write it
     * @param count how many
     * @param worker about whom, by pseudonym
     * @param name about whom, by name, while it is known
     * @param to who got it, by pseudonym, where it was handed over
     * @param toName who got it, by name, while it is known
     * @param at when it was entered, farm time
     * @param by who entered it, by pseudonym; left out where it was set up with the farm
     * @param byName who entered it, by name, while it is known
     * @param text the id of the message it came in; left out where it was entered on a page
     * @param words that message, while it is kept
     * @param takenBack whether it was taken back
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record CustodyView(
            String event,
            String ties,
            int count,
            String worker,
            @Nullable String name,
            @Nullable String to,
            @Nullable String toName,
            OffsetDateTime at,
            @Nullable String by,
            @Nullable String byName,
            @Nullable String text,
            @Nullable String words,
            boolean takenBack) {}

    /** What became of a tie. */
    public enum Fate implements Worded {
        /** It is on a fruit, by the standing reports. */
        USED,
        DAMAGED,
        /** One behind it was put on, and it was not. */
        SKIPPED,
        LEFT,
        SHED,
        LOST
    }

    /**
     * A tie of a strip.
     *
     * @param tie its number
     * @param fate what became of it, a word of {@link Fate}
     * @param row the row it was put on in, where it was
     * @param morning that morning
     * @param fruit how far its fruit has come, a word of {@link duskpeg.core.fruit.Fruit.State}
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record TieView(
            String tie,
            String fate,
            @Nullable String row,
            @Nullable LocalDate morning,
            @Nullable String fruit) {}

    /**
     * A strip tie by tie.
     *
     * @param strip the strip
     * @param fates its ties, in order
     */
    public record Whole(StripView strip, List<TieView> fates) {
        public Whole {
            fates = List.copyOf(fates);
        }
    }

    /**
     * All strips of a farm.
     *
     * @param farm the farm
     * @param strips its strips, by number
     * @param claims what workers say they hold but don't by the book, until it is settled
     */
    public record All(String farm, List<StripView> strips, List<CustodyView> claims) {
        public All {
            strips = List.copyOf(strips);
            claims = List.copyOf(claims);
        }
    }
}
