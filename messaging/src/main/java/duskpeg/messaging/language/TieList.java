package duskpeg.messaging.language;

import duskpeg.core.crew.Holdings;
import duskpeg.core.fruit.Numbering;
import duskpeg.core.fruit.TieNumber;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/** The ties named in one line, in their order. */
final class TieList {

    /** As many ties as a line can name, and as long as a range can be: the highest count. */
    static final int MOST = 999;

    /** What the ties of all lines of one text have in common. */
    static final class Budget {

        private final Holdings printed;

        /** What is left of the ties that ranges may stand for: a short text must not make a huge reading. */
        private int left = 2 * MOST;

        /**
         * @param printed who held which of the tags that have a check digit
         */
        Budget(Holdings printed) {
            this.printed = printed;
        }
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
        add(one(number), number);
    }

    /** Adds all from the first to the last number, each of at most {@code width} digits. */
    void addRange(Token first, Token last) {
        TieNumber from = one(first);
        Numbering numbering = numberingOf(from);
        int size = numbering.serial(one(last)) - numbering.serial(from) + 1;
        if (size < 2 || size > MOST || size > budget.left || numbering != numberingOf(plain(last))) {
            throw new Stuck(Problem.BAD_RANGE, first, last);
        }
        budget.left -= size;
        for (int i = 0; i < size; i++) {
            add(numbering.after(from, i), last);
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

    /** The tie of that number, which has a right check digit where it lies on a strip of tags that have one. */
    TieNumber one(Token number) {
        TieNumber tie = plain(number);
        if (!numberingOf(tie).has(tie)) {
            throw new Stuck(Problem.CHECK_DIGIT, number);
        }
        return tie;
    }

    /** The tie of that number, whatever strip it lies on. */
    TieNumber plain(Token number) {
        // Leading zeros may be left out: with its width given, no other tie can be meant.
        return TieNumber.of(Long.parseLong(number.text()), width);
    }

    /** How that number is read, by the strip it lies on. */
    Numbering numberingOf(TieNumber tie) {
        return budget.printed.numberingOf(tie);
    }

    List<TieNumber> ties() {
        return List.copyOf(ties);
    }
}
