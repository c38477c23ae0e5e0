package duskpeg.core.act;

import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.RowId;
import duskpeg.core.round.RoundId;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * A field act, as somebody reported it. Counts are of female flowers or of fruit, 1 to 999.
 *
 * <p>Stored forever: fields are only ever added, each with a new revision, and an upcaster where it may not be absent.
 */
public sealed interface Act extends FieldEvent {

    /** The highest count that one act can have. */
    int MOST = 999;

    /** Who said it and when. */
    Told told();

    /** The kind of act, for exhaustive switches. */
    Deed deed();

    /** An act on so many flowers or fruit. */
    sealed interface Counted extends Act {

        /** How many. */
        int count();

        /**
         * The same act, told anew of fewer.
         *
         * @param fewer how many, 1 to {@link #count()}
         */
        Counted again(int fewer, Told told);
    }

    /** An act on the flowers of one row and morning. */
    sealed interface OnFlowers extends Counted {

        /** The row and its opening morning. */
        RoundId round();

        /** How many female flowers. */
        @Override
        int count();

        /** The number of the plant they are on, 1 to 999; null where the report did not say. */
        @Nullable
        Integer plant();

        /** The plants whose males are for them; null where the report did not say. */
        default @Nullable List<PlantId> sires() {
            return null;
        }

        @Override
        OnFlowers again(int fewer, Told told);

        @Override
        default RoundId subject() {
            return round();
        }
    }

    /** An act on fruit. */
    sealed interface OnFruit extends Counted {

        /** The tied fruit, or the row where the fruit was not named by ties. */
        @Override
        Subject subject();

        /** The row the worker named beside a tie, if she did: a check, not a place. */
        @Nullable
        RowId rowSaid();

        /** How many; 1 where the subject is a tied fruit. */
        @Override
        int count();

        @Override
        OnFruit again(int fewer, Told told);
    }

    /**
     * Females clipped shut in the evening, with the males for them.
     *
     * @param males how many males were pegged with them, on other plants; null where the report did not say
     */
    record Pegged(
            RoundId round,
            int count,
            @Nullable Integer males,
            @Nullable Integer plant,
            @Nullable List<PlantId> sires,
            Told told)
            implements OnFlowers {
        public Pegged {
            requireCount(count);
            requirePlant(plant);
            sires = copy(sires);
        }

        /** Without a word on plants. */
        public Pegged(RoundId round, int count, @Nullable Integer males, Told told) {
            this(round, count, males, null, null, told);
        }

        @Override
        public Pegged again(int fewer, Told anew) {
            return new Pegged(round, fewer, males, plant, sires, anew);
        }

        @Override
        public Deed deed() {
            return Deed.PEGGED;
        }
    }

    /** Pegs taken off in the morning. */
    record Opened(RoundId round, int count, @Nullable Integer plant, Told told) implements OnFlowers {
        public Opened {
            requireCount(count);
            requirePlant(plant);
        }

        /** Without a word on plants. */
        public Opened(RoundId round, int count, Told told) {
            this(round, count, null, told);
        }

        @Override
        public Opened again(int fewer, Told anew) {
            return new Opened(round, fewer, plant, anew);
        }

        @Override
        public Deed deed() {
            return Deed.OPENED;
        }
    }

    /** Pollinated, each by both of its males. */
    record Pollinated(
            RoundId round,
            int count,
            @Nullable Integer plant,
            @Nullable List<PlantId> sires,
            Told told) implements OnFlowers {
        public Pollinated {
            requireCount(count);
            requirePlant(plant);
            sires = copy(sires);
        }

        /** Without a word on plants. */
        public Pollinated(RoundId round, int count, Told told) {
            this(round, count, null, null, told);
        }

        @Override
        public Pollinated again(int fewer, Told anew) {
            return new Pollinated(round, fewer, plant, sires, anew);
        }

        @Override
        public Deed deed() {
            return Deed.POLLINATED;
        }
    }

    /** Bagged after pollinating. */
    record Bagged(RoundId round, int count, @Nullable Integer plant, Told told) implements OnFlowers {
        public Bagged {
            requireCount(count);
            requirePlant(plant);
        }

        /** Without a word on plants. */
        public Bagged(RoundId round, int count, Told told) {
            this(round, count, null, told);
        }

