package duskpeg.core.fruit;

import duskpeg.core.act.Act;
import duskpeg.core.crew.Holding;
import duskpeg.core.report.Question;
import duskpeg.core.report.Question.Kind;
import java.util.ArrayList;
import java.util.List;

/** What must be asked about a tie: whose strip it is of, and whether it can be where it is said to be. */
public final class TieQuestions {

    private final TieNumber tie;
    private final TieUses uses;
    private final List<Question> questions = new ArrayList<>();

    private TieQuestions(TieNumber tie, TieUses uses) {
        this.tie = tie;
        this.uses = uses;
    }

    /**
     * The questions about a tie.
     *
     * @param acts the standing acts that name it: all of them, or one of its tyings alone
     */
    public static List<Question> of(TieNumber tie, List<? extends Act> acts, TieUses uses) {
        if (acts.isEmpty()) {
            return List.of();
        }
        TieQuestions asked = new TieQuestions(tie, uses);
        asked.about(acts, Act.only(Act.Tied.class, acts).toList());
        return List.copyOf(asked.questions);
    }

    /**
     * Where the ties before this one are that its worker passed over on her own strip. It is asked of the morning's work
     * alone: nothing is wrong with the fruit for it, and weeks later nobody knows.
     */
    public static List<Question> skippedBefore(TieNumber tie, Act.Tied tied, TieUses uses) {
        boolean ofHerOwn = uses.holding(tie, tied.told().done())
                .filter(holding -> holding.worker().equals(tied.told().by()))
                .isPresent();
        return ofHerOwn
                ? uses
                        .skippedBefore(tie)
                        .map(skipped -> Question.of(Kind.TIES_SKIPPED, List.of(tied), tie, skipped))
                        .stream()
                        .toList()
                : List.of();
    }

    private void about(List<? extends Act> acts, List<Act.Tied> tyings) {
        if (uses.holding(tie, acts.get(0).told().done()).isEmpty()) {
            ask(Kind.TIE_ON_NO_STRIP, acts, tie);
        } else if (tyings.isEmpty()) {
            gone(acts.get(0));
        } else {
            tyings.forEach(this::custody);
        }
        if (uses.isDamaged(tie)) {
            ask(Kind.TIE_DAMAGED, acts, tie);
        }
        if (uses.times(tie) > 1) {
            ask(Kind.TIE_USED_TWICE, tyings, tie, uses.times(tie));
        }
    }

    private void custody(Act.Tied tied) {
        Holding holding = uses.holding(tie, tied.told().done()).orElseThrow();
        if (gone(tied)) {
            return;
        }
        if (!holding.worker().equals(tied.told().by())) {
            ask(Kind.TIE_OF_ANOTHER, List.of(tied), tie);
        }
    }

    /** Whether it was in nobody's hands when that was done. */
    private boolean gone(Act act) {
        Holding.State state = uses.holding(tie, act.told().done())
                .orElseThrow()
                .stateAt(act.told().done());
        switch (state) {
            case LOST -> ask(Kind.TIE_OF_LOST_STRIP, List.of(act), tie);
            case RETURNED -> ask(Kind.TIE_OF_RETURNED_STRIP, List.of(act), tie);
            case HELD -> {
                return false;
            }
        }
        return true;
    }

    private void ask(Kind kind, List<? extends Act> readFrom, Object... values) {
        questions.add(Question.of(kind, readFrom, values));
    }
}
