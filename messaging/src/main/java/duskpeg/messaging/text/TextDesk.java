package duskpeg.messaging.text;

import duskpeg.core.crew.Holdings;
import duskpeg.core.crew.People;
import duskpeg.core.crew.People.Person;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.FieldBook;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.planting.RowId;
import duskpeg.core.report.Entry;
import duskpeg.core.round.NextRow;
import duskpeg.core.round.Round;
import duskpeg.core.round.RoundId;
import duskpeg.core.text.OptOuts;
import duskpeg.core.text.Texts;
import duskpeg.core.text.Texts.Answer;
import duskpeg.core.text.Texts.Text;
import duskpeg.core.text.Texts.UnreadLine;
import duskpeg.core.text.Warned;
import duskpeg.messaging.carrier.Carrier;
import duskpeg.messaging.language.Ask;
import duskpeg.messaging.language.Line;
import duskpeg.messaging.language.Reading;
import duskpeg.messaging.reply.Outcome;
import duskpeg.messaging.reply.Phrases;
import duskpeg.messaging.reply.ReplyWriter;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.axonframework.commandhandling.CommandHandler;
import org.slf4j.MDC;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.stereotype.Component;

/**
 * Where every message is heard, once. Storing it, writing down what it says, and its answer are one transaction: a
 * worker who has an answer has her report in the log.
 */
@Component
class TextDesk {

    /** Under which the id of a message is in the log. */
    static final String TEXT = "text";

    private final Texts texts;
    private final People people;
    private final Index index;
    private final FieldBook book;
    private final Languages languages;
    private final Scribe scribe;
    private final OptOuts optOuts;
    private final Carrier carrier;
    private final Warned warned;

    TextDesk(
            Texts texts,
            People people,
            Index index,
            FieldBook book,
            Languages languages,
            Scribe scribe,
            OptOuts optOuts,
            Carrier carrier,
            Warned warned) {
        this.texts = texts;
        this.people = people;
        this.index = index;
        this.book = book;
        this.languages = languages;
        this.scribe = scribe;
        this.optOuts = optOuts;
        this.carrier = carrier;
        this.warned = warned;
    }

    /**
     * @return the answer, one segment; empty where the carrier itself answers
     * @throws AlreadyHeard if the same message was heard before
     */
    @CommandHandler
    String handle(HearText command) {
        return handle(new HearTexts(List.of(command))).get(0);
    }

    /**
     * @return the answers, in the order of the texts
     * @throws AlreadyHeard if one of them was heard before
     */
    @CommandHandler
    List<String> handle(HearTexts command) {
        List<Text> heard = command.texts().stream().map(HearText::text).toList();
        List<Answer> answers;
        try {
            answers = command.texts().stream().map(this::answer).toList();
            texts.claim(heard, answers);
        } catch (DuplicateKeyException e) {
            // With it all that was written down of them is undone.
            throw new AlreadyHeard(heard.get(0).id(), e);
        }
        return answers.stream().map(Answer::reply).toList();
    }

    private Answer answer(HearText command) {
        Text text = command.text();
        // Whatever is logged while it is heard has its id.
        MDC.put(TEXT, text.id().value());
        try {
            Optional<Person> sender = people.withPhone(text.id().farm(), text.sender());
            Optional<CarrierWord> word = CarrierWord.in(text.words(), command.optOutType());
            if (word.isPresent()) {
                return obey(word.get(), text, sender);
            }
            return sender.isPresent() ? answer(text, sender.get()) : unknown(text);
        } finally {
            MDC.remove(TEXT);
        }
    }

    private Answer unknown(Text text) {
        String reply = languages.of(Languages.ENGLISH).phrases().say("unknown.sender");
        return new Answer(text.id(), Optional.empty(), 1, reply);
    }

    private Answer obey(CarrierWord word, Text text, Optional<Person> sender) {
        Phrases phrases = languages
                .of(sender.map(Person::language).orElse(Languages.ENGLISH))
                .phrases();
        String reply;
        if (word == CarrierWord.STOP) {
            optOuts.add(text.sender(), text.heard());
            reply = carrier.answersStop() ? "" : phrases.say("texts.stopped");
        } else {
            optOuts.remove(text.sender());
            reply = phrases.say("texts.started");
        }
        return new Answer(text.id(), sender.map(Person::worker), 0, reply);
    }

