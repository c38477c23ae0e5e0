package duskpeg.messaging.reply;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.act.LossReason;
import duskpeg.core.act.TextId;
import duskpeg.core.act.Told;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fruit.Fruit;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.RowId;
import duskpeg.core.report.Done;
import duskpeg.core.report.Entry;
import duskpeg.core.report.Question;
import duskpeg.core.report.Statement;
import duskpeg.core.report.When;
import duskpeg.core.round.NextRow;
import duskpeg.core.round.Round;
import duskpeg.core.round.RoundId;
import duskpeg.messaging.language.Forgiven;
import duskpeg.messaging.language.Problem;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.EdgeCasesMode;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;

/**
 * Whatever became of a message, its answer is one segment that hides nothing that was not noted. Values are as long as
 * a farm's can be: row and count 999, ties of nine digits.
 */
class ReplyPropertyTest {

    private static final FarmId HILL = new FarmId("hill");
    private static final LocalDate MORNING = LocalDate.of(2026, 9, 25);
    private static final FarmSettings SETTINGS =
            new FarmSettings(ZoneId.of("Europe/London"), LocalTime.of(9, 0), LocalTime.of(10, 0), 9);

    /** What each language says of a line that was not noted. */
    private static final Map<String, Pattern> NOT_NOTED = Map.of(
            "en", Pattern.compile("NOT NOTED|Not noted:"),
            "es", Pattern.compile("NO ANOTADO|No anotado:"),
            "af", Pattern.compile("NIE AANGETEKEN|Nie aangeteken:"),
            "zu", Pattern.compile("AKUBHALWANGA|Akubhalwanga:"),
            "st", Pattern.compile("HA HO A NGOLWA|Ha ho a ngolwa:"));

    private static final Map<String, Phrases> PHRASES =
            NOT_NOTED.keySet().stream().collect(Collectors.toMap(language -> language, Phrases::load));

    @Property(tries = 500, edgeCases = EdgeCasesMode.NONE)
    void isAlwaysOneSegment(
            @ForAll("languages") String language,
            @ForAll("outcomes") List<Outcome> outcomes,
            @ForAll("times") LocalTime now) {
        String reply = reply(language, outcomes, now);

        assertThat(Gsm7.covers(reply)).as(reply).isTrue();
        assertThat(Gsm7.septets(reply)).as(reply).isLessThanOrEqualTo(160);
    }

    @Property(tries = 500, edgeCases = EdgeCasesMode.NONE)
    void isNeverBlank(
            @ForAll("languages") String language,
            @ForAll("outcomes") List<Outcome> outcomes,
            @ForAll("times") LocalTime now) {
        assertThat(reply(language, outcomes, now)).isNotBlank();
    }

    @Property(tries = 500, edgeCases = EdgeCasesMode.NONE)
    void countsEveryLineThatWasNotNoted(
            @ForAll("languages") String language,
            @ForAll("outcomes") List<Outcome> outcomes,
            @ForAll("times") LocalTime now) {
        String reply = reply(language, outcomes, now);

        long said = NOT_NOTED.get(language).matcher(reply).results().count();
        long counted = tail(PHRASES.get(language))
                .matcher(reply)
                .results()
                .mapToLong(match -> Long.parseLong(match.group(1)))
                .sum();
        assertThat(said + counted)
                .as(reply)
                .isEqualTo(outcomes.stream().filter(Outcome::unread).count());
    }

    @Property
    void aMessageWithNothingInItIsAnswered(@ForAll("languages") String language, @ForAll("times") LocalTime now) {
        // Such a message has no other line, so it is not among the outcomes below.
        String reply = reply(language, List.of(new Outcome.Unread(Problem.EMPTY, "")), now);

        assertThat(reply).isEqualTo(PHRASES.get(language).say("unread.empty"));
        assertThat(Gsm7.septets(reply)).isLessThanOrEqualTo(160);
    }

    /** How the lines that are left over are counted; the group is of those that were not noted. */
    private static Pattern tail(Phrases phrases) {
        String said = phrases.say("more.unread", "count", "0000001", "unread", "0000002");
        return Pattern.compile(
                Pattern.quote(said).replace("0000001", "\\E[0-9]+\\Q").replace("0000002", "\\E([0-9]+)\\Q"));
    }

