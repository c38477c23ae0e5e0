package duskpeg.core.report;

import duskpeg.core.act.Deed;
import duskpeg.core.act.LossReason;
import duskpeg.core.crew.Handling;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.PlantId;
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
     * @param plant the number of the plant they are on, 1 to 999; null where not said
     * @param sires the plants whose males are for them; null where not said, and always but for pegging and pollinating
     */
    record OnFlowers(
            RowId row,
            Set<Deed> deeds,
            int count,
            @Nullable Integer males,
            TiesSaid ties,
            @Nullable LossReason reason,
            @Nullable Integer plant,
            @Nullable List<PlantId> sires)
            implements Statement {
        public OnFlowers {
            deeds = Collections.unmodifiableSet(EnumSet.copyOf(deeds));
            sires = sires == null ? null : List.copyOf(sires);
        }

        /** Without a word on plants. */
        public OnFlowers(
                RowId row,
                Set<Deed> deeds,
                int count,
                @Nullable Integer males,
                TiesSaid ties,
                @Nullable LossReason reason) {
            this(row, deeds, count, males, ties, reason, null, null);
        }

        /** Without a word on why they were lost. */
        public OnFlowers(RowId row, Set<Deed> deeds, int count, @Nullable Integer males, TiesSaid ties) {
            this(row, deeds, count, males, ties, null);
        }
    }

    /**
     * Fruit named by its ties: bag off, culled or harvested.
     *
     * @param deed {@code UNBAGGED}, {@code CULLED} or {@code HARVESTED}
     * @param row the row the worker named beside the ties, if she did
     * @param ties the ties, at least one
     */
    record OnFruit(Deed deed, @Nullable RowId row, List<TieNumber> ties) implements Statement {
        public OnFruit {
            ties = List.copyOf(ties);
        }
    }

    /**
     * Fruit of a row, not named by ties: bag off, culled or harvested.
     *
     * @param deed {@code UNBAGGED}, {@code CULLED} or {@code HARVESTED}
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

    /**
     * Take back part of what was said last of a row.
     *
     * @param row the row
     * @param plant the number of the plant it was said of; null for any
     * @param count how many flowers or fruit, 1 to 999; null for the whole line that was said last
     */
    record TakeBackPart(
            RowId row, @Nullable Integer plant, @Nullable Integer count) implements Statement {}

    /**
     * Take back what was said last of each of these ties, and of no other flower or fruit.
     *
     * @param ties the ties, at least one
     */
    record TakeBackTies(List<TieNumber> ties) implements Statement {
        public TakeBackTies {
            ties = List.copyOf(ties);
        }
    }

    /**
     * Not what was said last of that row or of those ties, but this.
     *
     * @param right what is right: {@link OnFlowers}, {@link OnFruit} or {@link OnRow}
     */
    record Correction(Statement right) implements Statement {}

    /**
     * Nothing of a row is left to do.
     *
     * @param row the row
     */
    record Finished(RowId row) implements Statement {}

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