        @Override
        public Bagged again(int fewer, Told anew) {
            return new Bagged(round, fewer, plant, anew);
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
            @Nullable Integer plant,
            Told told)
            implements OnFlowers {

        /**
         * Two last numbers that should have been one.
         *
         * @param read as the worker read it off the tie
         * @param counted as counted along her strip; null where the strip had too few left
         */
        public record Disagreement(TieNumber read, @Nullable TieNumber counted) {}

        public Tied {
            requireCount(count);
            requirePlant(plant);
            ties = List.copyOf(ties);
        }

        /** Without a word on plants. */
        public Tied(RoundId round, int count, List<TieNumber> ties, @Nullable Disagreement disagreement, Told told) {
            this(round, count, ties, disagreement, null, told);
        }

        /** The first ties stay on. */
        @Override
        public Tied again(int fewer, Told anew) {
            return new Tied(round, fewer, ties.subList(0, Math.min(fewer, ties.size())), disagreement, plant, anew);
        }

        /** With these ties instead. */
        public Tied with(List<TieNumber> others) {
            return new Tied(round, count, others, disagreement, plant, told);
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
    record Lost(
            RoundId round,
            int count,
            @Nullable LossReason reason,
            @Nullable Integer plant,
            Told told) implements OnFlowers {
        public Lost {
            requireCount(count);
            requirePlant(plant);
        }

        /** Without a word on plants. */
        public Lost(RoundId round, int count, @Nullable LossReason reason, Told told) {
            this(round, count, reason, null, told);
        }

        @Override
        public Lost again(int fewer, Told anew) {
            return new Lost(round, fewer, reason, plant, anew);
        }

        @Override
        public Deed deed() {
            return Deed.LOST;
        }
    }

    /** The crew says that nothing of the row is left to do that morning. It is their word; the counts are beside it. */
    record Finished(RoundId round, Told told) implements Act {
        @Override
        public RoundId subject() {
            return round;
        }

        @Override
        public Deed deed() {
            return Deed.FINISHED;
        }
    }

    /** Bags taken off, days after: by row, or by tie. */
    record Unbagged(Subject subject, @Nullable RowId rowSaid, int count, Told told) implements OnFruit {
        public Unbagged {
            requireFruit(subject, count);
        }

        @Override
        public Unbagged again(int fewer, Told anew) {
            return new Unbagged(subject, rowSaid, fewer, anew);
        }

        @Override
        public Deed deed() {
            return Deed.UNBAGGED;
        }
    }

    /** Fruit cut off: by row where it had no tie, by tie where it had one. */
    record Culled(Subject subject, @Nullable RowId rowSaid, int count, Told told) implements OnFruit {
        public Culled {
            requireFruit(subject, count);
        }

        @Override
        public Culled again(int fewer, Told anew) {
            return new Culled(subject, rowSaid, fewer, anew);
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
        public Harvested again(int fewer, Told anew) {
            return new Harvested(subject, rowSaid, fewer, anew);
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
     * @param line the line of it that is; null for all it said about the subject
     */
    record TakenBack(Subject subject, TextId text, @Nullable Integer line, Told told) implements Act {

        /** All that the message said about the subject. */
        public TakenBack(Subject subject, TextId text, Told told) {
            this(subject, text, null, told);
        }

        /** Whether that act no longer stands. */
        public boolean takesBack(Act act) {
            return subject.equals(act.subject())
                    && text.equals(act.told().text())
                    && (line == null || line == act.told().line());
        }

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

    private static void requirePlant(@Nullable Integer plant) {
        if (plant != null && (plant < 1 || plant > PlantId.MOST)) {
            throw new IllegalArgumentException("not a plant: " + plant);
        }
    }

    private static @Nullable List<PlantId> copy(@Nullable List<PlantId> sires) {
        return sires == null ? null : List.copyOf(sires);
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
        // Of a whole season there are many of both.
        Map<TextId, List<TakenBack>> takenBack =
                only(TakenBack.class, acts).collect(Collectors.groupingBy(TakenBack::text));
        return acts.stream()
                .filter(act -> !(act instanceof TakenBack))
                .filter(act -> takenBack.isEmpty()
                        || takenBack.getOrDefault(act.told().text(), List.of()).stream()
                                .noneMatch(back -> back.takesBack(act)))
                .<Act>map(act -> act)
                .toList();
    }
}
