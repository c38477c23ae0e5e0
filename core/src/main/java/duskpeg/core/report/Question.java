package duskpeg.core.report;

import duskpeg.core.act.Act;
import duskpeg.core.act.TextId;
import duskpeg.core.act.Worded;
import java.text.MessageFormat;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Locale;

/**
 * Something that looks wrong in what was reported. A question blocks nothing: it is asked, and it goes away by
 * itself when a later report answers it.
 *
 * @param kind what is asked
 * @param values the numbers and names it is about, in the order of the kind's sentence
 * @param texts the messages it was read from
 */
public record Question(Kind kind, List<String> values, List<TextId> texts) {

    public Question {
        values = List.copyOf(values);
        texts = List.copyOf(texts);
    }

    /**
     * Asks.
     *
     * @param readFrom the acts it was read from
     * @param values the numbers and names it is about
     */
    public static Question of(Kind kind, Collection<? extends Act> readFrom, Object... values) {
        return new Question(
                kind,
                Arrays.stream(values).map(String::valueOf).toList(),
                readFrom.stream().map(act -> act.told().text()).distinct().toList());
    }

    /** What can be asked. The names are stored where a question was settled: they are never changed. */
    public enum Kind implements Worded {
        MALES_SHORT("{0} males pegged for {1} females: {2} short"),
        OPENED_OVER_PEGGED("{0} opened, but {1} pegged"),
        POLLINATED_OVER_OPENED("{0} pollinated, but {1} opened"),
        BAGGED_OVER_POLLINATED("{0} bagged, but {1} pollinated"),
        TIED_OVER_BAGGED("{0} tied, but {1} bagged"),
        MORE_THAN_PEGGED("{0} tied and {1} lost, but {2} pegged"),
        AFTER_LIMIT("{0} {1} at {2}, after the limit {3}"),
        LAST_NUMBER_DIFFERS("{0} tied without known numbers: the last was read as {1}, the strip led to {2}"),
        STRIP_TOO_SHORT("{0} tied, but the strip had {1} left: the others have no known number"),
        TIE_USED_TWICE("tie {0} was reported {1} times"),
        TIE_OF_ANOTHER("tie {0} is of another worker''s strip"),
        TIE_ON_NO_STRIP("tie {0} is on no strip that was issued"),
        TIE_OF_LOST_STRIP("tie {0} is of a strip that was reported lost"),
        TIE_OF_RETURNED_STRIP("tie {0} is of a strip that was returned to the shed"),
        TIE_DAMAGED("tie {0} was reported damaged"),
        TIES_SKIPPED("tie {0} was put on, but not {1} before it on the same strip"),
        TIE_NOT_REPORTED("tie {0} was never reported as put on"),
        ROW_DIFFERS("row {0} was said, but tie {1} was put on in row {2}"),
        CULLED_AND_HARVESTED("tie {0} was reported as culled and as harvested"),
        HARVESTED_TWICE("tie {0} was harvested {1} times"),
        FINISHED_WITH_LEFT("said to be finished, but {0} left"),
        PLANT_NOT_THERE("plant {0} was said, but row {1} has {2} plants"),
        SIRE_IS_DAM("the male is said to be from {0}, the flower''s own plant"),
        SIRES_ALIKE("both males are said to be from {0}"),
        ONE_SIRE("only one male is said: from {0}"),
        SIRE_OF_ANOTHER("the male from {0} is of {1}, the flower of {2}");

        private final String sentence;

        Kind(String sentence) {
            this.sentence = sentence;
        }

        /** Whether it is asked about one tie, which its values name, and so in its round and of its fruit alike. */
        public boolean ofTie() {
            return switch (this) {
                case TIE_USED_TWICE,
                        TIE_OF_ANOTHER,
                        TIE_ON_NO_STRIP,
                        TIE_OF_LOST_STRIP,
                        TIE_OF_RETURNED_STRIP,
                        TIE_DAMAGED,
                        TIES_SKIPPED,
                        TIE_NOT_REPORTED -> true;
                default -> false;
            };
        }
    }

    /** Tells it from every other question about the same subject. */
    public String key() {
        return kind.word() + " " + values + " "
                + texts.stream().map(TextId::value).sorted().toList();
    }

    /** The question in plain English, for boards and histories. */
    public String sentence() {
        return new MessageFormat(kind.sentence, Locale.ROOT).format(values.toArray());
    }
}
