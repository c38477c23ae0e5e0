package duskpeg.projections.history;

import com.fasterxml.jackson.annotation.JsonIgnore;
import com.fasterxml.jackson.annotation.JsonInclude;
import duskpeg.projections.QuestionView;
import duskpeg.projections.SettledView;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The history of a fruit, as shown and as published. Absent values are left out.
 *
 * @param tie its tie number
 * @param row the row it was tied in, if its tying was reported
 * @param plant the number of the plant it was tied on, if its tying said so
 * @param morning the morning it was tied, if its tying was reported
 * @param cultivar the cultivar of that row
 * @param species the species of that row, as the farm stated it
 * @param state how far it has come, a word of {@link duskpeg.core.fruit.Fruit.State}
 * @param acts the acts that stand, by when they were done
 * @param takenBack the acts that were taken back
 * @param questions what must be asked
 * @param settled what was asked and somebody settled, while it would still be asked
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record FruitView(
        String tie,
        @Nullable String row,
        @Nullable Integer plant,
        @Nullable LocalDate morning,
        @Nullable String cultivar,
        @Nullable String species,
        String state,
        List<ActView> acts,
        List<ActView> takenBack,
        List<QuestionView> questions,
        List<SettledView> settled) {

    public FruitView {
        acts = List.copyOf(acts);
        takenBack = List.copyOf(takenBack);
        questions = List.copyOf(questions);
        settled = List.copyOf(settled);
    }

    /**
     * One act in it.
     *
     * @param event the id of the event, as in the log and its ledger; not published here: it differs on every server
     *     that was told the same
     * @param act its name
     * @param row the row it was said of, if it was
     * @param plant the number of the plant it was said of, if one was
     * @param sires the plants whose males were used, as row and plant with a dot between, where they were said
     * @param count how many flowers or fruit it was said of
     * @param reason why they were lost, a word of {@link duskpeg.core.act.LossReason}, where it was said
     * @param males how many males, for pegging where they were said
     * @param at when it was done, farm time
     * @param heard when it was heard, farm time
     * @param worker who said it, by pseudonym
     * @param name who said it, by name, while it is known
     * @param words the message it came in, while it is kept
     * @param line which line of the message
     * @param text the id of the message
     * @param putRight who read it so, where nobody could read it at first
     * @param grade {@code fruit} where it is about this fruit, {@code row} where about its row that night
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record ActView(
            @JsonIgnore String event,
            String act,
            @Nullable String row,
            @Nullable Integer plant,
            @Nullable List<String> sires,
            int count,
            @Nullable String reason,
            @Nullable Integer males,
            OffsetDateTime at,
            OffsetDateTime heard,
            String worker,
            @Nullable String name,
            @Nullable String words,
            int line,
            String text,
            @Nullable PutRight putRight,
            String grade) {}

    /**
     * How an act came to be read of a text that could not be read, or was of an unknown sender.
     *
     * @param how a word of {@link duskpeg.core.settle.How}
     * @param by the supervisor who settled it, by pseudonym
     * @param name the supervisor, by name, while it is known
     * @param at when, farm time
     * @param sent the message as the worker sent it, while it is kept
     * @param text the id of that message
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record PutRight(
            String how,
            String by,
            @Nullable String name,
            OffsetDateTime at,
            @Nullable String sent,
            String text) {}
}
