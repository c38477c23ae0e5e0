package duskpeg.messaging.reply;

import duskpeg.core.act.Worded;
import duskpeg.core.crew.Handled;
import duskpeg.core.crew.StripInHand;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.PlantId;
import duskpeg.core.report.Entry;
import duskpeg.core.round.NextRow;
import duskpeg.core.round.Round;
import duskpeg.messaging.language.Problem;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import org.jspecify.annotations.Nullable;

/** What became of one line of a message. */
public sealed interface Outcome {

    /** It was written down, or found to be about a row that is not there. */
    record Noted(Entry entry) implements Outcome {}

    /**
     * It could not be read; the words are kept.
     *
     * @param problem why
     * @param word the word it failed on, as it was sent; may be empty
     */
    record Unread(Problem problem, String word) implements Outcome {}

    /**
     * The worker asked for her own morning.
     *
     * @param rounds the rounds she said something of
     * @param nextTie the next tie of her strip
     */
    record OwnMorning(LocalDate morning, List<Round> rounds, Optional<TieNumber> nextTie) implements Outcome {}

    /** She asked for a row. */
    record OfRow(Round round) implements Outcome {}

    /**
     * She asked for a plant.
     *
     * @param round the round of its row
     */
    record OfPlant(Round round, PlantId plant) implements Outcome {}

    /**
     * She asked which row to go to.
     *
     * @param row where; empty if nothing is left
     * @param others the names of those who are there
     */
    record Next(LocalDate morning, Optional<NextRow> row, List<String> others) implements Outcome {
        public Next {
            others = List.copyOf(others);
        }
    }

    /** She asked for a tie. */
    record OfTie(Fruit fruit) implements Outcome {}

    /**
     * She asked for the strips in somebody's hands.
     *
     * @param name whose, by name; null for her own
     */
    record Strips(@Nullable String name, List<StripInHand> inHand) implements Outcome {}

    /**
     * Something was said of ties in somebody's hands.
     *
     * @param name whose, by name; null for her own
     * @param other who got them, or who holds them already, by name; null where there is nobody
     */
    record OfStrip(
            Entry.OfStrip entry,
            @Nullable String name,
            @Nullable String other) implements Outcome {}

    /**
     * It is not known, or not for her to say, whom it is about; the words are kept.
     *
     * @param reason why
     * @param said what she called that person
     */
    record Who(Reason reason, String said) implements Outcome {

        /** Why nobody is meant. */
        public enum Reason implements Worded {
            UNKNOWN,
            SEVERAL,
            /** Only a supervisor speaks for another. */
            NOT_ALLOWED
        }
    }

    /** From now on she is answered in this language. */
    record LanguageChanged() implements Outcome {}

    /**
     * She asked for a language that is not known.
     *
     * @param names the own names of those that are, by their codes
     */
    record LanguageUnknown(SortedMap<String, String> names) implements Outcome {}

    /**
     * Somebody looked at a text that could not be read, and it is now written down; what follows tells as what.
     *
     * @param words the text as it was sent
     */
    record ReadAfterAll(String words) implements Outcome {}

    /**
     * Somebody looked at a text that could not be read, and there was nothing in it to write down.
     *
     * @param words the text as it was sent
     */
    record NothingInIt(String words) implements Outcome {}

    /**
     * She has seen what she was told.
     *
     * @param count how many warnings that is
     */
    record Seen(int count) implements Outcome {}

    /** She asked how to write. */
    record Help() implements Outcome {}

    /** Whether nothing was made of the line, so that somebody should look at it. */
    default boolean unread() {
        if (this instanceof OfStrip strip) {
            return !(strip.entry().handled() instanceof Handled.Done);
        }
        return this instanceof Unread
                || this instanceof Who
                || (this instanceof Noted noted && noted.entry() instanceof Entry.NoSuchRow);
    }
}
