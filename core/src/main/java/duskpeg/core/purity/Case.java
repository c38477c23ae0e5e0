package duskpeg.core.purity;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fruit.Evidence;
import duskpeg.core.fruit.Evidence.Grade;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieUses;
import duskpeg.core.planting.Species;
import duskpeg.core.report.Question;
import duskpeg.core.round.Round;
import duskpeg.core.round.RoundQuestions;
import duskpeg.core.settle.Settlements;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * A fruit as the rules see it: what was reported of it and of its row's round.
 *
 * @param fruit the fruit
 * @param round the round in which its tie was put on; null where no standing report says so
 * @param evidence its history
 * @param ties what the farm knows of its tie
 * @param settings the farm's hours
 * @param species what is planted in its row, as the farm states; null where that is not known
 * @param settlements what was settled of the questions about it
 * @param around what stands near its row
 */
public record Case(
        Fruit fruit,
        @Nullable Round round,
        List<Evidence> evidence,
        TieUses ties,
        FarmSettings settings,
        @Nullable Species species,
        Settlements settlements,
        Surroundings around) {

    public Case {
        evidence = List.copyOf(evidence);
    }

    /**
     * The case as it was known at a moment.
     *
     * @param acts every act on the fruit and on the rounds in which its tie was put on, also those taken back
     * @param ties what the farm knows of its tie now
     * @param settlements what was settled of the questions about it, whenever
     * @param around what the farm entered of its plantings and what is near them, in the order of the log
     * @param at what was heard, settled or entered later is left out
     */
    public static Case of(
            FruitId id,
            List<? extends Act> acts,
            TieUses ties,
            FarmSettings settings,
            @Nullable Species species,
            Settlements settlements,
            List<? extends FarmEvent> around,
            Instant at) {
        List<Act> known = Evidence.known(id, acts, at);
        Fruit fruit = Fruit.of(id, known);
        Round round = fruit.tying().map(tied -> Round.of(tied.round(), known)).orElse(null);
        Settlements settled = new Settlements(settlements.settled().stream()
                .filter(one -> !one.at().isAfter(at))
                .toList());
        return new Case(
                fruit,
                round,
                Evidence.of(fruit, known),
                ties.asKnown(known),
                settings,
                species,
                settled,
                Surroundings.of(fruit.tying().map(tied -> tied.round().row()).orElse(null), around, at));
    }

    /** The standing acts of a kind in the round. */
    <T extends Act.OnFlowers> List<T> ofRow(Class<T> kind) {
        return round == null ? List.of() : Act.only(kind, round.acts()).toList();
    }

    /** The standing acts of a kind that are about this fruit. */
    <T extends Act> List<T> ofFruit(Class<T> kind) {
        return Act.only(
                        kind,
                        evidence.stream()
                                .filter(one -> one.grade() == Grade.FRUIT)
                                .map(Evidence::act)
                                .toList())
                .toList();
    }

    /** Every standing act in its history. */
    List<Act> acts() {
        return evidence.stream().map(Evidence::act).toList();
    }

    Optional<Act.Tied> tying() {
        return fruit.tying();
    }

    /** The row and its morning, as in "row 12 on 2026-08-15". */
    String where() {
        return round == null
                ? "an unknown row"
                : "row " + round.id().row().label() + " on " + round.id().morning();
    }

    /**
     * What is asked about this fruit and not settled: about its own tie and its row's counts. What is asked about other ties of
     * its row, and about the hour of other flowers, is not about it.
     */
    List<Question> questions() {
        List<Question> questions = new ArrayList<>(settlements.open(fruit.id(), fruit.questions(ties)));
        if (round != null) {
            settlements.open(round.id(), RoundQuestions.of(round, settings, ties)).stream()
                    .filter(question -> switch (question.kind()) {
                        case MALES_SHORT,
                                OPENED_OVER_PEGGED,
                                POLLINATED_OVER_OPENED,
                                BAGGED_OVER_POLLINATED,
                                TIED_OVER_BAGGED,
                                MORE_THAN_PEGGED -> true;
                        default -> false;
                    })
                    .forEach(questions::add);
        }
        return questions;
    }

    /**
     * Flowers of the round that were tied or lost, less those that something was done to: how many of them it was
     * perhaps not done to. Above 0, any one flower may be one of those.
     */
    int strays(Deed deed) {
        if (round == null) {
            return 1;
        }
        int done = round.acts().stream()
                .filter(act -> act.deed() == deed)
                .mapToInt(Act.OnFlowers::count)
                .sum();
        return round.tally().tied() - done;
    }
}
