package duskpeg.core.fieldbook;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.act.FieldEvent;
import duskpeg.core.act.OfficeEvent;
import duskpeg.core.act.Seal;
import duskpeg.core.act.Subject;
import duskpeg.core.act.Told;
import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.crew.Entered;
import duskpeg.core.crew.Handled;
import duskpeg.core.crew.Handling;
import duskpeg.core.crew.StripInHand;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index.SaidOf;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.fruit.TieUses;
import duskpeg.core.maturity.Ripening;
import duskpeg.core.planting.RowId;
import duskpeg.core.planting.Rows;
import duskpeg.core.published.Published;
import duskpeg.core.report.Done;
import duskpeg.core.report.Entry;
import duskpeg.core.report.Question;
import duskpeg.core.report.Report;
import duskpeg.core.report.Statement;
import duskpeg.core.report.When;
import duskpeg.core.round.Round;
import duskpeg.core.round.RoundId;
import duskpeg.core.round.RoundQuestions;
import duskpeg.core.settle.How;
import duskpeg.core.settle.Settle;
import duskpeg.core.settle.Settled;
import duskpeg.core.store.StoredEvents;
import duskpeg.core.text.Texts;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.axonframework.commandhandling.CommandHandler;
import org.axonframework.eventsourcing.eventstore.EventStore;
import org.axonframework.messaging.Message;
import org.axonframework.messaging.unitofwork.CurrentUnitOfWork;
import org.axonframework.messaging.unitofwork.UnitOfWork;
import org.axonframework.modelling.command.Aggregate;
import org.axonframework.modelling.command.ConcurrencyException;
import org.axonframework.modelling.command.Repository;
import org.jspecify.annotations.Nullable;

/**
 * The field book: where reports are written down. A well-formed report of a known worker on a known row is always
 * written; what looks wrong in it comes back as questions.
 *
 * <p>{@link #record} must be called inside a unit of work, as from a command handler: all that one message says is
 * written in one transaction, or none of it.
 */
public class FieldBook {

    private static final String OPENED = FieldBook.class.getName() + ".opened";

    private final Repository<Page> pages;
    private final EventStore events;
    private final StoredEvents stored;
    private final Index index;
    private final Texts texts;
    private final Custody custody;

    FieldBook(Repository<Page> pages, EventStore events, StoredEvents stored, Index index, Texts texts) {
        this.pages = pages;
        this.events = events;
        this.stored = stored;
        this.index = index;
        this.texts = texts;
        this.custody = new Custody(index, event -> {
            open(event.subject()).execute(page -> page.write(event));
            index.enter(event);
        });
    }

    /**
     * Enter what a farm set up.
     *
     * @param events in order, {@link FarmEvent.Opened} first, then what the farm has, then the strips of its crew
     */
    public record SetUp(List<FieldEvent> events) {}

    /**
     * Enters what a farm set up.
     *
     * @throws IllegalArgumentException if it enrols somebody under the pseudonym of one who was erased
     */
    @CommandHandler
    public void handle(SetUp setUp) {
        for (FieldEvent event : setUp.events()) {
            if (event instanceof FarmEvent.Enrolled enrolled
                    && index.erased(enrolled.worker().farm()).containsKey(enrolled.worker())) {
                throw new IllegalArgumentException("erased, and never enrolled again: " + enrolled.worker());
            }
            open(event.subject()).execute(page -> page.write(event));
            index.enter(event);
        }
    }

    /**
     * Handle ties in somebody's hands, as entered on a page.
     *
     * @param at when it is entered
     */
    public record HandleTies(Handling handling, WorkerId by, Instant at) {}

    /** Handles ties in somebody's hands. */
    @CommandHandler
    public Handled handle(HandleTies command) {
        custody.hold(Custody.hands(command.handling()));
        return custody.handle(command.handling(), Entered.onPage(command.by()), command.at());
    }

    /**
     * Enter something on a page.
     *
     * @param event what
     */
    public record Enter(OfficeEvent event) {}

