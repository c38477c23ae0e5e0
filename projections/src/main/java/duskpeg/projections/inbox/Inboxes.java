package duskpeg.projections.inbox;

import duskpeg.core.act.Subject;
import duskpeg.core.act.TextId;
import duskpeg.core.crew.People;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.report.Question;
import duskpeg.core.round.RoundId;
import duskpeg.core.settle.How;
import duskpeg.core.settle.Settled;
import duskpeg.core.settle.Settlements;
import duskpeg.core.text.Readings;
import duskpeg.core.text.Texts;
import duskpeg.core.text.Texts.Known;
import duskpeg.core.text.Texts.Text;
import duskpeg.core.text.WaitingTexts;
import duskpeg.core.text.WaitingTexts.Waiting;
import duskpeg.projections.Counting;
import duskpeg.projections.board.Boards;
import duskpeg.projections.history.Histories;
import duskpeg.projections.inbox.Inbox.AskedView;
import duskpeg.projections.inbox.Inbox.DoneView;
import duskpeg.projections.inbox.Inbox.SourceView;
import duskpeg.projections.inbox.Inbox.WaitingView;
import duskpeg.projections.inbox.Inbox.Who;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.springframework.stereotype.Component;

/** Reads inboxes. Questions are read off the reports each time, as the board does it; only how many is remembered. */
@Component
public class Inboxes {

    /** More texts than that are not shown at once. */
    static final int MOST = 50;

    /** Questions of older mornings stay on their boards. */
    private static final int MORNINGS = 14;

    private static final int FRUIT = 300;
    private static final int LAST_SETTLED = 20;
    /** Until the questions were counted once, pages tell of the texts that wait. */
    private static final Duration PATIENCE = Duration.ofSeconds(5);

    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("EEE d MMM", Locale.ENGLISH);

    private final WaitingTexts waitingTexts;
    private final Readings readings;
    private final Boards boards;
    private final Histories histories;
    private final Index index;
    private final People people;
    private final Texts texts;
    private final Counting<FarmId> counting =
            new Counting<>(this::version, farm -> open(farm).size(), PATIENCE);

    Inboxes(
            WaitingTexts waitingTexts,
            Readings readings,
            Boards boards,
            Histories histories,
            Index index,
            People people,
            Texts texts) {
        this.waitingTexts = waitingTexts;
        this.readings = readings;
        this.boards = boards;
        this.histories = histories;
        this.index = index;
        this.people = people;
        this.texts = texts;
    }

    /** A question and what it is about. */
    private record Asked(Subject subject, Question question) {}

    /** How many things wait; for the navigation, so no page waits for it once it has been counted. */
    public int waiting(FarmId farm) {
        return waitingTexts.count(farm) + counting.of(farm).orElse(0);
    }

    private long version(FarmId farm) {
        return boards.version() + histories.version() + index.settled(farm);
    }

    /** The supervisors of a farm, who can settle. */
    List<Who> supervisors(FarmId farm) {
        return who(people.those(index.workers(farm, Role.SUPERVISOR)));
    }

    /** Everybody on the crew. */
    List<Who> crew(FarmId farm) {
        return who(people.all(farm));
    }

    private static List<Who> who(List<People.Person> people) {
        return people.stream()
                .map(person -> new Who(person.worker().pseudonym(), person.name()))
                .toList();
    }

    /** The inbox as it stands. */
    public Inbox inbox(FarmId farm) {
        long started = System.nanoTime();
        Writer writer = new Writer(farm);
        long version = version(farm);
        List<AskedView> questions = open(farm).stream()
                .map(writer::asked)
                .sorted(Comparator.comparing(AskedView::heard).reversed())
                .toList();
        counting.note(farm, version, questions.size(), System.nanoTime() - started);
        return new Inbox(
                farm.value(),
                waitingTexts.count(farm) + questions.size(),
                waitingTexts.of(farm, MOST).stream().map(writer::waiting).toList(),
                questions,
                index.lastSettled(farm, LAST_SETTLED).stream().map(writer::done).toList());
    }

    /** The open questions, each once: one about a tie may be asked of a round and of a fruit. */
    private List<Asked> open(FarmId farm) {
        List<Asked> asked = new ArrayList<>();
        boards.asked(farm, MORNINGS).forEach(one -> asked.add(new Asked(one.round(), one.question())));
        histories.asked(farm, FRUIT).forEach(one -> asked.add(new Asked(one.fruit(), one.question())));
        Settlements settlements =
                index.settlements(farm, asked.stream().map(Asked::subject).collect(Collectors.toSet()));
        Set<Object> seen = new HashSet<>();
        return asked.stream()
                .filter(one -> settlements.of(one.subject(), one.question()).isEmpty())
                .filter(one -> seen.add(
                        one.question().kind().ofTie()
                                ? one.question().key()
                                : List.of(one.subject(), one.question().key())))
                .toList();
    }

