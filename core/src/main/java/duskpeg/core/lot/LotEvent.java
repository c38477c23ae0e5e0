package duskpeg.core.lot;

import duskpeg.core.act.OfficeEvent;
import duskpeg.core.act.Subject;
import duskpeg.core.act.Worded;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.germination.Replicate;
import duskpeg.core.planting.Species;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What became of a lot, as it was entered by a supervisor; what was counted in a test, by anybody of the farm. Weights are grams as weighed; moisture is percent of the wet weight.
 *
 * <p>Stored forever: fields are only ever added, each with a new revision.
 */
public sealed interface LotEvent extends OfficeEvent {

    /** The lot it is about. */
    LotId lot();

    /** Who entered it. */
    @Override
    WorkerId by();

    @Override
    default Subject subject() {
        return lot();
    }

    /**
     * A lot was begun.
     *
     * @param cultivar what all its fruit must be
     * @param species of that species
     */
    record Begun(LotId lot, String cultivar, Species species, WorkerId by, Instant at) implements LotEvent {}

    /**
     * Fruit was taken into a lot.
     *
     * @param fruit each once
     */
    record FruitTaken(LotId lot, List<Taken> fruit, WorkerId by, Instant at) implements LotEvent {

        public FruitTaken {
            fruit = List.copyOf(fruit);
        }
    }

    /**
     * One fruit that was taken.
     *
     * @param fruit the fruit
     * @param verdict its verdict then, as a word
     * @param rules the version of the rules
     * @param stock what its row was sown with, as the farm said then; null where it did not
     * @param although why it should not have been taken; empty where nothing stood against it
     */
    record Taken(
            FruitId fruit,
            String verdict,
            String rules,
            @Nullable String stock,
            List<String> although) {

        public Taken {
            although = List.copyOf(although);
        }
    }

    /** A step of the work. The names are stored: they are never changed. */
    enum Step implements Worded {
        CURED,
        EXTRACTED,
        FERMENTED,
        WASHED,
        DRIED,
        CLEANED
    }

    /**
     * A step of the work was done.
     *
     * @param from its first day
     * @param until its last
     * @param place where; empty where that was not said
     */
    record Worked(LotId lot, Step step, LocalDate from, LocalDate until, String place, WorkerId by, Instant at)
            implements LotEvent {}

    /**
     * All seed of the lot was weighed.
     *
     * @param on the day
     * @param grams above 0
     * @param moisture percent of the wet weight; null where it was not read
     */
    record Weighed(
            LotId lot, LocalDate on, double grams, @Nullable Double moisture, WorkerId by, Instant at)
            implements LotEvent {}

    /**
     * Seed left the lot for no other: chaff, light seed, samples, spilt.
     *
     * @param why in a few words
     */
    record Lost(LotId lot, LocalDate on, double grams, String why, WorkerId by, Instant at) implements LotEvent {}

    /**
     * A thousand seeds were found to weigh so much.
     *
     * @param grams of a thousand seeds, above 0
     */
    record SeedWeighed(LotId lot, LocalDate on, double grams, WorkerId by, Instant at) implements LotEvent {}

    /**
     * Seed of this lot became part of another. A lot that is split is drawn into several; lots that are merged are drawn
     * into one.
     *
     * @param to the other, which has been begun
     */
    record Drawn(LotId lot, LotId to, LocalDate on, double grams, WorkerId by, Instant at) implements LotEvent {}

    /**
     * Packets were filled.
     *
     * @param first the first packet's number, from 1; a number is used once in a lot
     * @param last the last packet's number
     * @param grams in each
     */
    record Packed(LotId lot, LocalDate on, int first, int last, double grams, WorkerId by, Instant at)
            implements LotEvent {}

    /**
     * A germination test was counted. Entered again by somebody else under the same number, it is confirmed where both
     * say the same.
     *
     * @param test its number in the lot, from 1
     * @param sown the day it was set
     * @param firstCount the day of the first count
     * @param finalCount the day of the last count
     * @param replicates what was counted
     */
    record Germinated(
            LotId lot,
            int test,
            LocalDate sown,
            LocalDate firstCount,
            LocalDate finalCount,
            List<Replicate> replicates,
            WorkerId by,
            Instant at)
            implements LotEvent {

        public Germinated {
            replicates = List.copyOf(replicates);
        }

        @Override
        public boolean needsSupervisor() {
            return false;
        }
    }

    /**
     * A grow-out was counted; confirmed likewise.
     *
     * @param test its number in the lot, from 1
     * @param on the day
     * @param plants plants that were looked at
     * @param offTypes plants among them that were not true to the cultivar
     * @param fruit how many fruit the sample was drawn from; null where that is not known
     */
    record GrownOut(
            LotId lot,
            int test,
            LocalDate on,
            int plants,
            int offTypes,
            @Nullable Integer fruit,
            WorkerId by,
            Instant at)
            implements LotEvent {

        @Override
        public boolean needsSupervisor() {
            return false;
        }
    }

    /**
     * An entry was wrong, and stands no more.
     *
     * @param entry which of the lot's entries, from 1 in the order of the log
     * @param why in a few words
     */
    record Withdrawn(LotId lot, int entry, String why, WorkerId by, Instant at) implements LotEvent {}

    /** What may be decided of a lot. The names are stored: they are never changed. */
    enum Decision implements Worded {
        RELEASED,
        HELD,
        RECALLED
    }

    /**
     * Somebody decided what may become of it; it stands in the place of what was decided before.
     *
     * @param why in a few words; empty where nothing was said
     * @param although what stood against releasing it; empty where nothing did
     * @param until for how long it may be sold without another test; null where that was not said
     */
    record Decided(
            LotId lot,
            Decision decision,
            String why,
            List<String> although,
            @Nullable LocalDate until,
            WorkerId by,
            Instant at)
            implements LotEvent {

        public Decided {
            although = List.copyOf(although);
        }
    }
}
