package duskpeg.messaging.text;

import duskpeg.core.act.Seal;
import duskpeg.core.crew.People;
import duskpeg.core.crew.People.Person;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.FieldBook;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.report.Entry;
import duskpeg.core.report.Report;
import duskpeg.core.report.When;
import duskpeg.core.text.Texts.Text;
import duskpeg.messaging.language.Ask;
import duskpeg.messaging.language.Line;
import duskpeg.messaging.language.Reading;
import duskpeg.messaging.reply.Outcome;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import java.util.function.Function;
import org.springframework.stereotype.Component;

/** Reads what a worker says and writes it down: the same for a text, a call, and what a supervisor settles. */
@Component
public class Scribe {

    private final People people;
    private final Index index;
    private final FieldBook book;
    private final Languages languages;

    Scribe(People people, Index index, FieldBook book, Languages languages) {
        this.people = people;
        this.index = index;
        this.book = book;
        this.languages = languages;
    }

    /** Reads words in a language; English where there is none of that code. */
    public List<Line> read(String language, FarmId farm, String words) {
        return languages
                .of(language)
                .reader()
                .read(
                        words,
                        farm,
                        index.settings(farm).tieWidth(),
                        index.strips().printed(farm));
    }

    /**
     * Writes down what the lines report, and gives what became of each line. Must be called inside a unit of work.
     *
     * @param text the message, whose words are sealed
     * @param worker whose report it is
     * @param sent when she sent it
     * @param heard when what it says was understood
     * @param answer answers a line that asks
     */
    List<Outcome> write(
            Text text, Person worker, Instant sent, Instant heard, List<Line> lines, Function<Ask, Outcome> answer) {
        StripDesk strips = new StripDesk(index, people, worker);
        Iterator<Entry> entries =
                entries(text, worker, sent, heard, lines, strips).iterator();
        List<Outcome> outcomes = new ArrayList<>();
        for (Line line : lines) {
            Reading reading = line.reading();
            if (reading instanceof Reading.Said) {
                outcomes.add(new Outcome.Noted(entries.next()));
            } else if (reading instanceof Reading.Asked asked) {
                outcomes.add(answer.apply(asked.ask()));
            } else if (reading instanceof Reading.OfStrip said) {
                outcomes.add(
                        strips.statement(line).isPresent()
                                ? strips.noted((Entry.OfStrip) entries.next())
                                : strips.answer(said.line()));
            } else if (reading instanceof Reading.Unread unread) {
                outcomes.add(new Outcome.Unread(unread.problem(), unread.word()));
            }
        }
        return outcomes;
    }

    private List<Entry> entries(
            Text text, Person worker, Instant sent, Instant heard, List<Line> lines, StripDesk strips) {
        List<Report.Line> statements = new ArrayList<>();
        for (Line line : lines) {
            if (line.reading() instanceof Reading.Said said) {
                statements.add(new Report.Line(line.number(), said.statement(), said.when()));
            }
            strips.statement(line)
                    .ifPresent(said -> statements.add(new Report.Line(line.number(), said, new When.Now())));
        }
        String seal = Seal.of(text.salt(), text.words());
        return statements.isEmpty()
                ? List.of()
                : book.record(new Report(worker.worker(), text.id(), seal, sent, heard, statements));
    }
}
