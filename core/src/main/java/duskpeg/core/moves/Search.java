package duskpeg.core.moves;

import ai.timefold.solver.core.api.domain.entity.PlanningEntity;
import ai.timefold.solver.core.api.domain.lookup.PlanningId;
import ai.timefold.solver.core.api.domain.solution.PlanningEntityCollectionProperty;
import ai.timefold.solver.core.api.domain.solution.PlanningScore;
import ai.timefold.solver.core.api.domain.solution.PlanningSolution;
import ai.timefold.solver.core.api.domain.solution.ProblemFactCollectionProperty;
import ai.timefold.solver.core.api.domain.valuerange.ValueRangeProvider;
import ai.timefold.solver.core.api.domain.variable.PlanningVariable;
import ai.timefold.solver.core.api.score.buildin.simplelong.SimpleLongScore;
import ai.timefold.solver.core.api.score.calculator.IncrementalScoreCalculator;
import ai.timefold.solver.core.api.solver.SolverFactory;
import ai.timefold.solver.core.config.localsearch.LocalSearchPhaseConfig;
import ai.timefold.solver.core.config.score.director.ScoreDirectorFactoryConfig;
import ai.timefold.solver.core.config.solver.EnvironmentMode;
import ai.timefold.solver.core.config.solver.SolverConfig;
import ai.timefold.solver.core.config.solver.termination.TerminationConfig;
import duskpeg.core.moves.Field.Hand;
import duskpeg.core.moves.Field.Load;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.HashSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;

/**
 * Looks for a better assignment by local search, with a solver library. So many moves are tried and no more, with
 * numbered dice: the same field gives the same answer.
 */
public final class Search {

    private static final long MOVES = 30_000;

    /** Worth is a sum of logarithms; the solver counts in whole numbers. */
    private static final double SCALE = 1e7;

    private static final SolverFactory<Plan> FACTORY = SolverFactory.create(new SolverConfig()
            .withSolutionClass(Plan.class)
            .withEntityClasses(Stint.class)
            .withScoreDirectorFactory(new ScoreDirectorFactoryConfig().withIncrementalScoreCalculatorClass(Worth.class))
            .withEnvironmentMode(EnvironmentMode.NO_ASSERT)
            .withPhases(new LocalSearchPhaseConfig())
            .withRandomSeed(1L)
            .withTerminationConfig(new TerminationConfig().withMoveCountLimit(MOVES)));

    private Search() {}

    static Assignment from(Assignment start) {
        Plan solved = FACTORY.buildSolver().solve(new Plan(start));
        Assignment found = solved.assignment();
        return found.worth() > start.worth() ? found : start;
    }

    /** A part and who does it. */
    @PlanningEntity
    public static final class Stint {

        @PlanningId
        private int part;

        @PlanningVariable
        private @Nullable Integer hand;

        /** For the solver, which makes copies. */
        public Stint() {}

        Stint(int part, int hand) {
            this.part = part;
            this.hand = hand;
        }

        public @Nullable Integer getHand() {
            return hand;
        }

        public void setHand(@Nullable Integer hand) {
            this.hand = hand;
        }

        int part() {
            return part;
        }
    }

    /** All parts. */
    @PlanningSolution
    public static final class Plan {

        private @Nullable Field field;
        private List<Stint> stints = new ArrayList<>();
        private List<Integer> hands = new ArrayList<>();

        @PlanningScore
        private @Nullable SimpleLongScore score;

        /** For the solver, which makes copies. */
        public Plan() {}

        Plan(Assignment start) {
            field = start.field();
            hands = IntStream.range(0, start.field().hands().size()).boxed().toList();
            for (int part = 0; part < start.doneBy().size(); part++) {
                stints.add(new Stint(part, start.doneBy().get(part)));
            }
        }

        @PlanningEntityCollectionProperty
        public List<Stint> getStints() {
            return stints;
        }

        public void setStints(List<Stint> stints) {
            this.stints = stints;
        }

        @ValueRangeProvider
        @ProblemFactCollectionProperty
        public List<Integer> getHands() {
            return hands;
        }

        public void setHands(List<Integer> hands) {
            this.hands = hands;
        }

        public @Nullable SimpleLongScore getScore() {
            return score;
        }

        public void setScore(@Nullable SimpleLongScore score) {
            this.score = score;
        }

        Field field() {
            return Objects.requireNonNull(field);
        }

        Assignment assignment() {
            return new Assignment(field(), stints.stream().map(Stint::getHand).toList());
        }
    }

    /** What the assignment is worth, kept up hand by hand. */
    public static final class Worth implements IncrementalScoreCalculator<Plan, SimpleLongScore> {

        private @Nullable Field field;
        private List<Set<Integer>> own = List.of();
        private double[] worth = new double[0];

        /** Hands whose parts have changed since they were last weighed. */
        private final BitSet changed = new BitSet();

        @Override
        public void resetWorkingSolution(Plan plan) {
            Field ofPlan = plan.field();
            field = ofPlan;
            List<Set<Integer>> parts = new ArrayList<>();
            ofPlan.hands().forEach(hand -> parts.add(new HashSet<>()));
            plan.getStints().forEach(stint -> {
                Integer hand = stint.getHand();
                if (hand != null) {
                    parts.get(hand).add(stint.part());
                }
            });
            own = parts;
            worth = new double[parts.size()];
            changed.set(0, worth.length);
        }

        private void weigh(int hand) {
            Field all = Objects.requireNonNull(field);
            Hand who = all.hands().get(hand);
            Load load = new Load(who);
            own.get(hand).forEach(part -> load.add(all.parts().get(part), who));
            worth[hand] = all.worth(who, load);
        }

        @Override
        public void beforeEntityAdded(Object entity) {}

        @Override
        public void afterEntityAdded(Object entity) {}

        @Override
        public void beforeVariableChanged(Object entity, String variable) {
            Stint stint = (Stint) entity;
            Integer hand = stint.getHand();
            if (hand != null) {
                own.get(hand).remove(stint.part());
                changed.set(hand);
            }
        }

        @Override
        public void afterVariableChanged(Object entity, String variable) {
            Stint stint = (Stint) entity;
            Integer hand = stint.getHand();
            if (hand != null) {
                own.get(hand).add(stint.part());
                changed.set(hand);
            }
        }

        @Override
        public void beforeEntityRemoved(Object entity) {}

        @Override
        public void afterEntityRemoved(Object entity) {}

        @Override
        public SimpleLongScore calculateScore() {
            for (int hand = changed.nextSetBit(0); hand >= 0; hand = changed.nextSetBit(hand + 1)) {
                weigh(hand);
            }
            changed.clear();
            double sum = 0;
            for (double one : worth) {
                sum += one;
            }
            return SimpleLongScore.of(Math.round(sum * SCALE));
        }
    }
}