    @Property(tries = 500, edgeCases = EdgeCasesMode.NONE)
    void saysWhatWasTakenForWhatInTheSameSegment(
            @ForAll("languages") String language,
            @ForAll("outcomes") List<Outcome> outcomes,
            @ForAll("forgiven") List<Forgiven> forgiven,
            @ForAll("times") LocalTime now) {
        String reply = writer(language, now).write(outcomes, forgiven);

        assertThat(Gsm7.covers(reply)).as(reply).isTrue();
        assertThat(Gsm7.septets(reply)).as(reply).isLessThanOrEqualTo(160);
        assertThat(reply).doesNotContain("+0 ");
        if (outcomes.size() == 1 && !outcomes.get(0).unread()) {
            assertThat(reply).startsWith("\"pegd\" = ");
        }
    }

    @Provide
    Arbitrary<List<Forgiven>> forgiven() {
        return Arbitraries.of(
                        new Forgiven("mistypedxxxxxxxxxxxxxxxx", "pollinationxxxxxxxxxxxx", Deed.POLLINATED),
                        new Forgiven("{rwo}", "row", null))
                .list()
                .ofMaxSize(8)
                .map(more -> {
                    List<Forgiven> all = new ArrayList<>(List.of(new Forgiven("pegd", "peg", Deed.PEGGED)));
                    all.addAll(more);
                    return all;
                });
    }

    private static String reply(String language, List<Outcome> outcomes, LocalTime now) {
        return writer(language, now).write(outcomes);
    }

    private static ReplyWriter writer(String language, LocalTime now) {
        Instant heard = MORNING.atTime(now).atZone(SETTINGS.zone()).toInstant();
        return new ReplyWriter(PHRASES.get(language), SETTINGS, heard);
    }

    @Provide
    Arbitrary<String> languages() {
        return Arbitraries.of(PHRASES.keySet());
    }

    @Provide
    Arbitrary<LocalTime> times() {
        return Arbitraries.of("00:00", "05:00", "07:30", "09:59", "10:00", "10:20", "11:59", "12:00", "23:59")
                .map(LocalTime::parse);
    }

    @Provide
    Arbitrary<List<Outcome>> outcomes() {
        Arbitrary<Outcome> any = Arbitraries.oneOf(
                ofRound(),
                ofRound(),
                ofRound(),
                ofFruit(),
                ofUntiedFruit(),
                finished(),
                takenBack(),
                takenBackInPart(),
                corrected(),
                noSuchRow(),
                unread(),
                asked());
        return Arbitraries.oneOf(
                any.list().ofSize(1),
                any.list().ofMinSize(2).ofMaxSize(5),
                any.list().ofMinSize(30).ofMaxSize(40),
                unread().list().ofMinSize(1).ofMaxSize(40));
    }

    private static Arbitrary<RowId> rows() {
        return Arbitraries.of("1", "12", "998", "999").map(label -> new RowId(HILL, label));
    }

    private static Arbitrary<Integer> counts() {
        return Arbitraries.of(1, 14, 999);
    }

    /** Single ties that never follow each other, one long run, or runs of two. */
    private static Arbitrary<List<TieNumber>> ties() {
        return Combinators.combine(
                        Arbitraries.integers().between(0, 999),
                        Arbitraries.of(0, 1, 2, 5),
                        Arbitraries.of(1, 2, 7, 7, 60))
                .as((first, gap, size) -> IntStream.range(0, size)
                        .mapToObj(i -> TieNumber.of(999_000_000L - 10_000 + first + (long) i + (i / 2) * gap, 9))
                        .toList());
    }

    private static Arbitrary<List<Question>> questions() {
        return Arbitraries.of(Question.Kind.class)
                .map(kind -> new Question(kind, Said.LONGEST.get(kind), List.of(new TextId(HILL, "SM1"))))
                .list()
                .ofMaxSize(6);
    }

    private static Told told(int line) {
        Instant at = Instant.parse("2026-09-25T06:30:00Z");
        return new Told(new WorkerId(HILL, "w1"), at, at, new TextId(HILL, "SM1"), line, "0".repeat(64));
    }

    /** Not said, or said as long as it can be: the day before, with its hour. */
    private static Arbitrary<Done> dones() {
        When yesterday = new When.Yesterday(LocalTime.of(18, 15));
        Instant at = MORNING.minusDays(1).atTime(18, 15).atZone(SETTINGS.zone()).toInstant();
        return Arbitraries.of(new Done(new When.Now(), at), new Done(yesterday, at));
    }

