package duskpeg.messaging.text;

import duskpeg.core.act.Deed;
import duskpeg.core.crew.People;
import duskpeg.core.crew.People.Person;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.report.Statement;
import duskpeg.core.text.Readings;
import duskpeg.core.text.Texts;
import duskpeg.core.text.WaitingTexts.Waiting;
import duskpeg.messaging.language.Line;
import duskpeg.messaging.language.Problem;
import duskpeg.messaging.language.Reading;
import duskpeg.messaging.language.Suggestions;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.springframework.stereotype.Component;

/** Explains the texts that wait, for the inbox page, in the language of whoever sent them. */
@Component
class InboxReadings implements Readings {

    private final Index index;
    private final People people;
    private final Texts texts;
    private final Languages languages;
    private final Scribe scribe;

    InboxReadings(Index index, People people, Texts texts, Languages languages, Scribe scribe) {
        this.index = index;
        this.people = people;
        this.texts = texts;
        this.languages = languages;
        this.scribe = scribe;
    }

    @Override
    public Explained explain(Waiting waiting) {
        FarmId farm = waiting.text().farm();
        int width = index.settings(farm).tieWidth();
        Map<RowId, Integer> plants = index.plantings(farm).stream()
                .flatMap(planting -> planting.rows().stream())
                .collect(Collectors.toMap(Planting.Row::id, Planting.Row::plants));
        Suggestions suggestions = new Suggestions(
                languages.of(language(waiting)).vocabulary(),
                farm,
                width,
                index.strips().printed(farm),
                plants);
        String before = waiting.worker()
                .flatMap(worker -> texts.readBefore(worker, waiting.text()))
                .orElse("");
        return new Explained(
                why(waiting),
                suggestions.of(waiting.words(), before).stream()
                        .map(one -> new Suggestion(one.words(), says(one, waiting.worker())))
                        .toList());
    }

    @Override
    public String problemWith(Waiting waiting, String words) {
        for (Line line : scribe.read(language(waiting), waiting.text().farm(), words)) {
            if (line.reading() instanceof Reading.Unread unread) {
                return sentence(unread.problem(), unread.word());
            }
            if (line.reading() instanceof Reading.Asked) {
                return "It asks something, and reports nothing.";
            }
            if (line.reading() instanceof Reading.OfStrip) {
                return "It is about a strip, and reports no work.";
            }
        }
        return "The farm has no such row.";
    }

    private String language(Waiting waiting) {
        return waiting.worker().flatMap(people::find).map(Person::language).orElse(Languages.ENGLISH);
    }

    private static String why(Waiting waiting) {
        if (waiting.worker().isEmpty()) {
            return "The number it came from is not on the crew list.";
        }
        if (waiting.problem().isEmpty()) {
            return "Nothing of it was written down.";
        }
        return switch (waiting.problem()) {
            case UnreadLines.NO_SUCH_ROW -> "The farm has no such row.";
            case UnreadLines.OF_STRIP -> "What it says of a strip could not be done, and she was told why.";
            default -> sentence(Problem.valueOf(waiting.problem()), waiting.word());
        };
    }

    private static String sentence(Problem problem, String word) {
        String quoted = "“" + word + "”";
        return switch (problem) {
            case EMPTY -> "There is nothing in it that could be read.";
            case NO_ACT -> quoted + " is no act, and a line begins with one.";
            case MIXED_ACTS -> quoted + " stands for acts that can’t be told in one line.";
            case NO_ROW -> "The row is missing.";
            case NO_COUNT -> "The count is missing.";
            case NOT_A_NUMBER -> quoted + " is an unknown word.";
            case TOO_LONG -> quoted + " has too many digits for what must stand there.";
            case COUNT_AND_TIES_DIFFER -> "The count " + quoted + " is not the number of ties.";
            case BAD_RANGE -> quoted + " is no range of ties.";
            case TIE_TWICE -> "The tie " + quoted + " stands there twice.";
            case UNCLEAR -> quoted + " could be more than one of row, count and tie.";
            case TOO_MUCH -> quoted + " is left over.";
            case PLANT -> quoted + " can be no plant here.";
            case ZERO -> "A row or count of 0.";
            case CHECK_DIGIT -> quoted + " is no printed tag: its last digit does not check the others.";
            case NO_TIE -> "The ties are missing.";
            case NO_NAME -> "The person is missing.";
            case BAD_TIME -> quoted + " is no time, or does not stand at the end.";
        };
    }

    /** What it would record; where the next ties of her strip would be taken, which is the first of them. */
    private String says(Suggestions.Suggestion suggestion, Optional<WorkerId> worker) {
        boolean nextTies = suggestion.statements().stream()
                .anyMatch(statement -> statement instanceof Statement.OnFlowers flowers
                        && flowers.deeds().contains(Deed.TIED)
                        && flowers.ties() instanceof Statement.NextOnStrip);
        Optional<TieNumber> next = nextTies ? worker.flatMap(index::nextTie) : Optional.empty();
        return suggestion.says() + next.map(tie -> ", now from " + tie).orElse("");
    }
}