    /** Writes down what a claimed message of that person says, and answers it in her language. */
    String hear(Text text, Person sender) {
        Answer answer = answer(text, sender);
        texts.answered(answer);
        return answer.reply();
    }

    private Answer answer(Text text, Person sender) {
        WorkerId worker = sender.worker();
        FarmSettings settings = index.settings(worker.farm());
        // Asked for once, since every text comes by here: it is read by them and answered by them.
        Holdings printed = index.strips().printed(worker.farm());
        List<Line> lines = languages
                .of(sender.language())
                .reader()
                .read(text.words(), worker.farm(), settings.tieWidth(), printed);
        List<Outcome> outcomes = scribe.write(
                text, sender, text.heard(), text.heard(), lines, ask -> answer(ask, text, worker, settings));
        Phrases phrases = languages.of(wanted(lines).orElse(sender.language())).phrases();
        String reply = new ReplyWriter(phrases, settings, text.heard(), printed)
                .write(
                        outcomes,
                        lines.stream().flatMap(line -> line.forgiven().stream()).toList());
        List<UnreadLine> unread = UnreadLines.of(lines, outcomes);
        texts.unread(text.id(), unread);
        return new Answer(text.id(), Optional.of(worker), unread.size(), reply);
    }

    /** The language she is to be answered in from now on, if she asked for one that there is. */
    private Optional<String> wanted(List<Line> lines) {
        return lines.stream()
                .flatMap(line -> line.reading() instanceof Reading.Asked asked
                                && asked.ask() instanceof Ask.Language language
                                && languages.has(language.code())
                        ? Stream.of(language.code())
                        : Stream.empty())
                .reduce((earlier, later) -> later);
    }

    private Outcome answer(Ask ask, Text text, WorkerId worker, FarmSettings settings) {
        FarmId farm = worker.farm();
        LocalDate morning = settings.openingOfPeggedAt(text.heard());
        if (ask instanceof Ask.OfRow row) {
            return ofRow(row.row(), morning);
        }
        if (ask instanceof Ask.OfPlant of) {
            return index.hasRow(of.plant().row())
                    ? new Outcome.OfPlant(book.round(new RoundId(of.plant().row(), morning)), of.plant())
                    : new Outcome.Noted(new Entry.NoSuchRow(of.plant().row()));
        }
        if (ask instanceof Ask.Next) {
            return next(worker, settings.dateAt(text.heard()), text.heard());
        }
        if (ask instanceof Ask.Seen) {
            return new Outcome.Seen(warned.seen(worker, text.heard()));
        }
        if (ask instanceof Ask.OfTie tie) {
            return new Outcome.OfTie(book.fruit(new FruitId(farm, tie.tie())));
        }
        if (ask instanceof Ask.Morning) {
            return new Outcome.OwnMorning(morning, book.roundsSaidBy(worker, morning), index.nextTie(worker));
        }
        if (ask instanceof Ask.Language language) {
            if (!languages.has(language.code())) {
                return new Outcome.LanguageUnknown(languages.names());
            }
            people.setLanguage(worker, language.code());
            return new Outcome.LanguageChanged();
        }
        return new Outcome.Help();
    }

    private Outcome ofRow(RowId row, LocalDate morning) {
        return index.hasRow(row)
                ? new Outcome.OfRow(book.round(new RoundId(row, morning)))
                : new Outcome.Noted(new Entry.NoSuchRow(row));
    }

    private Outcome next(WorkerId worker, LocalDate morning, Instant now) {
        Set<RowId> closed = index.closed(worker.farm(), now);
        List<Round> enterable = book.rounds(worker.farm(), morning).stream()
                .filter(round -> !closed.contains(round.id().row()))
                .toList();
        Optional<NextRow> next = NextRow.of(enterable, worker, now);
        List<WorkerId> others = next.map(NextRow::others).orElse(List.of());
        return new Outcome.Next(
                morning,
                next,
                others.isEmpty()
                        ? List.of()
                        : people.all(worker.farm()).stream()
                                .filter(person -> others.contains(person.worker()))
                                .map(Person::name)
                                .toList());
    }
}