    private static Arbitrary<LossReason> reasons() {
        return Arbitraries.of(LossReason.class).injectNull(0.3);
    }

    private static Arbitrary<Round> rounds() {
        Arbitrary<LocalDate> mornings = Arbitraries.of(MORNING, MORNING, MORNING.plusDays(1));
        Arbitrary<List<Integer>> pegged = counts().list().ofMaxSize(40);
        return Combinators.combine(rows(), mornings, pegged, counts(), Arbitraries.of(true, false))
                .as((row, morning, counts, lost, saidMales) -> {
                    RoundId id = new RoundId(row, morning);
                    List<Act.OnFlowers> acts = new ArrayList<>();
                    counts.forEach(count -> acts.add(new Act.Pegged(id, count, saidMales ? 2 * count : null, told(1))));
                    acts.add(new Act.Lost(id, lost, null, told(2)));
                    return new Round(id, acts);
                });
    }

    private static Arbitrary<List<PlantId>> sires() {
        return rows().map(row -> new PlantId(row, 999))
                .list()
                .ofMinSize(1)
                .ofMaxSize(9)
                .injectNull(0.6);
    }

    private static Arbitrary<Outcome> ofRound() {
        Arbitrary<Set<Deed>> deeds = Arbitraries.of(
                EnumSet.of(Deed.PEGGED),
                EnumSet.of(Deed.LOST),
                EnumSet.of(Deed.OPENED),
                EnumSet.of(Deed.TIED),
                EnumSet.range(Deed.OPENED, Deed.TIED));
        return Combinators.combine(rounds(), deeds, counts(), ties(), questions(), dones(), reasons(), sires())
                .as((round, done, count, ties, questions, when, reason, sires) -> new Outcome.Noted(new Entry.OfRound(
                        new Statement.OnFlowers(
                                round.id().row(),
                                done,
                                count,
                                null,
                                new Statement.NextOnStrip(null),
                                done.contains(Deed.LOST) ? reason : null,
                                sires == null ? null : 999,
                                done.contains(Deed.LOST) ? null : sires),
                        when,
                        round,
                        done.contains(Deed.TIED) ? ties : List.of(),
                        questions)));
    }

    private static Arbitrary<Outcome> ofFruit() {
        return Combinators.combine(
                        Arbitraries.of(Deed.UNBAGGED, Deed.CULLED, Deed.HARVESTED), ties(), questions(), dones())
                .as((deed, ties, questions, when) -> new Outcome.Noted(new Entry.OfFruit(
                        deed,
                        when,
                        ties.stream()
                                .map(tie -> new Fruit(new FruitId(HILL, tie), List.of()))
                                .toList(),
                        questions,
                        deed == Deed.HARVESTED && ties.size() % 2 == 1 ? new Entry.Early(ties.get(0), 44) : null)));
    }

    private static Arbitrary<Outcome> ofUntiedFruit() {
        return Combinators.combine(
                        Arbitraries.of(Deed.UNBAGGED, Deed.CULLED, Deed.HARVESTED), rows(), counts(), dones())
                .as((deed, row, count, when) ->
                        new Outcome.Noted(new Entry.OfRow(new Statement.OnRow(deed, row, count), when)));
    }

    private static Arbitrary<Outcome> noSuchRow() {
        return rows().map(row -> new Outcome.Noted(new Entry.NoSuchRow(row)));
    }

    private static Arbitrary<Outcome> unread() {
        Arbitrary<String> words = Arbitraries.oneOf(
                Arbitraries.of("", "twleve", "\ud83c\udf83".repeat(40), "[".repeat(40), "{0}", "'", "\n", "\ud83c"),
                Arbitraries.strings().ofMaxLength(30));
        return Combinators.combine(Arbitraries.of(Problem.class).filter(problem -> problem != Problem.EMPTY), words)
                .as(Outcome.Unread::new);
    }

