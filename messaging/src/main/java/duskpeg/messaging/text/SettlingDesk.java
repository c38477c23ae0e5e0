package duskpeg.messaging.text;

import duskpeg.core.act.TextId;
import duskpeg.core.crew.People;
import duskpeg.core.crew.People.Person;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.FieldBook;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.report.Statement;
import duskpeg.core.settle.How;
import duskpeg.core.settle.Settle;
import duskpeg.core.settle.Settle.Result;
import duskpeg.core.settle.Settled;
import duskpeg.core.text.Outbox;
import duskpeg.core.text.Texts;
import duskpeg.core.text.Texts.Known;
import duskpeg.core.text.Texts.Text;
import duskpeg.core.text.Texts.UnreadLine;
import duskpeg.core.text.WaitingTexts;
import duskpeg.core.text.WaitingTexts.Waiting;
import duskpeg.messaging.language.Line;
import duskpeg.messaging.language.Reading;
import duskpeg.messaging.language.StripLine;
import duskpeg.messaging.reply.Outcome;
import duskpeg.messaging.reply.ReplyWriter;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.axonframework.commandhandling.CommandHandler;
import org.springframework.stereotype.Component;

/**
 * Where texts that waited are settled, each once. What is settled, what is written down by it and the answer to the
 * worker are one transaction.
 *
 * <p>The work was done when the worker sent her text, as far as that says nothing else; it is known from now on.
 */
@Component
class SettlingDesk {

    private static final String PHONE = "\\+[0-9]{6,15}";

    private final Texts texts;
    private final WaitingTexts waitingTexts;
    private final People people;
    private final Index index;
    private final FieldBook book;
    private final Languages languages;
    private final Scribe scribe;
    private final Outbox outbox;

    SettlingDesk(
            Texts texts,
            WaitingTexts waitingTexts,
            People people,
            Index index,
            FieldBook book,
            Languages languages,
            Scribe scribe,
            Outbox outbox) {
        this.texts = texts;
        this.waitingTexts = waitingTexts;
        this.people = people;
        this.index = index;
        this.book = book;
        this.languages = languages;
        this.scribe = scribe;
        this.outbox = outbox;
    }

    @CommandHandler
    Result handle(Settle.ReadSo settle) {
        if (!isSupervisor(settle.by(), settle.text())) {
            return Result.NOT_A_SUPERVISOR;
        }
        Waiting waiting = waitingTexts.find(settle.text(), settle.line()).orElse(null);
        if (waiting == null) {
            return Result.NOT_WAITING;
        }
        Person worker = waiting.worker()
                .or(() -> Optional.ofNullable(settle.worker()))
                .filter(one -> !one.equals(settle.by()))
                .flatMap(people::find)
                .orElse(null);
        if (worker == null) {
            return Result.NOT_THE_SAME;
        }
        String words = settle.reading().words();
        List<Line> lines = read(worker, words);
        if (!lines.stream().allMatch(this::isReportOnThisFarm)) {
            return Result.NOT_READ;
        }
        if (lines.stream().anyMatch(SettlingDesk::takesBack)) {
            return Result.TAKES_BACK;
        }
        if (!book.settle(new Settled.OfText(
                settle.text(),
                settle.line(),
                How.READ_SO,
                worker.worker(),
                settle.reading().id(),
                settle.by(),
                settle.at()))) {
            return Result.NOT_WAITING;
        }
        if (settle.line() == 0) {
            texts.settledAsAWhole(settle.text());
        }
        texts.keep(settle.reading(), settle.by(), settle.at());
        Text reading =
                new Text(settle.reading().id(), "", words, settle.reading().salt(), settle.at());
        List<Outcome> outcomes = write(reading, worker, waiting.heard(), settle.at(), lines);
        answer(waiting, worker, outcomes, settle.at());
        return Result.SETTLED;
    }

