package duskpeg.core.act;

import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.RowId;
import duskpeg.core.round.RoundId;
import java.util.Collection;
import java.util.List;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * A field act, as somebody reported it. Counts are of female flowers or of fruit, 1 to 999.
 *
 * <p>Stored forever: fields are only ever added, each with a new revision and an upcaster.
 */
public sealed interface Act extends FieldEvent {

    /** The highest count that one act can have. */
    int MOST = 999;

    /** Who said it and when. */
    Told told();

    /** The kind of act, for exhaustive switches. */
    Deed deed();

    /** An act on the flowers of one row and morning. */
    sealed interface OnFlowers extends Act {

        /** The row and its opening morning. */
        RoundId round();

        /** How many female flowers. */
        int count();

        @Override
        default RoundId subject() {
            return round();
        }
    }

    /** An act on fruit. */
    sealed interface OnFruit extends Act {

        /** The tied fruit, or the row where the fruit was not named by ties. */
        @Override
        Subject subject();

        /** The row the worker named beside a tie, if she did: a check, not a place. */
        @Nullable
        RowId rowSaid();

        /** How many; 1 where the subject is a tied fruit. */
        int count();
    }

    /**
     * Females clipped shut in the evening, with the males for them.
     *
     * @param males how many males were pegged with them, on other plants; null where the report did not say
     */
    record Pegged(RoundId round, int count, @Nullable Integer males, Told told) implements OnFlowers {
        public Pegged {
            requireCount(count);
        }

        @Override
        public Deed deed() {
            return Deed.PEGGED;
        }
    }

    /** Pegs taken off in the morning. */
    record Opened(RoundId round, int count, Told told) implements OnFlowers {
        public Opened {
            requireCount(count);
        }

        @Override
        public Deed deed() {
            return Deed.OPENED;
        }
    }

    /** Pollinated, each by both of its males. */
    record Pollinated(RoundId round, int count, Told told) implements OnFlowers {
        public Pollinated {
            requireCount(count);
        }

        @Override
        public Deed deed() {
            return Deed.POLLINATED;
        }
    }

    /** Bagged after pollinating. */
    record Bagged(RoundId round, int count, Told told) implements OnFlowers {
        public Bagged {
            requireCount(count);
        }

        @Override
        public Deed deed() {
            return Deed.BAGGED;
        }
    }

    /**
     * A tie put round the stalk.
     *
     * @param ties the numbers, in order; fewer than {@code count} (none, usually) where it is not known which
     * @param disagreement why no number is known, where the tie in the worker's hand was not the one her strip led to
     */
    record Tied(
            RoundId round,
            int count,
            List<TieNumber> ties,
            @Nullable Disagreement disagreement,
            Told told) implements OnFlowers {

        /**
         * Two last numbers that should have been one.
         *
         * @param read as the worker read it off the tie
         * @param counted as counted along her strip; null where the strip had too few left
         */
        public record Disagreement(TieNumber read, @Nullable TieNumber counted) {}

        public Tied {
            requireCount(count);
            ties = List.copyOf(ties);
        }

        @Override
        public Deed deed() {
            return Deed.TIED;
        }
    }

    /**
     * Not used for seed.
     *
     * @param reason why; null where the report did not say
     */
    record Lost(RoundId round, int count, @Nullable LossReason reason, Told told) implements OnFlowers {
        public Lost {
            requireCount(count);
        }

        @Override
        public Deed deed() {
            return Deed.LOST;
        }
    }

    /** Fruit cut off: by row where it had no tie, by tie where it had one. */
    record Culled(Subject subject, @Nullable RowId rowSaid, int count, Told told) implements OnFruit {
        public Culled {
            requireFruit(subject, count);
        }

        @Override
        public Deed deed() {
            return Deed.CULLED;
        }
    }

    /** Fruit brought in. */
    record Harvested(Subject subject, @Nullable RowId rowSaid, int count, Told told) implements OnFruit {
        public Harvested {
            requireFruit(subject, count);
        }

        @Override
        public Deed deed() {
            return Deed.HARVESTED;
        }
    }

    /**
     * What a message said about this subject no longer stands.
     *
     * @param text the message whose acts are taken back
     */
    record TakenBack(Subject subject, TextId text, Told told) implements Act {
        @Override
        public Deed deed() {
            return Deed.TAKEN_BACK;
        }
    }

    private static void requireCount(int count) {
        if (count < 1 || count > MOST) {
            throw new IllegalArgumentException("not a count: " + count);
        }
    }

    private static void requireFruit(Subject subject, int count) {
        requireCount(count);
        if (!(subject instanceof RowId) && !(subject instanceof FruitId && count == 1)) {
            throw new IllegalArgumentException("not " + count + " fruit: " + subject);
        }
    }

    /** The acts of one kind, in their order. */
    static <T extends Act> Stream<T> only(Class<T> kind, Collection<? extends Act> acts) {
        return acts.stream().filter(kind::isInstance).map(kind::cast);
    }

    /** The acts that still stand: those that no {@link TakenBack} names, in their order. */
    static List<Act> standing(List<? extends Act> acts) {
        List<TakenBack> takenBack = only(TakenBack.class, acts).toList();
        return acts.stream()
                .filter(act -> !(act instanceof TakenBack))
                .filter(act -> takenBack.stream()
                        .noneMatch(back -> back.subject().equals(act.subject())
                                && back.text().equals(act.told().text())))
                .<Act>map(act -> act)
                .toList();
    }
}
