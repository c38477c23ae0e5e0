package duskpeg.projections;

import duskpeg.core.report.Question;

/**
 * A question as shown and as published.
 *
 * @param kind its kind, for machines
 * @param text the question, for people
 */
public record QuestionView(String kind, String text) {

    /** The view of a question. */
    public static QuestionView of(Question question) {
        return new QuestionView(question.kind().word(), question.sentence());
    }
}
