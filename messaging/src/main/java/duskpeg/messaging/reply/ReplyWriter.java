package duskpeg.messaging.reply;

import duskpeg.core.act.Deed;
import duskpeg.core.crew.Handled;
import duskpeg.core.crew.Holdings;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.PlantId;
import duskpeg.core.report.Entry;
import duskpeg.core.report.Question;
import duskpeg.core.report.Statement;
import duskpeg.core.round.Round;
import duskpeg.core.round.Tally;
import duskpeg.messaging.language.Forgiven;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;

/**
 * Writes the answer to a message: one segment that says what was understood, what is left, and what must be looked at
 * while the worker still stands at the plant.
 */
public final class ReplyWriter {

    private static final int LONGEST_ECHO = 12;
    private static final int LONGEST_MEANT = 16;
    private static final int MOST_FORGIVEN = 3;
    private static final int MOST_SIRES = 2;
    private static final int MOST_QUESTIONS = 2;
    private static final int LEVELS = 5;

    private final Phrases phrases;
    private final Words words;
    private final AskWriter asks;
    private final TakenBackWriter takenBack;
    private final StripWriter strips;

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
        this.words = new Words(phrases, settings, now, printed);
        this.asks = new AskWriter(words);
        this.takenBack = new TakenBackWriter(words);
        this.strips = new StripWriter(words);
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
        return write(outcomes, List.of());
    }

    /**
     * Writes the answer, and says first which words were taken for others.
     *
     * @param outcomes what became of each line, at least one
     * @param forgiven the words that were taken for others
     * @return text of at most one segment
     */
    public String write(List<Outcome> outcomes, List<Forgiven> forgiven) {
        List<Part> parts = new ArrayList<>(parts(outcomes));
        if (!forgiven.isEmpty()) {
            parts.add(0, forgiven(forgiven));
        }
        for (int level = 0; level < LEVELS; level++) {
            int wording = level;
            String reply = parts.stream().map(part -> part.at(wording)).collect(Collectors.joining(" "));
            if (Words.fits(reply)) {
                return reply;
            }
        }
        return mostOf(parts);
    }

    private Part forgiven(List<Forgiven> words) {
        return new Part(List.of(forgiven(words, MOST_FORGIVEN), forgiven(words, 1)), 0, false, false);
    }

    /** {@code "pegd" = pegged.} */
    private String forgiven(List<Forgiven> all, int most) {
        String said = all.stream()
                .limit(most)
                .map(one -> "\"" + Gsm7.echo(one.said(), LONGEST_ECHO) + "\" = " + meant(one))
                .collect(Collectors.joining(", "));
        return said + (all.size() > most ? ", +" + (all.size() - most) : "") + ".";
    }

    /** The deed in the words of the answers, where it is one; else the word as it is known. */
    private String meant(Forgiven word) {
        return word.deed() == null || word.deed() == Deed.TAKEN_BACK
                ? Gsm7.echo(word.as(), LONGEST_MEANT)
                : words.deed(word.deed(), 2);
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
            if (i > 0 && rest.stream().allMatch(part -> part.lines() == 0)) {
                // No line of the message is left to be counted.
                break;
            }
            String next = reply + (i == 0 ? "" : " ") + rest.get(0).at(LEVELS);
            String withTail =
                    rest.size() == 1 ? next : next + " " + tail(urgentFirst.subList(i + 1, urgentFirst.size()));
            if (!Words.fits(withTail)) {
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

    private Part part(Outcome outcome) {
        if (outcome instanceof Outcome.Noted noted) {
            return part(noted.entry());
        }
        if (outcome instanceof Outcome.Unread unread) {
            return unread(unread);
        }
        if (outcome instanceof Outcome.OwnMorning morning) {
            return same(asks.ownMorning(morning));
        }
        if (outcome instanceof Outcome.OfRow row) {
            return same(asks.ofRow(row.round()));
        }
        if (outcome instanceof Outcome.OfPlant plant) {
            return same(asks.ofPlant(plant));
        }
        if (outcome instanceof Outcome.Next next) {
            return same(asks.next(next));
        }
        if (outcome instanceof Outcome.Seen seen) {
            return same(phrases.say(seen.count() == 0 ? "seen.nothing" : "seen", "count", seen.count()));
        }
        if (outcome instanceof Outcome.OfTie tie) {
            return same(asks.ofTie(tie.fruit()));
        }
        if (outcome instanceof Outcome.Strips inHand) {
            return same(strips.inHand(inHand));
        }
        if (outcome instanceof Outcome.OfStrip strip) {
            boolean urgent = strip.unread();
            return new Part(strips.wordings(strip), 1, urgent, strip.entry().handled() instanceof Handled.NotFree);
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
        if (outcome instanceof Outcome.ReadAfterAll read) {
            String word = Gsm7.echo(read.words(), LONGEST_ECHO);
            return new Part(
                    List.of(phrases.say("settled.read", "word", word), phrases.say("settled.read.brief", "word", word)),
                    0,
                    true,
                    false);
        }
        if (outcome instanceof Outcome.NothingInIt nothing) {
            return same(phrases.say("settled.nothing", "word", Gsm7.echo(nothing.words(), LONGEST_ECHO)));
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
            return round.statement().deeds().contains(Deed.PEGGED) ? pegged(round) : worked(List.of(round));
        }
        if (entry instanceof Entry.OfFinish finish) {
            return finished(finish);
        }
        if (entry instanceof Entry.OfFruit fruit) {
            Set<TieNumber> ties = new LinkedHashSet<>(
                    fruit.fruit().stream().map(one -> one.id().tie()).toList());
            String key = "fruit." + fruit.deed().word();
            String said = phrases.say(key, "count", ties.size(), "ties", words.timed(words.ties(ties), fruit.done()));
            String briefest = phrases.say(key, "count", ties.size(), "ties", words.ties(ties));
            Entry.Early early = fruit.early();
            String warned = early == null
                    ? ""
                    : " " + phrases.say("fruit.early", "tie", early.tie().digits(), "days", early.days());
            return asking(said + warned, said + warned, briefest, 1, fruit.questions());
        }
        if (entry instanceof Entry.OfRow row) {
            Statement.OnRow said = row.statement();
            String text = phrases.say(
                    "row.fruit",
                    "row",
                    words.timed(said.row().label(), row.done()),
                    "count",
                    said.count(),
                    "deed",
                    words.deed(said.deed(), said.count()));
            return said.deed() == Deed.HARVESTED
                    ? new Part(List.of(text + " " + phrases.say("row.harvested"), text), false)
                    : same(text);
        }
        if (entry instanceof Entry.OfTakeBack back) {
            return new Part(takenBack.wordings(back), false);
        }
        if (entry instanceof Entry.OfCorrection correction) {
            return corrected(correction);
        }
        String label = ((Entry.NoSuchRow) entry).row().label();
        return new Part(
                List.of(phrases.say("unknown.row", "row", label), phrases.say("unknown.row.brief", "row", label)),
                true);
    }

    /** What was, in front of what is now. */
    private Part corrected(Entry.OfCorrection correction) {
        Part now = part(correction.now());
        String briefly = takenBack.correctedBriefly(correction.was()) + " ";
        List<String> wordings =
                new ArrayList<>(List.of(takenBack.corrected(correction.was()) + " " + now.at(0), briefly + now.at(0)));
        for (int level = 1; level < LEVELS - 1; level++) {
            wordings.add(briefly + now.at(level));
        }
        return new Part(wordings, now.lines(), false, now.asks());
    }

    private Part finished(Entry.OfFinish entry) {
        Round round = entry.round();
        LocalDate morning = round.id().morning();
        String row = round.id().row().label();
        String brief = finished("finished", row, round);
        String full = words.isThisMorning(morning)
                ? finished("finished", words.timed(row, entry.done()), round)
                : finished("finished.on", row, round);
        return asking(
                full + (words.isBeforeLimit(morning) ? words.time(morning) : ""), brief, brief, 1, entry.questions());
    }

    private String finished(String key, String row, Round round) {
        return phrases.say(
                key,
                "row",
                row,
                "day",
                words.day(round.id().morning()),
                "left",
                round.tally().left());
    }

    private Part pegged(Entry.OfRound entry) {
        Tally tally = entry.round().tally();
        String row = entry.round().id().row().label();
        String said = pegged(entry, words.timed(row + plants(entry), entry.done()));
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
                words.day(entry.round().id().morning()));
    }

    /** What is asked after the last of the lines is what must still be asked about all of them. */
    private Part worked(List<Entry.OfRound> lines) {
        Entry.OfRound last = lines.get(lines.size() - 1);
        LocalDate morning = last.round().id().morning();
        String row = last.round().id().row().label();
        boolean atOnce =
                lines.stream().map(line -> words.when(line.done())).distinct().count() == 1;
        // Behind the row stands the round's morning, so only a time on that day can take its place.
        boolean timeTellsTheDay = atOnce && !words.when(last.done()).isEmpty() && words.isOn(morning, last.done());
        String full = timeTellsTheDay
                ? worked("worked", words.timed(row, last.done()), lines, this::work)
                : worked(words.isThisMorning(morning) ? "worked" : "worked.on", row, lines, this::timedWork);
        String brief = timeTellsTheDay
                ? worked("worked.brief", words.timed(row, last.done()), lines, this::work)
                : worked("worked.brief", row, lines, this::timedWork);
        return asking(
                full + (words.isBeforeLimit(morning) ? words.time(morning) : ""),
                brief,
                worked(lines.size() == 1 ? "worked.brief" : "worked.briefest", row, lines, this::workBriefly),
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
                words.day(round.id().morning()),
                "what",
                lines.stream().map(work).collect(Collectors.joining(", ")),
                "lines",
                lines.size(),
                "left",
                round.tally().left());
    }

    private String timedWork(Entry.OfRound entry) {
        String when = words.when(entry.done());
        return when.isEmpty() ? work(entry) : work(entry) + " " + when;
    }

    private String work(Entry.OfRound entry) {
        return workBriefly(entry) + plants(entry);
    }

    private String workBriefly(Entry.OfRound entry) {
        return phrases.say(
                "worked.what", "count", entry.statement().count(), "deeds", deeds(entry), "ties", tiesOf(entry));
    }

    /** The plant and the plants of its males, with a leading space: {@code (12.7 x 3.9, 14.2)}. */
    private static String plants(Entry.OfRound entry) {
        Statement.OnFlowers said = entry.statement();
        List<PlantId> sires = said.sires();
        List<String> plants = new ArrayList<>();
        if (said.plant() != null) {
            plants.add(new PlantId(said.row(), said.plant()).label());
        }
        if (sires != null) {
            plants.add("x "
                    + sires.stream().limit(MOST_SIRES).map(PlantId::label).collect(Collectors.joining(", "))
                    + (sires.size() > MOST_SIRES ? " +" + (sires.size() - MOST_SIRES) : ""));
        }
        return plants.isEmpty() ? "" : " (" + String.join(" ", plants) + ")";
    }

    private String deeds(Entry.OfRound entry) {
        return entry.statement().deeds().stream()
                .map(deed -> words.because(
                        words.deed(deed, entry.statement().count()),
                        entry.statement().reason()))
                .collect(Collectors.joining(", "));
    }

    private String tiesOf(Entry.OfRound entry) {
        return entry.ties().isEmpty() ? "" : " " + words.ties(entry.ties());
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
}