    /** Enters it, and tells whether it was entered: what somebody says who may not is not. */
    @CommandHandler
    public boolean handle(Enter command) {
        return handle(new EnterAll(List.of(command.event())));
    }

    /**
     * Enter several things on a page, all or none.
     *
     * @param events what, in order
     */
    public record EnterAll(List<OfficeEvent> events) {

        public EnterAll {
            events = List.copyOf(events);
        }
    }

    /** Enters them, and tells whether they were entered. */
    @CommandHandler
    public boolean handle(EnterAll command) {
        for (OfficeEvent event : command.events()) {
            WorkerId by = event.by();
            if (by != null && !mayEnter(by, event)) {
                return false;
            }
        }
        for (OfficeEvent event : command.events()) {
            open(event.subject()).execute(page -> page.write(event));
            index.enter(event);
        }
        return true;
    }

    private boolean mayEnter(WorkerId by, OfficeEvent event) {
        return by.farm().equals(event.subject().farm())
                && (event.needsSupervisor()
                        ? index.isSupervisor(by)
                        : index.workers(by.farm()).containsKey(by));
    }

    /**
     * Writes a report down.
     *
     * @return an entry for each line of the report, in order
     */
    public List<Entry> record(Report report) {
        return new Writing(report).entries();
    }

    /**
     * Settles something, unless it was settled before; must be called inside a unit of work.
     *
     * @return whether it is settled by this
     */
    public boolean settle(Settled settled) {
        if (isSettled(settled)) {
            return false;
        }
        open(settled.subject()).execute(page -> page.write(settled));
        index.enter(settled);
        return true;
    }

    /**
     * Whether the matter was settled before. Until the unit of work ends nobody else can settle it, nor anything else
     * of the same subject.
     */
    public boolean isSettled(Settled settled) {
        return open(settled.subject()).invoke(Page::settled).stream().anyMatch(settled::sameMatter);
    }

    /** Settles a question that is asked now, once. */
    @CommandHandler
    public Settle.Result handle(Settle.AsReported settle) {
        Subject subject = settle.subject();
        if (!index.isSupervisor(settle.by()) || !settle.by().farm().equals(subject.farm())) {
            return Settle.Result.NOT_A_SUPERVISOR;
        }
        Question question = questions(subject).stream()
                .filter(one -> one.key().equals(settle.question()))
                .findFirst()
                .orElse(null);
        if (question == null) {
            return Settle.Result.NOT_WAITING;
        }
        if (saidBy(subject, question).contains(settle.by())) {
            return Settle.Result.NOT_THE_SAME;
        }
        Settle.Own note = settle.note();
        Settled.OfQuestion settled = new Settled.OfQuestion(
                subject,
                question.kind(),
                question.values(),
                question.texts(),
                How.AS_REPORTED,
                note == null ? null : note.id(),
                note == null ? null : Seal.of(note.salt(), note.words()),
                settle.by(),
                settle.at());
        if (!settle(settled)) {
            return Settle.Result.NOT_WAITING;
        }
        if (note != null) {
            texts.keep(note, settle.by(), settle.at());
        }
        return Settle.Result.SETTLED;
    }

    private List<Question> questions(Subject subject) {
        if (subject instanceof RoundId id) {
            Round round = round(id);
            return RoundQuestions.of(
                    round, index.settings(id.farm()), index.uses(id.farm(), round.ties()), index.rows(id.farm()));
        }
        return subject instanceof FruitId id
                ? fruit(id).questions(index.uses(id.farm(), List.of(id.tie())))
                : List.of();
    }

    /** Whose reports the question was read from. */
    private Set<WorkerId> saidBy(Subject subject, Question question) {
        List<? extends Act> acts = subject instanceof RoundId round
                ? round(round).acts()
                : fruit((FruitId) subject).acts();
        return acts.stream()
                .map(Act::told)
                .filter(told -> question.texts().contains(told.text()))
                .map(Told::by)
                .collect(Collectors.toSet());
    }

