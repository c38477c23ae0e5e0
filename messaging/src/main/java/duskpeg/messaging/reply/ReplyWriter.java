package duskpeg.messaging.reply;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.act.LossReason;
import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.crew.Handled;
import duskpeg.core.crew.Holdings;
import duskpeg.core.crew.Strip;
import duskpeg.core.crew.StripInHand;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.Numbering;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.report.Done;
import duskpeg.core.report.Entry;
import duskpeg.core.report.Question;
import duskpeg.core.report.Statement;
import duskpeg.core.report.When;
import duskpeg.core.round.Round;
import duskpeg.core.round.Tally;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * Writes the answer to a message: one segment that says what was understood, what is left, and what must be looked at
 * while the worker still stands at the plant.
 */
public final class ReplyWriter {

    private static final int LONGEST_ECHO = 12;
    private static final int LONGEST_NAME = 20;
    private static final int MOST_RUNS = 3;
    private static final int MOST_QUESTIONS = 2;
    private static final int LEVELS = 5;
    private static final DateTimeFormatter CLOCK = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);

    private final Phrases phrases;
    private final FarmSettings settings;
    private final Instant now;
    private final Holdings printed;

    /** For a farm whose ties have no check digits. */
    public ReplyWriter(Phrases phrases, FarmSettings settings, Instant now) {
        this(phrases, settings, now, new Holdings(List.of()));
    }

    /**
     * @param phrases the worker's language
     * @param settings her farm's hours
     * @param now when the message was heard
     * @param printed who held which of the tags that have a check digit: runs of their numbers are told by it
     */
    public ReplyWriter(Phrases phrases, FarmSettings settings, Instant now, Holdings printed) {
        this.phrases = phrases;
        this.settings = settings;
        this.now = now;
        this.printed = printed;
    }

    /**
     * What is said of one line, or of several together.
     *
     * @param wordings from the fullest to the briefest
     * @param lines how many lines it is about
     * @param urgent whether it must not be left out: something was not written down
     * @param asks whether something must be looked at
     */
    private record Part(List<String> wordings, int lines, boolean urgent, boolean asks) {

        Part(List<String> wordings, boolean urgent) {
            this(wordings, 1, urgent, false);
        }

        String at(int level) {
            return wordings.get(Math.min(level, wordings.size() - 1));
        }
    }

    /**
     * Writes the answer.
     *
     * @param outcomes what became of each line, at least one
     * @return text of at most one segment
     */
    public String write(List<Outcome> outcomes) {
        List<Part> parts = parts(outcomes);
        for (int level = 0; level < LEVELS; level++) {
            int wording = level;
            String reply = parts.stream().map(part -> part.at(wording)).collect(Collectors.joining(" "));
            if (fits(reply)) {
                return reply;
            }
        }
        return mostOf(parts);
    }

    /** A part for each line, but one for all lines about the work of the same round. */
    private List<Part> parts(List<Outcome> outcomes) {
        Map<Object, List<Outcome>> together = new LinkedHashMap<>();
        for (Outcome outcome : outcomes) {
            Object about =
                    workedOn(outcome).<Object>map(entry -> entry.round().id()).orElseGet(Object::new);
            together.computeIfAbsent(about, one -> new ArrayList<>()).add(outcome);
        }
        return together.values().stream().map(this::part).toList();
    }

    private static Optional<Entry.OfRound> workedOn(Outcome outcome) {
        return outcome instanceof Outcome.Noted noted
                        && noted.entry() instanceof Entry.OfRound round
                        && !round.statement().deeds().contains(Deed.PEGGED)
                ? Optional.of(round)
                : Optional.empty();
    }

    private Part part(List<Outcome> together) {
        List<Entry.OfRound> worked =
                together.stream().flatMap(outcome -> workedOn(outcome).stream()).toList();
        return worked.isEmpty() ? part(together.get(0)) : worked(worked);
    }

    /** What could not be written down comes first; then as much of the rest as there is room for. */
    private String mostOf(List<Part> parts) {
        List<Part> urgentFirst =
                new ArrayList<>(parts.stream().filter(Part::urgent).toList());
        urgentFirst.addAll(parts.stream().filter(part -> !part.urgent()).toList());
        StringBuilder reply = new StringBuilder();
        for (int i = 0; i < urgentFirst.size(); i++) {
            List<Part> rest = urgentFirst.subList(i, urgentFirst.size());
            String next = reply + (i == 0 ? "" : " ") + rest.get(0).at(LEVELS);
            String withTail =
                    rest.size() == 1 ? next : next + " " + tail(urgentFirst.subList(i + 1, urgentFirst.size()));
            if (!fits(withTail)) {
                return i == 0 ? tail(rest) : reply + " " + tail(rest);
            }
            reply.setLength(0);
            reply.append(next);
        }
        return reply.toString();
    }

    private String tail(List<Part> rest) {
        int lines = rest.stream().mapToInt(Part::lines).sum();
        long unread = rest.stream().filter(Part::urgent).count();
        String more = unread > 0
                ? phrases.say("more.unread", "count", lines, "unread", unread)
                : phrases.say("more", "count", lines);
        return rest.stream().anyMatch(Part::asks) ? more + " " + phrases.say("more.check") : more;
    }

    private static boolean fits(String text) {
        return Gsm7.covers(text) && Gsm7.septets(text) <= Gsm7.SEGMENT;
    }

    private Part part(Outcome outcome) {
        if (outcome instanceof Outcome.Noted noted) {
            return part(noted.entry());
        }
        if (outcome instanceof Outcome.Unread unread) {
            return unread(unread);
        }
        if (outcome instanceof Outcome.OwnMorning morning) {
            return same(ownMorning(morning));
        }
        if (outcome instanceof Outcome.OfRow row) {
            return same(ofRow(row.round()));
        }
        if (outcome instanceof Outcome.OfTie tie) {
            return same(ofTie(tie.fruit()));
        }
        if (outcome instanceof Outcome.Strips strips) {
            return same(strips(strips));
        }
        if (outcome instanceof Outcome.OfStrip strip) {
            return ofStrip(strip);
        }
        if (outcome instanceof Outcome.Who who) {
            String word = Gsm7.echo(who.said(), LONGEST_ECHO);
            return new Part(
                    List.of(
                            phrases.say("who." + who.reason().word(), "word", word),
                            phrases.say("unread.brief", "word", word)),
                    true);
        }
        if (outcome instanceof Outcome.LanguageChanged) {
            return same(phrases.say("language.changed"));
        }
        if (outcome instanceof Outcome.LanguageUnknown unknown) {
            return new Part(
                    List.of(
                            languages(unknown.names().entrySet().stream()
                                    .map(language -> language.getKey() + " " + language.getValue())
                                    .toList()),
                            languages(List.copyOf(unknown.names().keySet()))),
                    false);
        }
        return same(phrases.say("help"));
    }

    private String languages(List<String> known) {
        return phrases.say("language.unknown", "languages", String.join(", ", known));
    }

    private static Part same(String text) {
        return new Part(List.of(text), false);
    }

    /** Wordings with their questions, with fewer of them, and at last with the word that there are some. */
    private Part asking(String full, String brief, String briefest, int lines, List<Question> questions) {
        String check = questions.isEmpty() ? "" : " " + phrases.say("more.check");
        return new Part(
                List.of(
                        full + asked(questions, MOST_QUESTIONS),
                        brief + asked(questions, MOST_QUESTIONS),
                        brief + asked(questions, 1),
                        brief + check,
                        briefest + check),
                lines,
                false,
                !questions.isEmpty());
    }

    private Part part(Entry entry) {
        if (entry instanceof Entry.OfRound round) {
            return pegged(round);
        }
        if (entry instanceof Entry.OfFruit fruit) {
            Set<TieNumber> ties = new LinkedHashSet<>(
                    fruit.fruit().stream().map(one -> one.id().tie()).toList());
            String key = "fruit." + fruit.deed().word();
            String said = phrases.say(key, "count", ties.size(), "ties", timed(ties(ties), fruit.done()));
            String briefest = phrases.say(key, "count", ties.size(), "ties", ties(ties));
            return asking(said, said, briefest, 1, fruit.questions());
        }
        if (entry instanceof Entry.OfRow row) {
            Statement.OnRow said = row.statement();
            String text = phrases.say(
                    "row.fruit",
                    "row",
                    timed(said.row().label(), row.done()),
                    "count",
                    said.count(),
                    "deed",
                    deed(said.deed(), said.count()));
            return said.deed() == Deed.HARVESTED
                    ? new Part(List.of(text + " " + phrases.say("row.harvested"), text), false)
                    : same(text);
        }
        if (entry instanceof Entry.OfTakeBack back) {
            return same(takenBack(back));
        }
        String label = ((Entry.NoSuchRow) entry).row().label();
        return new Part(
                List.of(phrases.say("unknown.row", "row", label), phrases.say("unknown.row.brief", "row", label)),
                true);
    }

    private Part pegged(Entry.OfRound entry) {
        Tally tally = entry.round().tally();
        String row = entry.round().id().row().label();
        String said = pegged(entry, timed(row, entry.done()));
        String males = "";
        if (tally.malesShort() == 0) {
            males = " "
                    + phrases.say(
                            tally.malesAssumed() ? "males.unsaid" : "males",
                            "males",
                            tally.males(),
                            "needed",
                            Tally.MALES_PER_FEMALE * tally.pegged());
        }
        return asking(said + males, said, pegged(entry, row), 1, entry.questions());
    }

    private String pegged(Entry.OfRound entry, String row) {
        int pegged = entry.round().tally().pegged();
        return phrases.say(
                pegged == entry.statement().count() ? "pegged" : "pegged.more",
                "row",
                row,
                "count",
                entry.statement().count(),
                "total",
                pegged,
                "day",
                day(entry.round().id().morning()));
    }

    /** What is asked after the last of the lines is what must still be asked about all of them. */
    private Part worked(List<Entry.OfRound> lines) {
        Entry.OfRound last = lines.get(lines.size() - 1);
        LocalDate morning = last.round().id().morning();
        String row = last.round().id().row().label();
        boolean atOnce =
                lines.stream().map(line -> when(line.done())).distinct().count() == 1;
        // Behind the row stands the round's morning, so only a time on that day can take its place.
        boolean timeTellsTheDay = atOnce && !when(last.done()).isEmpty() && isOn(morning, last.done());
        String full = timeTellsTheDay
                ? worked("worked", timed(row, last.done()), lines, this::work)
                : worked(isThisMorning(morning) ? "worked" : "worked.on", row, lines, this::timedWork);
        String brief = timeTellsTheDay
                ? worked("worked.brief", timed(row, last.done()), lines, this::work)
                : worked("worked.brief", row, lines, this::timedWork);
        return asking(
                full + (now.isBefore(settings.limitOn(morning)) ? time(morning) : ""),
                brief,
                worked(lines.size() == 1 ? "worked.brief" : "worked.briefest", row, lines, this::work),
                lines.size(),
                last.questions());
    }

    private String worked(String key, String row, List<Entry.OfRound> lines, Function<Entry.OfRound, String> work) {
        Round round = lines.get(lines.size() - 1).round();
        return phrases.say(
                key,
                "row",
                row,
                "day",
                day(round.id().morning()),
                "what",
                lines.stream().map(work).collect(Collectors.joining(", ")),
                "lines",
                lines.size(),
                "left",
                round.tally().left());
    }

    private String timedWork(Entry.OfRound entry) {
        String when = when(entry.done());
        return when.isEmpty() ? work(entry) : work(entry) + " " + when;
    }

    private String work(Entry.OfRound entry) {
        return phrases.say(
                "worked.what", "count", entry.statement().count(), "deeds", deeds(entry), "ties", tiesOf(entry));
    }

    private String deeds(Entry.OfRound entry) {
        return entry.statement().deeds().stream()
                .map(deed -> because(
                        deed(deed, entry.statement().count()), entry.statement().reason()))
                .collect(Collectors.joining(", "));
    }

    private String tiesOf(Entry.OfRound entry) {
        return entry.ties().isEmpty() ? "" : " " + ties(entry.ties());
    }

    private Part unread(Outcome.Unread unread) {
        String key = "unread." + unread.problem().name().toLowerCase(Locale.ROOT);
        String word = Gsm7.echo(unread.word(), LONGEST_ECHO);
        return new Part(
                List.of(
                        phrases.say(key, "word", word),
                        phrases.say(word.isEmpty() ? "unread.brief.empty" : "unread.brief", "word", word)),
                true);
    }

    private String ownMorning(Outcome.OwnMorning morning) {
        String next = morning.nextTie()
                .map(tie -> " " + phrases.say("next.tie", "tie", tie))
                .orElse("");
        if (morning.rounds().isEmpty()) {
            return phrases.say("own.nothing", "day", day(morning.morning())) + next;
        }
        List<String> rows = new ArrayList<>(morning.rounds().stream()
                .map(round -> phrases.say(
                        "own.row",
                        "row",
                        round.id().row().label(),
                        "left",
                        round.tally().left()))
                .toList());
        int more = 0;
        String said = own(morning, rows, more, next);
        while (!fits(said) && rows.size() > 1) {
            rows.remove(rows.size() - 1);
            said = own(morning, rows, ++more, next);
        }
        return said;
    }

    private String own(Outcome.OwnMorning morning, List<String> rows, int more, String next) {
        return phrases.say(
                        "own",
                        "day",
                        day(morning.morning()),
                        "rows",
                        String.join(", ", rows) + (more == 0 ? "" : ", +" + more))
                + time(morning.morning())
                + next;
    }

    private String ofRow(Round round) {
        Tally tally = round.tally();
        return phrases.say(
                        "ask.row",
                        "row",
                        round.id().row().label(),
                        "day",
                        day(round.id().morning()),
                        "pegged",
                        tally.pegged(),
                        "tied",
                        tally.tied(),
                        "lost",
                        tally.lost(),
                        "left",
                        tally.left())
                + time(round.id().morning());
    }

    private String ofTie(Fruit fruit) {
        TieNumber tie = fruit.id().tie();
        return fruit.state()
                .map(state -> phrases.say("ask.tie", "tie", tie, "state", phrases.say("state." + state.word()))
                        + fruit.tying()
                                .map(tied -> " "
                                        + phrases.say(
                                                "ask.tie.where",
                                                "row",
                                                tied.round().row().label(),
                                                "day",
                                                day(tied.round().morning())))
                                .orElse(""))
                .orElseGet(() -> phrases.say("ask.tie.unknown", "tie", tie));
    }

    private String takenBack(Entry.OfTakeBack back) {
        if (back.acts().isEmpty() && back.custody().isEmpty()) {
            return phrases.say("taken.nothing");
        }
        Map<List<Object>, List<Act>> alike = new LinkedHashMap<>();
        for (Act act : back.acts()) {
            List<Object> key = act.subject() instanceof FruitId
                    ? List.of(act.deed(), act.told().line())
                    : List.of(act.subject(), count(act), act.told().line());
            alike.computeIfAbsent(key, one -> new ArrayList<>()).add(act);
        }
        List<String> said = new ArrayList<>(
                alike.values().stream().map(this::takenBackTogether).toList());
        said.addAll(custodyTakenBack(back.custody()));
        int parts = said.size();
        String all = phrases.say("taken", "what", String.join("; ", said));
        while (!fits(all) && said.size() > 1) {
            said.remove(said.size() - 1);
            all = phrases.say("taken", "what", String.join("; ", said) + "; +" + (parts - said.size()));
        }
        return all;
    }

    private List<String> custodyTakenBack(List<CustodyEvent> events) {
        List<TieNumber> damaged = new ArrayList<>();
        List<String> said = new ArrayList<>();
        for (CustodyEvent event : events) {
            if (event.kind() == CustodyEvent.Kind.DAMAGED) {
                damaged.add(event.ties().first());
            } else {
                said.add(phrases.say("taken.strip", "strip", event.ties()));
            }
        }
        if (!damaged.isEmpty()) {
            said.add(phrases.say("taken.damaged", "ties", ties(damaged)));
        }
        return said;
    }

    private String takenBackTogether(List<Act> acts) {
        Act first = acts.get(0);
        List<TieNumber> ties = acts.stream()
                .flatMap(act -> act instanceof Act.Tied tied
                        ? tied.ties().stream()
                        : act.subject() instanceof FruitId fruit
                                ? List.of(fruit.tie()).stream()
                                : List.<TieNumber>of().stream())
                .toList();
        int said = ties.isEmpty() ? count(first) : ties.size();
        String deeds = acts.stream()
                .map(act -> because(deed(act.deed(), said), act instanceof Act.Lost lost ? lost.reason() : null))
                .distinct()
                .collect(Collectors.joining(", "));
        String what = ties.isEmpty() ? deeds : deeds + " " + ties(ties);
        return first.subject()
                .inRow()
                .map(row -> phrases.say("taken.row", "row", row.label(), "count", count(first), "what", what))
                .orElse(what);
    }

    private static int count(Act act) {
        return act instanceof Act.OnFlowers flowers ? flowers.count() : ((Act.OnFruit) act).count();
    }

    private String strips(Outcome.Strips strips) {
        List<String> said = new ArrayList<>();
        for (StripInHand inHand : strips.inHand()) {
            inHand.next()
                    .ifPresent(next -> said.add(phrases.say(
                            "strip.one",
                            "strip",
                            inHand.strip(),
                            "tie",
                            next,
                            "left",
                            inHand.unused().count())));
        }
        if (said.isEmpty()) {
            return about(strips.name(), phrases.say("strip.none"));
        }
        int all = said.size();
        String text = about(strips.name(), phrases.say("strip.own", "strips", String.join("; ", said)));
        while (!fits(text) && said.size() > 1) {
            said.remove(said.size() - 1);
            text = about(
                    strips.name(),
                    phrases.say("strip.own", "strips", String.join("; ", said) + "; +" + (all - said.size())));
        }
        return text;
    }

    /** Says of whom it is, where it is not of her who is answered. */
    private String about(@Nullable String name, String what) {
        return name == null ? what : phrases.say("strip.about", "name", name(name), "what", what);
    }

    private static String name(String name) {
        return Gsm7.echo(name, LONGEST_NAME);
    }

    private Part ofStrip(Outcome.OfStrip outcome) {
        Handled handled = outcome.entry().handled();
        String other = outcome.other() == null ? "" : name(outcome.other());
        if (handled instanceof Handled.Done done) {
            return handled(outcome.name(), other, done);
        }
        if (handled instanceof Handled.NotFree notFree) {
            String text = phrases.say(
                    notFree.holder().isPresent() ? "strip.not-free" : "strip.not-free.used",
                    "strip",
                    notFree.claim().strip(),
                    "tie",
                    notFree.tie(),
                    "name",
                    other);
            return new Part(List.of(about(outcome.name(), text), text), 1, true, true);
        }
        if (handled instanceof Handled.WhichStrip which) {
            String full = phrases.say(
                    "strip.which",
                    "strips",
                    which.strips().stream()
                            .limit(MOST_RUNS)
                            .map(Strip::toString)
                            .collect(Collectors.joining(" ")));
            return new Part(List.of(about(outcome.name(), full), full, phrases.say("strip.which.brief")), true);
        }
        String nothing = phrases.say("strip.nothing");
        return new Part(List.of(about(outcome.name(), nothing), nothing), true);
    }

    private Part handled(@Nullable String name, String other, Handled.Done done) {
        CustodyEvent event = done.events().get(0);
        String said = event.kind() == CustodyEvent.Kind.DAMAGED
                ? phrases.say(
                        "strip.damaged",
                        "ties",
                        ties(done.events().stream()
                                .map(one -> one.ties().first())
                                .toList()))
                : phrases.say(
                        "strip." + event.kind().word(),
                        "strip",
                        event.ties(),
                        "count",
                        event.ties().size(),
                        "name",
                        other);
        // After handing over it is the other who goes on with them.
        String next = event.kind() == CustodyEvent.Kind.HANDED_OVER
                ? ""
                : done.next()
                        .map(tie -> " " + phrases.say("next.tie", "tie", tie))
                        .orElse("");
        return new Part(List.of(about(name, said + next), about(name, said), said), false);
    }

    /** The first question of each kind, with a leading space. */
    private String asked(List<Question> questions, int most) {
        Set<Question.Kind> said = new LinkedHashSet<>();
        StringBuilder asked = new StringBuilder();
        for (Question question : questions) {
            if (said.add(question.kind()) && said.size() <= most) {
                asked.append(' ').append(question(question));
            }
        }
        return asked.toString();
    }

    private String question(Question question) {
        Object[] arguments = new Object[2 * question.values().size()];
        for (int i = 0; i < question.values().size(); i++) {
            arguments[2 * i] = "v" + i;
            arguments[2 * i + 1] = question.values().get(i);
        }
        return phrases.say("question." + question.kind().word(), arguments);
    }

    /** The time left until the limit, with a leading space; nothing on another day. */
    private String time(LocalDate morning) {
        if (!isThisMorning(morning)) {
            return "";
        }
        Duration left = Duration.between(now, settings.limitOn(morning));
        String limit = settings.limit().toString();
        return " "
                + (left.isNegative() || left.isZero()
                        ? phrases.say("time.past", "limit", limit)
                        : phrases.say(
                                "time",
                                "left",
                                String.format(Locale.ROOT, "%dh%02d", left.toHours(), left.toMinutesPart()),
                                "limit",
                                limit));
    }

    private boolean isThisMorning(LocalDate morning) {
        return settings.dateAt(now).equals(morning) && !settings.afternoonAt(now);
    }

    private String day(LocalDate date) {
        return date.getDayOfMonth() + " " + phrases.month(date.getMonth());
    }

    /** What was said, and when it was done where that was said too. */
    private String timed(String what, Done done) {
        String when = when(done);
        return when.isEmpty() ? what : phrases.say("done", "what", what, "when", when);
    }

    /** When it was done, as far as it was said; without the day where that is today. */
    private String when(Done done) {
        if (done.said() instanceof When.Now) {
            return "";
        }
        String day = day(settings.dateAt(done.at()));
        if (done.said() instanceof When.Yesterday yesterday && yesterday.clock() == null) {
            return day;
        }
        String clock = CLOCK.format(done.at().atZone(settings.zone()));
        return isOn(settings.dateAt(now), done) ? clock : day + " " + clock;
    }

    private boolean isOn(LocalDate day, Done done) {
        return settings.dateAt(done.at()).equals(day);
    }

    private String because(String lost, @Nullable LossReason reason) {
        return reason == null ? lost : lost + " (" + phrases.say("reason." + reason.word()) + ")";
    }

    /** What was done, said of so many. */
    private String deed(Deed deed, int count) {
        return phrases.say("deed." + deed.word(), "count", count);
    }

    /** Ties as runs of consecutive numbers. */
    private String ties(Collection<TieNumber> ties) {
        List<List<TieNumber>> runs = new ArrayList<>();
        for (TieNumber tie : ties) {
            List<TieNumber> run = runs.isEmpty() ? List.of() : runs.get(runs.size() - 1);
            if (!run.isEmpty() && follows(tie, run.get(run.size() - 1))) {
                run.add(tie);
            } else {
                runs.add(new ArrayList<>(List.of(tie)));
            }
        }
        String said = runs.stream()
                .limit(MOST_RUNS)
                .map(run -> run.size() == 1 ? run.get(0).digits() : run.get(0) + "-" + run.get(run.size() - 1))
                .collect(Collectors.joining(" "));
        int more = runs.stream().skip(MOST_RUNS).mapToInt(List::size).sum();
        return more == 0 ? said : said + " +" + more;
    }

    private boolean follows(TieNumber tie, TieNumber before) {
        Numbering numbering = printed.numberingOf(before);
        return numbering == printed.numberingOf(tie) && numbering.serial(tie) == numbering.serial(before) + 1;
    }
}
