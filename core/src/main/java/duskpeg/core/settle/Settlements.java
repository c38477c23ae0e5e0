package duskpeg.core.settle;

import duskpeg.core.act.Subject;
import duskpeg.core.report.Question;
import java.util.List;
import java.util.Optional;

/**
 * What was settled of some questions.
 *
 * @param settled in the order of the log
 */
public record Settlements(List<Settled.OfQuestion> settled) {

    public Settlements {
        settled = List.copyOf(settled);
    }

    /** How that question was settled; empty while it is open. */
    public Optional<Settled.OfQuestion> of(Subject asked, Question question) {
        return settled.stream().filter(one -> one.settles(asked, question)).findFirst();
    }

    /** Those of the questions that are open, in their order. */
    public List<Question> open(Subject asked, List<Question> questions) {
        return questions.stream()
                .filter(question -> of(asked, question).isEmpty())
                .toList();
    }
}
