package duskpeg.core.report;

import duskpeg.core.act.Deed;
import duskpeg.core.act.LossReason;
import duskpeg.core.crew.Handling;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.RowId;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** One thing a worker says, read from her words but not yet written down. */
public sealed interface Statement {

    /**
     * Flowers of a row: pegged, the acts of the morning's visit, or lost.
     *
     * @param row the row
     * @param deeds what was done to each of them, in the order of the work: {@code PEGGED} alone, {@code LOST} alone,
     *     or one to four acts of the visit
     * @param count how many flowers, 1 to 999
     * @param males how many males were pegged with them; null where not said, and always for other acts
     * @param ties which ties were put on; of no meaning without {@code TIED}
     * @param reason why they were lost; null where not said, and always for other acts
     */
    record OnFlowers(
            RowId row,
            Set<Deed> deeds,
            int count,
            @Nullable Integer males,
            TiesSaid ties,
            @Nullable LossReason reason) implements Statement {
        public OnFlowers {
            deeds = Collections.unmodifiableSet(EnumSet.copyOf(deeds));
        }

        /** Without a word on why they were lost. */
        public OnFlowers(RowId row, Set<Deed> deeds, int count, @Nullable Integer males, TiesSaid ties) {
            this(row, deeds, count, males, ties, null);
        }
    }

    /**
     * Fruit named by its ties, culled or harvested.
     *
     * @param deed {@code CULLED} or {@code HARVESTED}
     * @param row the row the worker named beside the ties, if she did
     * @param ties the ties, at least one
     */
    record OnFruit(Deed deed, @Nullable RowId row, List<TieNumber> ties) implements Statement {
        public OnFruit {
            ties = List.copyOf(ties);
        }
    }

    /**
     * Fruit of a row, not named by ties, culled or harvested.
     *
     * @param deed {@code CULLED} or {@code HARVESTED}
     * @param row the row
     * @param count how many, 1 to 999
     */
    record OnRow(Deed deed, RowId row, int count) implements Statement {}

    /**
     * Take back the last message, or what the last message about a row said of that row.
     *
     * @param row the row, or null for the whole last message
     */
    record TakeBack(@Nullable RowId row) implements Statement {}

    /**
     * What becomes of ties in somebody's hands.
     *
     * @param handling what
     */
    record OfStrip(Handling handling) implements Statement {}

    /** How a worker said which ties she used. */
    sealed interface TiesSaid {}

    /**
     * The next ones of her own strip.
     *
     * @param last the last number as read off the tie, given as a check; null where none was given
     */
    record NextOnStrip(@Nullable TieNumber last) implements TiesSaid {}

    /**
     * These.
     *
     * @param ties as many as the count, in the order they were said
     */
    record Named(List<TieNumber> ties) implements TiesSaid {
        public Named {
            ties = List.copyOf(ties);
        }
    }
}
