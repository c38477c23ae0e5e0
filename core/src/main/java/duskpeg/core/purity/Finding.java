package duskpeg.core.purity;

import duskpeg.core.act.FieldEvent;
import duskpeg.core.act.Worded;
import duskpeg.core.fruit.Evidence.Grade;
import java.util.Collection;
import java.util.List;

/**
 * What a rule found.
 *
 * @param rule the rule
 * @param result what it found
 * @param grade how near its evidence comes to the fruit: of the row, unless all of it is of this fruit
 * @param because one sentence in plain English
 * @param read the events it was read from
 */
public record Finding(Rule rule, Result result, Grade grade, String because, List<FieldEvent> read) {

    public Finding {
        read = List.copyOf(read);
    }

    /** What a rule can find. */
    public enum Result implements Worded {
        HOLDS,
        FAILS,
        /** What was reported does not show it. Nothing is ever taken for granted. */
        NOT_SHOWN
    }

    static Finding holds(Rule rule, Grade grade, String because, Collection<? extends FieldEvent> read) {
        return new Finding(rule, Result.HOLDS, grade, because, List.copyOf(read));
    }

    static Finding fails(Rule rule, Grade grade, String because, Collection<? extends FieldEvent> read) {
        return new Finding(rule, Result.FAILS, grade, because, List.copyOf(read));
    }

    static Finding notShown(Rule rule, String because, Collection<? extends FieldEvent> read) {
        return new Finding(rule, Result.NOT_SHOWN, Grade.ROW, because, List.copyOf(read));
    }
}