    @CommandHandler
    Result handle(Settle.SaidBy settle) {
        TextId id = settle.text();
        if (!isSupervisor(settle.by(), id)) {
            return Result.NOT_A_SUPERVISOR;
        }
        Waiting waiting = waitingTexts.find(id, 0).orElse(null);
        if (waiting == null || waiting.worker().isPresent()) {
            return Result.NOT_WAITING;
        }
        Person worker = people.find(settle.worker())
                .filter(one -> !one.worker().equals(settle.by()))
                .orElse(null);
        if (worker == null) {
            return Result.NOT_THE_SAME;
        }
        Text text = texts.known(id).flatMap(Known::text).orElseThrow();
        List<Line> lines = read(worker, text.words());
        if (lines.stream().anyMatch(SettlingDesk::takesBack)) {
            return Result.TAKES_BACK;
        }
        if (!book.settle(new Settled.OfText(id, 0, How.SAID_BY, worker.worker(), id, settle.by(), settle.at()))) {
            return Result.NOT_WAITING;
        }
        // What was only asked in it is not asked any more.
        List<Line> reported = lines.stream().filter(line -> !asks(line)).toList();
        List<Outcome> outcomes = write(text, worker, text.heard(), settle.at(), reported);
        List<UnreadLine> unread = UnreadLines.of(reported, outcomes);
        texts.foundToBeOf(id, worker.worker(), unread.size());
        texts.unread(id, unread);
        if (settle.herNumber()
                && text.sender().matches(PHONE)
                && people.withPhone(id.farm(), text.sender()).isEmpty()) {
            people.setPhone(worker.worker(), text.sender());
        }
        answer(waiting, worker, outcomes, settle.at());
        return Result.SETTLED;
    }

    @CommandHandler
    Result handle(Settle.Nothing settle) {
        if (!isSupervisor(settle.by(), settle.text())) {
            return Result.NOT_A_SUPERVISOR;
        }
        Waiting waiting = waitingTexts.find(settle.text(), settle.line()).orElse(null);
        if (waiting == null) {
            return Result.NOT_WAITING;
        }
        if (waiting.worker().filter(settle.by()::equals).isPresent()) {
            return Result.NOT_THE_SAME;
        }
        if (!book.settle(
                new Settled.OfText(settle.text(), settle.line(), settle.how(), null, null, settle.by(), settle.at()))) {
            return Result.NOT_WAITING;
        }
        if (settle.line() == 0) {
            texts.settledAsAWhole(settle.text());
        }
        if (settle.how().told()) {
            waiting.worker().flatMap(people::find).ifPresent(worker -> answer(waiting, worker, List.of(), settle.at()));
        }
        return Result.SETTLED;
    }

    private boolean isSupervisor(WorkerId by, TextId text) {
        return by.farm().equals(text.farm()) && index.isSupervisor(by);
    }

    private List<Line> read(Person worker, String words) {
        return scribe.read(worker.language(), worker.worker().farm(), words);
    }

    private boolean isReportOnThisFarm(Line line) {
        if (!(line.reading() instanceof Reading.Said said)) {
            return false;
        }
        Statement statement = said.statement();
        if (statement instanceof Statement.OnFlowers flowers) {
            return index.hasRow(flowers.row());
        }
        if (statement instanceof Statement.Finished finished) {
            return index.hasRow(finished.row());
        }
        return !(statement instanceof Statement.OnRow onRow) || index.hasRow(onRow.row());
    }

    private static boolean asks(Line line) {
        return line.reading() instanceof Reading.Asked
                || (line.reading() instanceof Reading.OfStrip said
                        && said.line().kind() == StripLine.Kind.ASKED);
    }

    private static boolean takesBack(Line line) {
        return line.reading() instanceof Reading.Said said
                && (said.statement() instanceof Statement.TakeBack
                        || said.statement() instanceof Statement.TakeBackPart
                        || said.statement() instanceof Statement.TakeBackTies
                        || said.statement() instanceof Statement.Correction);
    }

    private List<Outcome> write(Text text, Person worker, Instant sent, Instant now, List<Line> lines) {
        // A visitor of the demo may be at a time before; nothing is heard before it was done.
        Instant heard = now.isBefore(sent) ? sent : now;
        return scribe.write(text, worker, sent, heard, lines, ask -> {
            throw new IllegalArgumentException("nothing is asked when something is settled: " + ask);
        });
    }

    /** Tells the worker what was made of her text, in her language: on the phone it came from, if that is a phone. */
    private void answer(Waiting waiting, Person worker, List<Outcome> outcomes, Instant now) {
        List<Outcome> told = new ArrayList<>();
        told.add(
                outcomes.isEmpty()
                        ? new Outcome.NothingInIt(waiting.words())
                        : new Outcome.ReadAfterAll(waiting.words()));
        told.addAll(outcomes);
        FarmSettings settings = index.settings(worker.worker().farm());
        String reply = new ReplyWriter(
                        languages.of(worker.language()).phrases(),
                        settings,
                        now,
                        index.strips().printed(worker.worker().farm()))
                .write(told);
        String phone = waiting.worker().isPresent() ? worker.phone() : waiting.sender();
        if (phone.matches(PHONE)) {
            outbox.post(
                    worker.worker().farm(),
                    phone,
                    reply,
                    "settled/" + waiting.text().value() + "/" + waiting.line(),
                    now);
        }
    }
}
