package duskpeg.core.settle;

import duskpeg.core.act.FieldEvent;
import duskpeg.core.act.Subject;
import duskpeg.core.act.TextId;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.report.Question;
import java.time.Instant;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * Something that waited was settled by a second person, never by the one who said it.
 *
 * <p>Stored forever: fields are only ever added, each with a new revision and an upcaster.
 */
public sealed interface Settled extends FieldEvent {

    /** How. */
    How how();

    /** The supervisor who settled it. */
    WorkerId by();

    /** When. */
    Instant at();

    /** Whether both settle the same thing, so that only the first of them counts. */
    boolean sameMatter(Settled other);

    /**
     * A text, or one line of it.
     *
     * @param text the text that waited
     * @param line the line of it, from 1; 0 for the whole text
     * @param how not {@link How#AS_REPORTED}
     * @param worker whose text it is, where anything was written down for her; null otherwise
     * @param reading the text from which it was written down: the supervisor's own, or for {@link How#SAID_BY} the
     *     one that waited; null where nothing was. The acts name it, and the worker as the one who reported
     */
    record OfText(
            TextId text,
            int line,
            How how,
            @Nullable WorkerId worker,
            @Nullable TextId reading,
            WorkerId by,
            Instant at)
            implements Settled {

        /**
         * @throws IllegalArgumentException if somebody settles her own, or if the fields do not go with {@code how}
         */
        public OfText {
            if (by.equals(worker)) {
                throw new IllegalArgumentException("nobody settles her own text: " + text);
            }
            boolean records = how == How.READ_SO || how == How.SAID_BY;
            if (records != (worker != null) || records != (reading != null) || !(records || how.recordsNothing())) {
                throw new IllegalArgumentException(
                        "a text is not settled so: " + how + " for " + worker + " by " + reading);
            }
        }

        @Override
        public TextId subject() {
            return text;
        }

        @Override
        public boolean sameMatter(Settled other) {
            return other instanceof OfText text && this.text.equals(text.text) && line == text.line;
        }
    }

    /**
     * A question. It stays settled while it is read off the same facts; with another number in it, or read from another
     * message, it is another question.
     *
     * @param subject the round or the fruit it is asked about
     * @param kind what is asked
     * @param values the numbers and names in it
     * @param texts the messages it was read from
     * @param how {@link How#AS_REPORTED}
     * @param note the text in which the supervisor says what she found, if she wrote one
     * @param seal the seal of that text's words; null without one
     */
    record OfQuestion(
            Subject subject,
            Question.Kind kind,
            List<String> values,
            List<TextId> texts,
            How how,
            @Nullable TextId note,
            @Nullable String seal,
            WorkerId by,
            Instant at)
            implements Settled {

        /**
         * @throws IllegalArgumentException if the fields do not go together
         */
        public OfQuestion {
            values = List.copyOf(values);
            texts = List.copyOf(texts);
            if (how != How.AS_REPORTED || (note == null) != (seal == null)) {
                throw new IllegalArgumentException("a question is not settled so: " + how);
            }
        }

        @Override
        public boolean sameMatter(Settled other) {
            return other instanceof OfQuestion question
                    && subject.equals(question.subject)
                    && kind == question.kind
                    && values.equals(question.values)
                    && Set.copyOf(texts).equals(Set.copyOf(question.texts));
        }

        /** Whether it settles that question about that subject. A question about a tie is the same in round and fruit. */
        boolean settles(Subject asked, Question question) {
            return kind == question.kind()
                    && (subject.equals(asked) || kind.ofTie())
                    && values.equals(question.values())
                    && Set.copyOf(texts).equals(Set.copyOf(question.texts()));
        }
    }
}
