package duskpeg.messaging.language;

import duskpeg.core.act.Deed;
import duskpeg.core.act.LossReason;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** What a word can stand for. */
public enum Meaning {
    PEGGED(Deed.PEGGED),
    OPENED(Deed.OPENED),
    POLLINATED(Deed.POLLINATED),
    BAGGED(Deed.BAGGED),
    TIED(Deed.TIED),
    FINISHED(Deed.FINISHED),
    UNBAGGED(Deed.UNBAGGED),
    CULLED(Deed.CULLED),
    HARVESTED(Deed.HARVESTED),
    LOST(Deed.LOST),
    TAKEN_BACK(Deed.TAKEN_BACK),
    /** What follows is right, and what was said before is not: keys 00. */
    CORRECTED(null),
    /** Takes back, or corrects where what is right follows. */
    WRONG(null),
    /** The question, key 9. */
    ASKED(null),
    /** The question where to go next. */
    NEXT(null),
    /** What she was told is seen: keys 99. */
    SEEN(null),
    /** A call for help. */
    HELP(null),
    /** The language that follows is wanted. */
    LANGUAGE(null),
    /** The language's own name, which alone is enough to want it. */
    NAME(null),
    /** The number that follows is the row. */
    ROW(null),
    /** The number that follows is the plant. */
    PLANT(null),
    /** Plants whose males were used follow; of a strip, the first tie it is about. */
    FROM(null),
    /** The number beside it is the count. */
    COUNT(null),
    /** The number beside it is of males. */
    MALES(null),
    /** The number that follows is a tie. */
    TIE(null),
    /** Begins a line about ties in somebody's hands. */
    STRIP(null),
    /** Begins a line about spoilt ties. */
    DAMAGED(null),
    /** Brought back to the shed. */
    RETURNED(null),
    /** Who gets a strip follows. */
    GIVEN(null),
    /** Whose strip it is follows. */
    WORKER(null),
    /** The strip is of printed tags, with check digits. */
    PRINTED(null),
    /** Lost, since it was found open. */
    FOUND_OPEN(null),
    /** Lost, since it was torn. */
    TORN(null),
    /** Lost, since its peg was off. */
    PEG_OFF(null),
    /** Lost, since there was no pollen. */
    NO_POLLEN(null),
    /** A clock time follows. */
    AT(null),
    /** So much time before now; the number and its unit come before it. */
    AGO(null),
    MINUTES(null),
    HOURS(null),
    /** The day before. */
    YESTERDAY(null),
    /** Joins two acts; means nothing elsewhere. */
    AND(null),
    /** Makes a range of the ties on both sides. */
    TO(null),
    /** Means nothing. */
    FILLER(null),
    /** A word that is known and not read, since it could mean something else, or is like a word that means another thing. */
    NOT_READ(null);

    private final @Nullable Deed deed;

    Meaning(@Nullable Deed deed) {
        this.deed = deed;
    }

    /** The deed; null for what is no deed. */
    public @Nullable Deed deed() {
        return deed;
    }

    /** The reason for a loss; null for what is none. */
    @Nullable
    LossReason reason() {
        return switch (this) {
            case FOUND_OPEN -> LossReason.FOUND_OPEN;
            case TORN -> LossReason.TORN;
            case PEG_OFF -> LossReason.PEG_OFF;
            case NO_POLLEN -> LossReason.NO_POLLEN;
            default -> null;
        };
    }

    /** Whether it is a word of the time at the end of a line. */
    boolean isOfTime() {
        return switch (this) {
            case AT, AGO, MINUTES, HOURS, YESTERDAY -> true;
            default -> false;
        };
    }

    /** Its key in a vocabulary file. */
    public String key() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** Whether a line can begin with it: a deed, a correction, or a question. */
    boolean isAct() {
        return deed != null || this == ASKED || this == NEXT || this == SEEN || this == CORRECTED || this == WRONG;
    }

    /** Whether it may be taken for a word that is like one of it: not where it means nothing, or what it is not. */
    boolean canBeForgiven() {
        return switch (this) {
            case FILLER, AND, NOT_READ -> false;
            // That a warning was seen is never guessed.
            case SEEN -> false;
            // Among these words stand names.
            case RETURNED, GIVEN, WORKER, PRINTED -> false;
            default -> true;
        };
    }

    /** Whether it can be told together with others: the acts of the morning's visit. */
    boolean canBeJoined() {
        return deed != null && deed.ofTheVisit();
    }

    /** The act of a key, 0 to 9, or of two keys. */
    static Meaning ofKey(int digit) {
        if (digit == 9) {
            return ASKED;
        }
        Deed deed = Deed.of(digit);
        for (Meaning meaning : values()) {
            if (meaning.deed == deed) {
                return meaning;
            }
        }
        throw new AssertionError("every deed has a meaning: " + deed);
    }
}
