package duskpeg.core.purity;

import duskpeg.core.act.Worded;
import java.util.function.Function;

/**
 * A rule: from what was reported to what it finds. A rule whose meaning changes becomes a new constant, so that a fruit
 * can be judged by the rules of its day forever.
 */
public enum Rule implements Worded {
    /** Clipped shut the evening before, so that no bee came in. */
    PEGGED_THE_EVENING_BEFORE(Weight.PURITY, Flowering::peggedTheEveningBefore),
    /** Still shut in the morning: what was found open is not used. */
    STILL_SHUT_IN_THE_MORNING(Weight.PURITY, Flowering::stillShutInTheMorning),
    /** The males were clipped shut as well. */
    MALES_PEGGED(Weight.PURITY, Flowering::malesPegged),
    /** Two males from two plants, and neither of them her own. */
    MALES_OF_TWO_OTHER_PLANTS(Weight.CARE, Flowering::malesOfTwoOtherPlants),
    /** Pollinated that morning, before the farm's own limit. */
    POLLINATED_IN_THE_WINDOW(Weight.PURITY, Flowering::pollinatedInTheWindow),
    /** Bagged, and tied in the same visit, so that nothing came between. The bag also closes the gap to neighbours. */
    BAGGED_AND_TIED_IN_ONE_VISIT(Weight.PURITY, Flowering::baggedAndTiedInOneVisit),
    /** Nothing that crosses freely is nearer than the farm's own distance, or the bag closed the gap. */
    NEIGHBOURS_FAR_OR_BAGGED(Weight.PURITY, Neighbourhood::neighboursFarOrBagged),
    /** The number is of the worker's own strip and was put on once. */
    TIE_OF_OWN_STRIP_USED_ONCE(Weight.IDENTITY, Tracing::tieOfOwnStripUsedOnce),
    /** At least two people stand behind it. */
    TWO_PEOPLE_BEHIND_IT(Weight.IDENTITY, Tracing::twoPeopleBehindIt),
    /** Nothing that was reported is still asked about. */
    NO_OPEN_QUESTIONS(Weight.IDENTITY, Tracing::noOpenQuestions),
    /** Brought in with its tie on. */
    TIED_AT_HARVEST(Weight.PURITY, Tracing::tiedAtHarvest),
    /** On the vine until its seed was full. */
    MATURE_AT_HARVEST(Weight.CARE, Tracing::matureAtHarvest);

    private final Weight weight;

    @SuppressWarnings("ImmutableEnumChecker") // a method of a class without state
    private final Function<Case, Finding> look;

    Rule(Weight weight, Function<Case, Finding> look) {
        this.weight = weight;
        this.look = look;
    }

    /** What it means for the verdict where a rule fails or is not shown. */
    public enum Weight {
        /** Failing, the fruit is not pure. Not shown, that is in question. */
        PURITY,
        /** Failing or not shown, it is in question whether this is the fruit that was reported. */
        IDENTITY,
        /** It is about the seed's quality or the stock's breadth, and changes no verdict on purity. */
        CARE
    }

    /** What it means for the verdict. */
    public Weight weight() {
        return weight;
    }

    /** Looks at a case. */
    public Finding look(Case fruit) {
        return look.apply(fruit);
    }
}