    private static Arbitrary<Outcome> takenBack() {
        Arbitrary<List<Act>> flowers = Combinators.combine(
                        rounds(), counts(), ties(), Arbitraries.integers().between(1, 40))
                .as((round, count, ties, line) -> List.of(
                        new Act.Opened(round.id(), count, told(line)),
                        new Act.Pollinated(round.id(), count, told(line)),
                        new Act.Bagged(round.id(), count, told(line)),
                        new Act.Tied(round.id(), count, ties, null, told(line))));
        Arbitrary<List<Act>> fruit = Combinators.combine(
                        ties(),
                        Arbitraries.of(true, false),
                        Arbitraries.integers().between(1, 40))
                .as((ties, culled, line) -> ties.stream()
                        .limit(20)
                        .<Act>map(tie -> culled
                                ? new Act.Culled(new FruitId(HILL, tie), null, 1, told(line))
                                : new Act.Harvested(new FruitId(HILL, tie), null, 1, told(line)))
                        .toList());
        Arbitrary<List<Act>> untied = Combinators.combine(
                        rows(), counts(), Arbitraries.integers().between(1, 40))
                .as((row, count, line) -> List.of(new Act.Harvested(row, null, count, told(line))));
        return Arbitraries.oneOf(flowers, fruit, untied)
                .list()
                .ofMaxSize(20)
                .map(lists -> new Outcome.Noted(new Entry.OfTakeBack(
                        lists.stream().flatMap(List::stream).toList())));
    }

    private static Arbitrary<Outcome> finished() {
        return Combinators.combine(rounds(), questions(), dones())
                .as((round, questions, when) -> new Outcome.Noted(new Entry.OfFinish(when, round, questions)));
    }

    private static Arbitrary<List<Act>> acts() {
        return takenBack().map(outcome -> ((Entry.OfTakeBack) ((Outcome.Noted) outcome).entry()).acts());
    }

    private static Arbitrary<Outcome> takenBackInPart() {
        return Combinators.combine(acts(), acts())
                .as((taken, stands) -> new Outcome.Noted(new Entry.OfTakeBack(taken, stands)));
    }

    private static Arbitrary<Outcome> corrected() {
        Arbitrary<Outcome> now = Arbitraries.oneOf(ofRound(), ofRound(), ofFruit(), ofUntiedFruit(), noSuchRow());
        return Combinators.combine(acts(), now).as((was, outcome) -> {
            Entry entry = ((Outcome.Noted) outcome).entry();
            return new Outcome.Noted(entry instanceof Entry.NoSuchRow ? entry : new Entry.OfCorrection(was, entry));
        });
    }

    private static Arbitrary<Outcome> asked() {
        Arbitrary<LocalDate> mornings = Arbitraries.of(MORNING, MORNING.plusDays(1));
        Arbitrary<Outcome> own = Combinators.combine(
                        mornings,
                        rounds().list().ofMaxSize(60),
                        Arbitraries.of(new TieNumber("999999999")).optional())
                .as(Outcome.OwnMorning::new);
        Arbitrary<Outcome> row = rounds().map(Outcome.OfRow::new);
        Arbitrary<Outcome> plant = rounds().map(round ->
                new Outcome.OfPlant(round, new PlantId(round.id().row(), 999)));
        Arbitrary<Outcome> next = Combinators.combine(
                        mornings,
                        rounds().optional(),
                        Arbitraries.of("Nomsa", "\u0420\u0443\u0442", "Bartholomew Constantine")
                                .list()
                                .ofMaxSize(12))
                .as((morning, there, names) ->
                        new Outcome.Next(morning, there.map(round -> new NextRow(round, List.of())), names));
        Arbitrary<Outcome> tie = Combinators.combine(rounds(), Arbitraries.of(true, false))
                .as((round, known) -> {
                    TieNumber number = new TieNumber("999999999");
                    List<Act> acts =
                            known ? List.of(new Act.Tied(round.id(), 1, List.of(number), null, told(1))) : List.of();
                    return new Outcome.OfTie(Fruit.of(new FruitId(HILL, number), acts));
                });
        return Arbitraries.oneOf(
                own,
                row,
                plant,
                next,
                tie,
                Arbitraries.of(
                        new Outcome.Help(),
                        new Outcome.Seen(0),
                        new Outcome.Seen(3),
                        new Outcome.LanguageChanged(),
                        new Outcome.LanguageUnknown(
                                new TreeMap<>(Map.of("af", "Afrikaans", "es", "español", "nso", "Sesotho sa Leboa")))));
    }
}