    /** The rounds of a morning of which the worker has said something that stands, by row. */
    public List<Round> roundsSaidBy(WorkerId worker, LocalDate morning) {
        return index.roundsSaidBy(worker, morning).stream().map(this::round).toList();
    }

    /** The rounds of a morning of which anything stands. */
    public List<Round> rounds(FarmId farm, LocalDate morning) {
        return index.plantings(farm).stream()
                .flatMap(planting -> planting.rows().stream())
                .map(row -> new RoundId(row.id(), morning))
                .map(id -> Round.of(id, written(id).toList()))
                .filter(round -> !round.acts().isEmpty() || round.isFinished())
                .toList();
    }

    /**
     * All that was ever written on a subject's page, in this unit of work too. It is read past the page, so that nobody who
     * writes has to wait for one who only looks.
     */
    private Stream<Act> written(Subject subject) {
        return events.readEvents(subject.toString())
                .asStream()
                .map(Message::getPayload)
                .filter(Act.class::isInstance)
                .map(Act.class::cast);
    }

    /** The round as it stands, for answering; must be called inside a unit of work. */
    public Round round(RoundId id) {
        return Round.of(id, actsOn(id));
    }

    /** The fruit as it stands, for answering; must be called inside a unit of work. */
    public Fruit fruit(FruitId id) {
        List<Act> acts = new ArrayList<>();
        index.roundsOf(id.farm(), id.tie()).stream().distinct().forEach(round -> acts.addAll(actsOn(round)));
        acts.addAll(actsOn(id));
        return Fruit.of(id, acts);
    }

    private List<Act> actsOn(Subject subject) {
        return isWrittenOn(subject) ? open(subject).invoke(Page::acts) : List.of();
    }

    private boolean isWrittenOn(Subject subject) {
        return written(subject).findAny().isPresent();
    }

    /**
     * A page as this node knows it. Where another may have written on it meanwhile, the unit of work fails before it commits
     * if one did, with a {@link ConcurrencyException}: what this node kept is dropped by that, and read when it is tried again.
     */
    private Aggregate<Page> open(Subject subject) {
        try {
            Aggregate<Page> page = pages.loadOrCreate(subject.toString(), () -> new Page(subject));
            if (stored.areOfSeveralNodes()) {
                Long version = page.version();
                opened().putIfAbsent(subject.toString(), version == null ? -1 : version);
            }
            return page;
        } catch (RuntimeException e) {
            throw e;
        } catch (Exception e) {
            throw new IllegalStateException("a page can always be made", e);
        }
    }

    /** The pages that the unit of work opened, with the numbers of their last events then; all are asked for at its end. */
    private Map<String, Long> opened() {
        UnitOfWork<?> unit = CurrentUnitOfWork.get().root();
        return unit.getOrComputeResource(OPENED, key -> {
            Map<String, Long> opened = new LinkedHashMap<>();
            unit.onPrepareCommit(done -> stored.last(opened.keySet()).forEach((stream, last) -> {
                if (last > opened.getOrDefault(stream, -1L)) {
                    throw new ConcurrencyException("written on by another node: " + stream);
                }
            }));
            return opened;
        });
    }

    /** One report being written down. */
    private final class Writing implements TakingBack.Pages {

        /** How many rounds back a row is looked through for what to take back: tonight's and the one before. */
        private static final int MOST_ROUNDS = 2;

        private final Report report;
        private final FarmId farm;
        private final FarmSettings settings;
        private final Map<String, Aggregate<Page>> open = new TreeMap<>();
        private final Map<RowId, Boolean> rows = new HashMap<>();
        private final Map<RoundId, Boolean> spokenOf = new HashMap<>();
        private final TakingBack takingBack;

        Writing(Report report) {
            this.report = report;
            this.farm = report.by().farm();
            this.settings = index.settings(farm);
            this.takingBack = new TakingBack(
                    report.by(),
                    report.text(),
                    report.lines().stream().mapToInt(Report.Line::number).max().orElse(0),
                    this);
        }

        List<Entry> entries() {
            holdInOrder();
            return report.lines().stream().map(this::entry).toList();
        }

