package duskpeg.core.day;

import duskpeg.core.act.Worded;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * Something that can hurt people. What is entered here only repeats what somebody decided: how long a sprayed planting
 * may not be entered is said by the product's label and by local rules, and where two products differ the longer time
 * holds.
 *
 * @param kind what it is
 * @param planting the planting it is about, by name; null for the whole farm
 * @param from when it begins
 * @param until when it is over, after {@code from}
 */
public record Caution(Kind kind, @Nullable String planting, Instant from, Instant until) {

    /** What to beware of. The names are stored: they are never changed. */
    public enum Kind implements Worded {
        /** A hot day. */
        HEAT,
        /** Sprayed: nobody may enter until it is over. */
        SPRAY
    }

    /**
     * @throws IllegalArgumentException if it ends before it begins
     */
    public Caution {
        if (!from.isBefore(until)) {
            throw new IllegalArgumentException("ends before it begins: " + from + " to " + until);
        }
    }

    /** Tells it from every other on its farm, in at most 100 characters. */
    public String key() {
        return from.getEpochSecond() + "-" + until.getEpochSecond() + (planting == null ? "" : "-" + planting);
    }

    /** Whether it is on at that time. */
    public boolean isOnAt(Instant at) {
        return !at.isBefore(from) && at.isBefore(until);
    }

    /** Whether nobody may enter that planting at that time. */
    public boolean closes(String name, Instant at) {
        return kind == Kind.SPRAY && isOnAt(at) && (planting == null || planting.equals(name));
    }
}
