package duskpeg.messaging.language;

import duskpeg.core.fruit.TieNumber;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/** The ties named in one line, in their order. */
final class TieList {

    /** As many ties as a line can name, and as long as a range can be: the highest count. */
    private static final int MOST = 999;

    /** What is left of the ties that ranges of one text may stand for: a short text must not make a huge reading. */
    static final class Budget {
        private int left = 2 * MOST;
    }

    private final int width;
    private final Budget budget;
    private final List<TieNumber> ties = new ArrayList<>();
    private final Set<TieNumber> seen = new HashSet<>();

    TieList(int width, Budget budget) {
        this.width = width;
        this.budget = budget;
    }

    /** Adds a number of at most {@code width} digits. */
    void add(Token number) {
        add(tie(number), number);
    }

    /** Adds all from the first to the last number, each of at most {@code width} digits. */
    void addRange(Token first, Token last) {
        TieNumber from = tie(first);
        int size = tie(last).value() - from.value() + 1;
        if (size < 2 || size > MOST || size > budget.left) {
            throw new Stuck(Problem.BAD_RANGE, first, last);
        }
        budget.left -= size;
        for (int i = 0; i < size; i++) {
            add(from.plus(i), last);
        }
    }

    private void add(TieNumber tie, Token said) {
        if (!seen.add(tie)) {
            throw new Stuck(Problem.TIE_TWICE, said);
        }
        if (ties.size() == MOST) {
            throw new Stuck(Problem.TOO_MUCH, said);
        }
        ties.add(tie);
    }

    private TieNumber tie(Token number) {
        // Leading zeros may be left out: with its width given, no other tie can be meant.
        return new TieNumber("0".repeat(width - number.text().length()) + number.text());
    }

    List<TieNumber> ties() {
        return List.copyOf(ties);
    }
}