        /**
         * Takes every lock this report needs in one fixed order, strips before pages and pages by name, so that two
         * reports can never wait for each other.
         */
        private void holdInOrder() {
            custody.hold(report.lines().stream().flatMap(this::hands));
            if (report.lines().stream().map(Report.Line::statement).anyMatch(Writing::isOfTies)) {
                index.strips().hold(report.by());
            }
            report.lines().stream()
                    .flatMap(this::subjects)
                    .map(Subject::toString)
                    .distinct()
                    .sorted()
                    .forEach(name -> open.put(name, FieldBook.this.open(Subject.parse(name))));
        }

        /** Whether it may take ties from her strips or give them back. */
        private static boolean isOfTies(Statement statement) {
            return !(statement instanceof Statement.Finished
                    || (statement instanceof Statement.OnFlowers flowers
                            && !flowers.deeds().contains(Deed.TIED)));
        }

        private Stream<WorkerId> hands(Report.Line line) {
            if (line.statement() instanceof Statement.OfStrip said) {
                return Custody.hands(said.handling());
            }
            return line.statement() instanceof Statement.TakeBack back
                    ? toTakeBack(back).stream()
                            .flatMap(said -> index.strips().said(said.text()).stream())
                            .flatMap(Custody::hands)
                    : Stream.of();
        }

        /** What a line may write on, and what it must read before. A page that is only read is there already. */
        private Stream<? extends Subject> subjects(Report.Line line) {
            Statement statement = line.statement();
            if (statement instanceof Statement.Correction correction) {
                Statement right = correction.right();
                List<Subject> before = said(correction, line);
                return Stream.concat(
                        before.stream(),
                        right instanceof Statement.OnFlowers && !before.isEmpty()
                                ? Stream.of()
                                : subjects(right, report.done(line, settings)));
            }
            return subjects(statement, report.done(line, settings));
        }

        private Stream<? extends Subject> subjects(Statement statement, Done done) {
            if (statement instanceof Statement.OnFlowers flowers) {
                return hasRow(flowers.row()) ? Stream.of(round(flowers, done)) : Stream.of();
            }
            if (statement instanceof Statement.OnFruit fruit) {
                return fruit.ties().stream().map(tie -> new FruitId(farm, tie));
            }
            if (statement instanceof Statement.OnRow onRow) {
                return hasRow(onRow.row()) ? Stream.of(onRow.row()) : Stream.of();
            }
            if (statement instanceof Statement.Finished finished) {
                return hasRow(finished.row()) ? Stream.of(round(finished, done)) : Stream.of();
            }
            if (statement instanceof Statement.TakeBackPart part) {
                return said(part.row()).stream();
            }
            if (statement instanceof Statement.TakeBackTies back) {
                return back.ties().stream()
                        .flatMap(tie -> Stream.<Subject>concat(
                                Stream.of(new FruitId(farm, tie)), index.roundsOf(farm, tie).stream()))
                        .filter(FieldBook.this::isWrittenOn);
            }
            if (statement instanceof Statement.OfStrip said) {
                return Stream.of(said.handling().worker());
            }
            return toTakeBack((Statement.TakeBack) statement).stream().map(SaidOf::subject);
        }

        /** What of a row she spoke of last, the last first. */
        private List<Subject> said(RowId row) {
            return index.said(report.by(), report.text(), Optional.of(row)).stream()
                    .map(SaidOf::subject)
                    .distinct()
                    .limit(MOST_ROUNDS)
                    .toList();
        }

        /** Where that may be which a correction is about: only in the round of its time, where it says one. */
        private List<Subject> said(Statement.Correction correction, Report.Line line) {
            Statement right = correction.right();
            if (right instanceof Statement.OnFlowers flowers) {
                return index.said(report.by(), report.text(), Optional.of(flowers.row())).stream()
                        .map(SaidOf::subject)
                        .filter(RoundId.class::isInstance)
                        .filter(round -> line.when() instanceof When.Now
                                || round.equals(round(flowers, report.done(line, settings))))
                        .distinct()
                        .limit(MOST_ROUNDS)
                        .toList();
            }
            return subjects(right, report.done(line, settings))
                    .filter(FieldBook.this::isWrittenOn)
                    .<Subject>map(subject -> subject)
                    .toList();
        }