    /** Writes the views of one farm. */
    private final class Writer {

        private final ZoneId zone;
        private final Map<WorkerId, String> names;
        private final Map<TextId, Optional<Known>> kept = new HashMap<>();

        Writer(FarmId farm) {
            this.zone = index.settings(farm).zone();
            this.names = people.names(farm);
        }

        private Who who(WorkerId worker) {
            return new Who(worker.pseudonym(), names.get(worker));
        }

        private OffsetDateTime time(Instant at) {
            return at.atZone(zone).toOffsetDateTime();
        }

        private Optional<Known> kept(TextId text) {
            return kept.computeIfAbsent(text, texts::known);
        }

        WaitingView waiting(Waiting waiting) {
            Readings.Explained explained = readings.explain(waiting);
            return new WaitingView(
                    waiting.text().value(),
                    waiting.line(),
                    waiting.words(),
                    waiting.worker().map(this::who).orElse(null),
                    waiting.worker().isPresent() ? null : waiting.sender(),
                    time(waiting.heard()),
                    explained.problem(),
                    explained.suggestions());
        }

        AskedView asked(Asked asked) {
            List<SourceView> sources = asked.question().texts().stream()
                    .flatMap(text -> kept(text).stream())
                    .map(this::source)
                    .sorted(Comparator.comparing(SourceView::heard).reversed())
                    .toList();
            Subject subject = asked.subject();
            return new AskedView(
                    subject.toString(),
                    about(subject),
                    page(subject),
                    asked.question().key(),
                    asked.question().kind().word(),
                    asked.question().sentence(),
                    sources.isEmpty() ? time(Instant.EPOCH) : sources.get(0).heard(),
                    sources);
        }

        /** Words that were put right are shown as the worker's: she is the one to ask. */
        private SourceView source(Known source) {
            Optional<WorkerId> by = Optional.ofNullable(
                            index.readings(source.id().farm(), List.of(source.id()))
                                    .get(source.id()))
                    .flatMap(settled -> Optional.ofNullable(settled.worker()))
                    .or(source::worker);
            return new SourceView(
                    source.id().value(),
                    by.map(this::who).orElse(new Who("", null)),
                    source.text().map(Text::words).orElse(null),
                    time(source.heard()));
        }

        private String about(Subject subject) {
            return subject instanceof RoundId round
                    ? "Row " + round.row().label() + ", " + DAY.format(round.morning())
                    : "Tie " + ((FruitId) subject).tie();
        }

        private String page(Subject subject) {
            return subject instanceof RoundId round
                    ? "/board?farm=" + round.farm() + "&morning=" + round.morning() + "#row-"
                            + round.row().label()
                    : "/fruit/" + ((FruitId) subject).tie() + "?farm=" + subject.farm();
        }

        DoneView done(Settled settled) {
            String what = settled instanceof Settled.OfQuestion question
                    ? about(question.subject()) + ": "
                            + new Question(question.kind(), question.values(), question.texts()).sentence()
                    : text((Settled.OfText) settled);
            return new DoneView(
                    time(settled.at()), who(settled.by()), settled.how().word(), what);
        }

        private String text(Settled.OfText settled) {
            if (settled.how() == How.PRIVATE) {
                return "a text that is not shown";
            }
            Set<WorkerId> from = new LinkedHashSet<>();
            kept(settled.text()).flatMap(Known::worker).ifPresent(from::add);
            if (settled.worker() != null) {
                from.add(settled.worker());
            }
            String whose = from.isEmpty()
                    ? "an unknown sender"
                    : from.stream().map(worker -> who(worker).toString()).collect(Collectors.joining(", "));
            String read = settled.how() == How.READ_SO && settled.reading() != null
                    ? " read as " + quoted(settled.reading())
                    : "";
            return whose + ", " + quoted(settled.text()) + (settled.line() > 1 ? ", line " + settled.line() : "")
                    + read;
        }

        private String quoted(TextId text) {
            return kept(text)
                    .flatMap(Known::text)
                    .map(known -> "“" + known.words() + "”")
                    .orElse("words no longer kept");
        }
    }
}
