package duskpeg.messaging.reply;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.act.LossReason;
import duskpeg.core.act.TextId;
import duskpeg.core.act.Told;
import duskpeg.core.crew.Holding;
import duskpeg.core.crew.Holdings;
import duskpeg.core.crew.Strip;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.fruit.TieUses;
import duskpeg.core.planting.RowId;
import duskpeg.core.report.Done;
import duskpeg.core.report.Entry;
import duskpeg.core.report.Question;
import duskpeg.core.report.Statement;
import duskpeg.core.report.When;
import duskpeg.core.round.Round;
import duskpeg.core.round.RoundId;
import duskpeg.core.round.RoundQuestions;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * One morning on a farm and the messages of its one worker, w1: {@code at("17:10").pegged("12", 14)} is what became of
 * a line of the message that came at 17:10 the evening before.
 */
final class Field {

    static final FarmId HILL = new FarmId("hill");
    static final LocalDate MORNING = LocalDate.of(2026, 8, 15);
    static final FarmSettings SETTINGS =
            new FarmSettings(ZoneId.of("Europe/London"), LocalTime.of(9, 0), LocalTime.of(10, 0), 6);
    static final WorkerId WORKER = new WorkerId(HILL, "w1");
    static final Strip STRIP = new Strip(new TieNumber("004700"), new TieNumber("004749"));

    private final List<Act> acts = new ArrayList<>();
    private int messages;
    private int lines;
    private Instant heard = Instant.EPOCH;
    private When when = new When.Now();

    /** A new message; a clock time from noon on is of the evening before the morning. */
    Field at(String clock) {
        LocalTime time = LocalTime.parse(clock);
        return on(time.isBefore(LocalTime.NOON) ? MORNING : MORNING.minusDays(1), clock);
    }

    /** A new message of that day. */
    Field on(LocalDate day, String clock) {
        messages++;
        lines = 0;
        when = new When.Now();
        heard = day.atTime(LocalTime.parse(clock)).atZone(SETTINGS.zone()).toInstant();
        return this;
    }

    /** From here on the message says that it was done then. */
    Field done(When then) {
        when = then;
        return this;
    }

    String reply(Outcome... outcomes) {
        return reply(List.of(outcomes));
    }

    String reply(List<Outcome> outcomes) {
        return new ReplyWriter(Phrases.load("en"), SETTINGS, heard).write(outcomes);
    }

    static RowId row(String label) {
        return new RowId(HILL, label);
    }

    static RoundId roundOf(String label) {
        return new RoundId(row(label), MORNING);
    }

    static FruitId fruitOf(String tie) {
        return new FruitId(HILL, new TieNumber(tie));
    }

    static List<TieNumber> ties(String... digits) {
        return Arrays.stream(digits).map(TieNumber::new).toList();
    }

    static List<TieNumber> tiesTo(String first, String last) {
        return new Strip(new TieNumber(first), new TieNumber(last)).ties().toList();
    }

    Outcome pegged(String row, int count) {
        return peggedWith(row, count, null);
    }

    Outcome pegged(String row, int count, int males) {
        return peggedWith(row, count, males);
    }

    private Outcome peggedWith(String row, int count, Integer males) {
        Statement.OnFlowers said = new Statement.OnFlowers(row(row), EnumSet.of(Deed.PEGGED), count, males, next());
        Told told = told(said);
        acts.add(new Act.Pegged(roundOf(row), count, males, told));
        return noted(told, said, List.of());
    }

    /** The whole visit in one line, as {@code 2345 12 6} is. */
    Outcome worked(String row, int count, List<TieNumber> ties) {
        return did(EnumSet.range(Deed.OPENED, Deed.TIED), row, count, ties);
    }

    Outcome did(Set<Deed> deeds, String row, int count) {
        return did(deeds, row, count, List.of());
    }

    Outcome lost(String row, int count, LossReason reason) {
        Statement.OnFlowers said =
                new Statement.OnFlowers(row(row), EnumSet.of(Deed.LOST), count, null, next(), reason);
        Told told = told(said);
        acts.add(new Act.Lost(roundOf(row), count, reason, told));
        return noted(told, said, List.of());
    }

    private Outcome did(Set<Deed> deeds, String row, int count, List<TieNumber> ties) {
        Statement.OnFlowers said = new Statement.OnFlowers(row(row), deeds, count, null, next());
        Told told = told(said);
        for (Deed deed : deeds) {
            acts.add(
                    switch (deed) {
                        case OPENED -> new Act.Opened(roundOf(row), count, told);
                        case POLLINATED -> new Act.Pollinated(roundOf(row), count, told);
                        case BAGGED -> new Act.Bagged(roundOf(row), count, told);
                        case TIED -> new Act.Tied(roundOf(row), count, ties, null, told);
                        case LOST -> new Act.Lost(roundOf(row), count, null, told);
                        default -> throw new IllegalArgumentException("not of the visit: " + deed);
                    });
        }
        return noted(told, said, ties);
    }