        private List<SaidOf> toTakeBack(Statement.TakeBack back) {
            return index.lastSaid(report.by(), report.text(), Optional.ofNullable(back.row()));
        }

        private Entry entry(Report.Line line) {
            Statement statement = line.statement();
            Done done = report.done(line, settings);
            Told told = report.told(line, done);
            if (statement instanceof Statement.Correction correction) {
                return correction(correction, line, done);
            }
            if (statement instanceof Statement.TakeBack back) {
                return takeBack(back, told);
            }
            if (statement instanceof Statement.TakeBackPart part) {
                return hasRow(part.row()) ? takingBack.part(said(part.row()), part, told) : noSuchRow(part.row());
            }
            if (statement instanceof Statement.TakeBackTies back) {
                Map<TieNumber, List<RoundId>> rounds = new LinkedHashMap<>();
                back.ties().forEach(tie -> rounds.put(tie, index.roundsOf(farm, tie)));
                return takingBack.ties(rounds, tie -> new FruitId(farm, tie), told);
            }
            if (statement instanceof Statement.OfStrip said) {
                Entered entered = new Entered(report.by(), report.text(), report.seal());
                return new Entry.OfStrip(said.handling(), custody.handle(said.handling(), entered, report.heard()));
            }
            return work(statement, done, told, List.of());
        }

        /**
         * Writes down what was done.
         *
         * @param known ties that were on those flowers before they were told of anew
         */
        private Entry work(Statement statement, Done done, Told told, List<TieNumber> known) {
            if (statement instanceof Statement.OnFlowers flowers) {
                return hasRow(flowers.row()) ? flowers(flowers, done, told, known) : noSuchRow(flowers.row());
            }
            if (statement instanceof Statement.OnFruit fruit) {
                return fruit(fruit, done, told);
            }
            if (statement instanceof Statement.OnRow onRow) {
                return hasRow(onRow.row()) ? onRow(onRow, done, told) : noSuchRow(onRow.row());
            }
            Statement.Finished finished = (Statement.Finished) statement;
            return hasRow(finished.row()) ? finished(finished, done, told) : noSuchRow(finished.row());
        }

        /** Where a correction says no time, it was done when the line it corrects says. */
        private Entry correction(Statement.Correction correction, Report.Line line, Done said) {
            Statement right = correction.right();
            List<Subject> subjects = said(correction, line);
            List<SaidLine> wrong = right instanceof Statement.OnFruit fruit
                    ? subjects.stream()
                            .flatMap(one -> takingBack.corrected(List.of(one), List.of(fruit.deed())).stream())
                            .toList()
                    : takingBack.corrected(subjects, deeds(right)).stream().toList();
            Done done = line.when() instanceof When.Now && !wrong.isEmpty()
                    ? new Done(line.when(), wrong.get(0).told().done())
                    : said;
            Told told = report.told(line, done);
            wrong.forEach(one -> takingBack.drop(one, told));
            Entry now = work(
                    right,
                    done,
                    told,
                    wrong.stream().flatMap(one -> one.ties().stream()).toList());
            return now instanceof Entry.NoSuchRow
                    ? now
                    : new Entry.OfCorrection(
                            wrong.stream().flatMap(one -> one.acts().stream()).toList(), now);
        }

        private static Set<Deed> deeds(Statement right) {
            return right instanceof Statement.OnFlowers flowers
                    ? flowers.deeds()
                    : Set.of(((Statement.OnRow) right).deed());
        }

        private Entry finished(Statement.Finished said, Done done, Told told) {
            RoundId id = round(said, done);
            write(new Act.Finished(id, told));
            Round round = Round.of(id, acts(id));
            return new Entry.OfFinish(done, round, questions(round, told));
        }

        /** What is finished is the work of that day's morning, also where it is said in the afternoon. */
        private RoundId round(Statement.Finished said, Done done) {
            return new RoundId(said.row(), settings.dateAt(done.at()));
        }

