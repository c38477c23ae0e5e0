package duskpeg.projections.inbox;

import com.fasterxml.jackson.annotation.JsonInclude;
import duskpeg.core.text.Readings.Suggestion;
import java.time.OffsetDateTime;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The inbox of a farm, as shown and as published. Absent values are left out.
 *
 * @param farm the farm's id
 * @param waiting how many things wait
 * @param texts texts, or lines of them, of which nothing was made; newest first, the first {@link Inboxes#MOST}
 * @param questions what is asked of the reports; newest first
 * @param settled what was settled last, latest first
 */
public record Inbox(
        String farm, int waiting, List<WaitingView> texts, List<AskedView> questions, List<DoneView> settled) {

    public Inbox {
        texts = List.copyOf(texts);
        questions = List.copyOf(questions);
        settled = List.copyOf(settled);
    }

    /**
     * Who sent something, or did something.
     *
     * @param worker by pseudonym
     * @param name by name, while it is known
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record Who(String worker, @Nullable String name) {
        @Override
        public String toString() {
            return name == null ? worker : name;
        }
    }

    /**
     * A text, or a line of one, that waits.
     *
     * @param text the id of the message
     * @param line which line of it, from 1; 0 for all of it
     * @param words that line as it was sent
     * @param from who sent it; left out for an unknown sender
     * @param sender the number it came from, for an unknown sender only
     * @param heard when it was heard, farm time
     * @param problem why nothing was made of it
     * @param suggestions how it may have been meant
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record WaitingView(
            String text,
            int line,
            String words,
            @Nullable Who from,
            @Nullable String sender,
            OffsetDateTime heard,
            String problem,
            List<Suggestion> suggestions) {
        public WaitingView {
            suggestions = List.copyOf(suggestions);
        }

        /** Whether that person sent it. */
        public boolean isOf(String worker) {
            return from != null && from.worker().equals(worker);
        }
    }

    /**
     * A question that waits.
     *
     * @param subject the round or fruit it is about, in the text form of its id
     * @param about what that is, for people
     * @param page where it is shown
     * @param key tells it from other questions about the same subject
     * @param kind its kind, for machines
     * @param asked the question, for people
     * @param heard when the last message was heard from which it was read, farm time
     * @param texts the messages from which it was read, latest first
     */
    public record AskedView(
            String subject,
            String about,
            String page,
            String key,
            String kind,
            String asked,
            OffsetDateTime heard,
            List<SourceView> texts) {
        public AskedView {
            texts = List.copyOf(texts);
        }

        /** Whether that person said any of it. */
        public boolean isOf(String worker) {
            return texts.stream().anyMatch(text -> text.from().worker().equals(worker));
        }
    }

    /**
     * A message from which a question was read.
     *
     * @param text its id
     * @param from who said it
     * @param words the message, while it is kept
     * @param heard when it was heard, farm time
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record SourceView(
            String text, Who from, @Nullable String words, OffsetDateTime heard) {}

    /**
     * Something that was settled.
     *
     * @param at when, farm time
     * @param by by whom
     * @param how a word of {@link duskpeg.core.settle.How}
     * @param what what was settled, for people
     */
    public record DoneView(OffsetDateTime at, Who by, String how, String what) {}
}