    /** Tied, but the number she read is not the one her strip led to. */
    Outcome tiedInDoubt(String row, int count, String read, String counted) {
        Statement.OnFlowers said = new Statement.OnFlowers(row(row), EnumSet.of(Deed.TIED), count, null, next());
        Told told = told(said);
        acts.add(new Act.Tied(
                roundOf(row),
                count,
                List.of(),
                new Act.Tied.Disagreement(new TieNumber(read), new TieNumber(counted)),
                told));
        return noted(told, said, List.of());
    }

    private static Statement.TiesSaid next() {
        return new Statement.NextOnStrip(null);
    }

    private Outcome noted(Told told, Statement.OnFlowers said, List<TieNumber> ties) {
        Round round = round(said.row().label());
        List<Question> questions = RoundQuestions.of(round, SETTINGS, uses()).stream()
                .filter(question -> question.texts().contains(told.text()))
                .toList();
        return new Outcome.Noted(new Entry.OfRound(said, done(said), round, ties, questions));
    }

    Outcome harvested(String... ties) {
        return ofFruit(Deed.HARVESTED, null, ties(ties));
    }

    Outcome harvestedInRow(String row, String... ties) {
        return ofFruit(Deed.HARVESTED, row(row), ties(ties));
    }

    Outcome culled(String... ties) {
        return ofFruit(Deed.CULLED, null, ties(ties));
    }

    private Outcome ofFruit(Deed deed, RowId rowSaid, List<TieNumber> ties) {
        Statement.OnFruit said = new Statement.OnFruit(deed, rowSaid, ties);
        Told told = told(said);
        for (TieNumber tie : ties) {
            FruitId id = new FruitId(HILL, tie);
            acts.add(
                    deed == Deed.CULLED
                            ? new Act.Culled(id, rowSaid, 1, told)
                            : new Act.Harvested(id, rowSaid, 1, told));
        }
        List<Fruit> fruit =
                ties.stream().map(tie -> Fruit.of(new FruitId(HILL, tie), acts)).toList();
        return new Outcome.Noted(new Entry.OfFruit(
                deed,
                done(said),
                fruit,
                fruit.stream().flatMap(one -> one.questions(uses()).stream()).toList(),
                null));
    }

    Outcome ofRow(Deed deed, String row, int count) {
        Statement.OnRow said = new Statement.OnRow(deed, row(row), count);
        return new Outcome.Noted(new Entry.OfRow(said, done(said)));
    }

    /** Takes back all acts of the message that came that many messages before this one. */
    Outcome takenBack(int messagesBefore) {
        TextId text = text(messages - messagesBefore);
        List<Act> back = Act.standing(acts).stream()
                .filter(act -> act.told().text().equals(text))
                .toList();
        Told told = told(new Statement.TakeBack(null));
        back.stream().map(Act::subject).distinct().forEach(subject -> acts.add(new Act.TakenBack(subject, text, told)));
        return new Outcome.Noted(new Entry.OfTakeBack(back));
    }

    Outcome noSuchRow(String row) {
        return new Outcome.Noted(new Entry.NoSuchRow(row(row)));
    }

    Outcome askedOfRow(String row) {
        return new Outcome.OfRow(round(row));
    }

    Outcome askedOfTie(String tie) {
        return new Outcome.OfTie(Fruit.of(fruitOf(tie), acts));
    }

    Outcome askedOwnMorning(String nextTie, String... rows) {
        return new Outcome.OwnMorning(
                MORNING,
                Arrays.stream(rows).map(this::round).toList(),
                Optional.ofNullable(nextTie).map(TieNumber::new));
    }

    private Round round(String row) {
        return Round.of(roundOf(row), acts);
    }

    private Done done(Statement said) {
        return Done.of(when, said, heard, SETTINGS);
    }

    private Told told(Statement said) {
        return new Told(WORKER, done(said).at(), heard, text(messages), ++lines, "0".repeat(64));
    }

    private static TextId text(int message) {
        return new TextId(HILL, "SM" + message);
    }

    private TieUses uses() {
        return new TieUses() {
            @Override
            public Optional<Holding> holding(TieNumber tie, Instant at) {
                return new Holdings(List.of(new Holding(0, STRIP, WORKER, Instant.EPOCH, null))).of(tie, at);
            }

            @Override
            public boolean isDamaged(TieNumber tie) {
                return false;
            }

            @Override
            public Optional<Strip> skippedBefore(TieNumber tie) {
                return Optional.empty();
            }

            @Override
            public int times(TieNumber tie) {
                return (int) Act.standing(acts).stream()
                        .filter(Act.Tied.class::isInstance)
                        .flatMap(act -> ((Act.Tied) act).ties().stream())
                        .filter(tie::equals)
                        .count();
            }
        };
    }
}