        private boolean hasRow(RowId row) {
            return rows.computeIfAbsent(row, index::hasRow);
        }

        private Entry noSuchRow(RowId row) {
            return new Entry.NoSuchRow(row);
        }

        private Entry flowers(Statement.OnFlowers said, Done done, Told told, List<TieNumber> known) {
            RoundId id = round(said, done);
            List<TieNumber> ties = List.of();
            for (Deed deed : said.deeds()) {
                Act act = deed == Deed.TIED ? tied(id, said, told, known) : flowerAct(id, deed, said, told);
                if (act instanceof Act.Tied tied) {
                    ties = tied.ties();
                }
                write(act);
            }
            Round round = Round.of(id, acts(id));
            return new Entry.OfRound(said, done, round, ties, questions(round, told));
        }

        private List<Question> questions(Round round, Told told) {
            Rows known = round.namesPlants() ? index.rows(farm) : Rows.UNKNOWN;
            return RoundQuestions.of(round, settings, index.uses(farm, round.ties()), known).stream()
                    .filter(question -> question.texts().contains(told.text()))
                    .toList();
        }

        /**
         * The round a statement is about, by when it was done and not by when it was heard. What is pegged from noon on
         * opens next morning. A flower lost from noon on is one of those where any are pegged already; otherwise it is a
         * late word of that morning.
         */
        private RoundId round(Statement.OnFlowers said, Done done) {
            LocalDate day = settings.dateAt(done.at());
            RoundId ofPegged = new RoundId(said.row(), settings.openingOfPeggedAt(done.at()));
            if (said.deeds().contains(Deed.PEGGED) || (said.deeds().contains(Deed.LOST) && isSpokenOf(ofPegged))) {
                return ofPegged;
            }
            return new RoundId(said.row(), day);
        }

        /** Found out once for the whole report: a page that is held must be the page that is written on. */
        private boolean isSpokenOf(RoundId ofPegged) {
            return spokenOf.computeIfAbsent(
                    ofPegged,
                    id -> isPeggedHere(id)
                            || !Act.standing(written(id).toList()).isEmpty());
        }

        private boolean isPeggedHere(RoundId id) {
            return report.lines().stream()
                    .anyMatch(line -> flowersOf(line.statement())
                            .filter(flowers -> flowers.deeds().contains(Deed.PEGGED)
                                    && round(flowers, report.done(line, settings))
                                            .equals(id))
                            .isPresent());
        }

        private static Optional<Statement.OnFlowers> flowersOf(Statement statement) {
            if (statement instanceof Statement.Correction correction) {
                return flowersOf(correction.right());
            }
            return statement instanceof Statement.OnFlowers flowers ? Optional.of(flowers) : Optional.empty();
        }

        private Act flowerAct(RoundId id, Deed deed, Statement.OnFlowers said, Told told) {
            Integer plant = said.plant();
            return switch (deed) {
                case PEGGED -> new Act.Pegged(id, said.count(), said.males(), plant, said.sires(), told);
                case OPENED -> new Act.Opened(id, said.count(), plant, told);
                case POLLINATED -> new Act.Pollinated(id, said.count(), plant, said.sires(), told);
                case BAGGED -> new Act.Bagged(id, said.count(), plant, told);
                case LOST -> new Act.Lost(id, said.count(), said.reason(), plant, told);
                case TIED, FINISHED, UNBAGGED, CULLED, HARVESTED, TAKEN_BACK ->
                    throw new IllegalArgumentException("not an act on flowers alone: " + deed);
            };
        }

        private Act.Tied tied(RoundId id, Statement.OnFlowers said, Told told, List<TieNumber> known) {
            Integer plant = said.plant();
            if (said.ties() instanceof Statement.Named named) {
                return new Act.Tied(id, said.count(), named.ties(), null, plant, told);
            }
            TieNumber last = ((Statement.NextOnStrip) said.ties()).last();
            List<TieNumber> next = Stream.concat(
                            known.stream(),
                            index.strips(report.by()).stream()
                                    .flatMap(StripInHand::unused)
                                    .filter(tie -> !known.contains(tie)))
                    .limit(said.count())
                    .toList();
            TieNumber counted = next.size() < said.count() ? null : next.get(next.size() - 1);
            if (last == null || last.equals(counted)) {
                return new Act.Tied(id, said.count(), next, null, plant, told);
            }
            // The tie in her hand and her strip disagree: neither is guessed at, and no number is used up.
            return new Act.Tied(id, said.count(), List.of(), new Act.Tied.Disagreement(last, counted), plant, told);
        }

        private Entry fruit(Statement.OnFruit said, Done done, Told told) {
            for (TieNumber tie : said.ties()) {
                write(fruitAct(said.deed(), new FruitId(farm, tie), said.row(), 1, told));
            }
            List<Fruit> fruit = said.ties().stream()
                    .map(tie -> FieldBook.this.fruit(new FruitId(farm, tie)))
                    .toList();
            TieUses uses = index.uses(farm, said.ties());
            return new Entry.OfFruit(
                    said.deed(),
                    done,
                    fruit,
                    fruit.stream().flatMap(one -> one.questions(uses).stream()).toList(),
                    said.deed() == Deed.HARVESTED ? early(fruit, done) : null);
        }

        /** The youngest whose seed is taken for unripe: said while she still stands beside the next one. */
        private Entry.@Nullable Early early(List<Fruit> fruit, Done done) {
            Rows rows = index.rows(farm);
            Published published = index.published(farm);
            LocalDate day = index.settings(farm).dateAt(done.at());
            return fruit.stream()
                    .flatMap(one -> one.tying().stream()
                            .flatMap(tied -> rows.plantingOf(tied.round().row()).stream()
                                    .map(planting -> Ripening.of(
                                                    planting.species(),
                                                    tied.round().morning(),
                                                    published)
                                            .on(day))
                                    .filter(standing -> standing.stage() == Ripening.Stage.TOO_EARLY)
                                    .map(standing -> new Entry.Early(one.id().tie(), standing.age()))))
                    .min(Comparator.comparingLong(Entry.Early::days))
                    .orElse(null);
        }

        private Entry onRow(Statement.OnRow said, Done done, Told told) {
            write(fruitAct(said.deed(), said.row(), null, said.count(), told));
            return new Entry.OfRow(said, done);
        }

        private Act fruitAct(Deed deed, Subject subject, @Nullable RowId rowSaid, int count, Told told) {
            return switch (deed) {
                case UNBAGGED -> new Act.Unbagged(subject, rowSaid, count, told);
                case CULLED -> new Act.Culled(subject, rowSaid, count, told);
                default -> new Act.Harvested(subject, rowSaid, count, told);
            };
        }

        private Entry takeBack(Statement.TakeBack back, Told told) {
            List<Act> takenBack = new ArrayList<>();
            List<CustodyEvent> custodyTakenBack = new ArrayList<>();
            for (SaidOf said : toTakeBack(back)) {
                Act.standing(acts(said.subject())).stream()
                        .filter(act -> act.told().text().equals(said.text()))
                        .forEach(takenBack::add);
                index.strips().said(said.text()).stream()
                        .filter(event -> event.subject().equals(said.subject()))
                        .forEach(custodyTakenBack::add);
                write(new Act.TakenBack(said.subject(), said.text(), told));
            }
            return new Entry.OfTakeBack(takenBack, List.of(), custodyTakenBack);
        }

        @Override
        public List<Act> acts(Subject subject) {
            return open.containsKey(subject.toString()) || isWrittenOn(subject)
                    ? page(subject).invoke(Page::acts)
                    : List.of();
        }

        @Override
        public void write(Act act) {
            page(act.subject()).execute(page -> page.write(act));
            index.enter(act);
        }

        private Aggregate<Page> page(Subject subject) {
            return open.computeIfAbsent(subject.toString(), name -> FieldBook.this.open(subject));
        }
    }
}
