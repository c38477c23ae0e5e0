package duskpeg.messaging.language;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.act.Deed;
import duskpeg.core.act.LossReason;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.RowId;
import duskpeg.core.report.Statement;
import duskpeg.core.report.Statement.Named;
import duskpeg.core.report.Statement.NextOnStrip;
import duskpeg.core.report.Statement.TiesSaid;
import duskpeg.core.report.When;
import java.time.Duration;
import java.time.LocalTime;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.SortedMap;
import java.util.stream.Collectors;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;

class ReaderPropertyTest {

    private static final FarmId FARM = new FarmId("farm");
    private static final int WIDTH = 6;

    private static final SortedMap<String, Vocabulary> ALL = Vocabulary.all(LanguageFiles.BUILT_IN);

    private final Reader reader = new Reader(Vocabulary.load("en"));

    @Property
    void anyTextGivesLinesThatPointIntoIt(@ForAll String text) {
        pointsInto(text);
    }

    @Property(tries = 5000)
    void anyAlmostSensibleTextGivesLinesThatPointIntoIt(@ForAll("almostSensible") String text) {
        pointsInto(text);
    }

    @Property(tries = 2000)
    void everyStatementReadsBackAsItself(@ForAll("statements") Statement statement) {
        String text = Printer.print(statement, new When.Now());

        assertThat(reader.read(text, FARM, WIDTH))
                .as(text)
                .containsExactly(new Line(1, 0, text, new Reading.Said(statement, new When.Now(), 0, text.length())));
    }

    @Property(tries = 2000)
    void everyStatementReadsBackFromWords(@ForAll("statements") Statement statement) {
        String text = worded(statement);

        assertThat(reader.read(text, FARM, WIDTH))
                .as(text)
                .containsExactly(new Line(1, 0, text, new Reading.Said(statement, new When.Now(), 0, text.length())));
    }

    @Property(tries = 2000)
    void everyTimeReadsBackBehindEveryReport(
            @ForAll("reports") Statement statement, @ForAll("times") Spoken time, @ForAll boolean keyed) {
        String text = (keyed ? Printer.print(statement, new When.Now()) : worded(statement)) + " " + time.words();

        assertThat(reader.read(text, FARM, WIDTH))
                .as(text)
                .containsExactly(new Line(1, 0, text, new Reading.Said(statement, time.when(), 0, text.length())));
    }

    @Property(tries = 2000)
    void everyStatementReadsBackInEveryLanguage(
            @ForAll("reports") Statement statement,
            @ForAll("times") Spoken time,
            @ForAll("languages") String language) {
        String text = Printer.print(statement, time.when());

        assertThat(new Reader(ALL.get(language)).read(text, FARM, WIDTH))
                .as(text)
                .containsExactly(new Line(1, 0, text, new Reading.Said(statement, time.when(), 0, text.length())));
    }

    @Property(tries = 1000)
    void everyTakingBackReadsBackInEveryLanguage(
            @ForAll("statements") Statement statement, @ForAll("languages") String language) {
        String text = Printer.print(statement, new When.Now());

        assertThat(new Reader(ALL.get(language)).read(text, FARM, WIDTH))
                .as(text)
                .containsExactly(new Line(1, 0, text, new Reading.Said(statement, new When.Now(), 0, text.length())));
    }

    @Property
    void everyQuestionReadsBackInEveryLanguage(@ForAll("asks") Ask ask, @ForAll("languages") String language) {
        String text = Printer.print(ask);

        assertThat(new Reader(ALL.get(language)).read(text, FARM, WIDTH))
                .as(text)
                .containsExactly(new Line(1, 0, text, new Reading.Asked(ask)));
    }

    /** What is printed of a reading is read as that reading again. */
    @Property(tries = 5000)
    void whatIsReadIsPrintedAndReadBack(@ForAll("almostSensible") String text) {
        for (Line line : reader.read(text, FARM, WIDTH)) {
            Printer.print(line.reading())
                    .ifPresent(printed -> assertThat(Notation.of(reader.read(printed, FARM, WIDTH)))
                            .as(printed)
                            .isEqualTo(Notation.of(line.reading())));
        }
    }

    @Property
    void caseAndSpaceMakeNoDifference(@ForAll("almostSensible") String text) {
        assertThat(problems(text.replace(" ", " \t\u00A0").toUpperCase(Locale.ROOT)))
                .isEqualTo(problems(text));
    }

    private List<String> problems(String text) {
        return reader.read(text, FARM, WIDTH).stream()
                .map(line -> line.reading() instanceof Reading.Unread unread
                        ? unread.problem().name()
                        : Notation.of(line.reading()))
                .toList();
    }

    private void pointsInto(String text) {
        List<Line> lines = reader.read(text, FARM, WIDTH);
        assertThat(lines).isNotEmpty();
        int number = 1;
        for (Line line : lines) {
            assertThat(line.number()).isEqualTo(number++);
            assertThat(text.startsWith(line.words(), line.at())).isTrue();
            if (line.reading() instanceof Reading.Unread unread) {
                assertThat(text.startsWith(unread.word(), unread.at())).isTrue();
            }
        }
    }

    @Provide
    Arbitrary<String> languages() {
        return Arbitraries.of(ALL.keySet());
    }

    @Provide
    Arbitrary<String> almostSensible() {
        return Arbitraries.of(
                        "1",
                        "2",
                        "23",
                        "5",
                        "6",
                        "7",
                        "8",
                        "9",
                        "0",
                        "12",
                        "345",
                        "004711",
                        "4712",
                        "1234567",
                        "12.7",
                        "3.9",
                        "00",
                        "40",
                        "90",
                        "75",
                        "wrong",
                        "finished",
                        "plant",
                        "from",
                        "next",
                        "pegd",
                        "peg",
                        "tie",
                        "ties",
                        "cull",
                        "take",
                        "back",
                        "row",
                        "r",
                        "m",
                        "males",
                        "f",
                        "to",
                        "and",
                        "in",
                        "help",
                        "xyz",
                        "-",
                        "+",
                        ".",
                        ";",
                        "\n",
                        "?",
                        "1O",
                        "m28",
                        "12r",
                        "½",
                        "👍",
                        "at",
                        "@",
                        "0730",
                        "7:30",
                        "7h30",
                        "h",
                        "min",
                        "30",
                        "ago",
                        "yesterday",
                        "open",
                        "off",
                        "torn",
                        "pollen",
                        "no")
                .list()
                .ofMaxSize(12)
                .map(parts -> String.join(" ", parts));
    }

    @Provide
    Arbitrary<Statement> statements() {
        return Arbitraries.oneOf(reports(), reports(), takeBack());
    }

    @Provide
    Arbitrary<Ask> asks() {
        return Arbitraries.oneOf(
                Arbitraries.of(new Ask.Morning(), new Ask.Next(), new Ask.Seen(), new Ask.Help()),
                Arbitraries.of(ALL.keySet()).map(Ask.Language::new),
                rows().map(Ask.OfRow::new),
                Combinators.combine(rows(), counts()).as(PlantId::new).map(Ask.OfPlant::new),
                ties().map(Ask.OfTie::new));
    }

    @Provide
    Arbitrary<Statement> reports() {
        Arbitrary<Statement> work = Arbitraries.oneOf(pegged(), visit(), lost(), onFruit(), onRow());
        return Arbitraries.oneOf(work, work, work.map(Statement.Correction::new), rows().map(Statement.Finished::new));
    }

    /** A time and how it is said. */
    record Spoken(When when, String words) {}

    @Provide
    Arbitrary<Spoken> times() {
        Arbitrary<LocalTime> clocks =
                Arbitraries.integers().between(0, 24 * 60 - 1).map(minute -> LocalTime.of(minute / 60, minute % 60));
        Arbitrary<String> forms = Arbitraries.of("%02d%02d", "%d%02d", "%02d:%02d", "%d:%02d", "%02dh%02d", "%dH%02d");
        Arbitrary<Spoken> at = Combinators.combine(clocks, forms, Arbitraries.of("at ", "@", "@ ", "At "))
                .as((clock, form, word) -> new Spoken(new When.At(clock), word + spoken(clock, form)));
        Arbitrary<Spoken> yesterday = Combinators.combine(
                        clocks, forms, Arbitraries.of("yesterday %s", "Yesterday at %s", "at %s yesterday"))
                .as((clock, form, words) ->
                        new Spoken(new When.Yesterday(clock), String.format(words, spoken(clock, form))));
        Arbitrary<Spoken> minutes = Combinators.combine(
                        Arbitraries.integers().between(1, 48 * 60),
                        Arbitraries.of(" min ago", "min ago", " minutes ago"))
                .as((time, words) -> new Spoken(new When.Ago(Duration.ofMinutes(time)), time + words));
        Arbitrary<Spoken> hours = Combinators.combine(
                        Arbitraries.integers().between(1, 48), Arbitraries.of(" h ago", "h ago", " hours ago"))
                .as((time, words) -> new Spoken(new When.Ago(Duration.ofHours(time)), time + words));
        return Arbitraries.oneOf(
                at, yesterday, Arbitraries.just(new Spoken(new When.Yesterday(null), "yesterday")), minutes, hours);
    }

    private static String spoken(LocalTime clock, String form) {
        return String.format(form, clock.getHour(), clock.getMinute());
    }

    private static Arbitrary<Integer> plants() {
        return counts().injectNull(0.5);
    }

    private static Arbitrary<List<PlantId>> sires() {
        return Combinators.combine(rows(), counts())
                .as(PlantId::new)
                .list()
                .ofMinSize(1)
                .ofMaxSize(9)
                .injectNull(0.5);
    }

    private static Arbitrary<Statement> pegged() {
        return Combinators.combine(
                        rows(), counts(), Arbitraries.integers().between(0, 999).injectNull(0.3), plants(), sires())
                .as((row, count, males, plant, sires) -> new Statement.OnFlowers(
                        row, Set.of(Deed.PEGGED), count, males, new NextOnStrip(null), null, plant, sires));
    }

    private static Arbitrary<Statement> visit() {
        Arbitrary<Set<Deed>> deeds = Arbitraries.subsetOf(Deed.OPENED, Deed.POLLINATED, Deed.BAGGED, Deed.TIED)
                .filter(set -> !set.isEmpty());
        Arbitrary<TiesSaid> said = Arbitraries.oneOf(
                ties().injectNull(0.5).map(NextOnStrip::new), namedTies().map(Named::new));
        return Combinators.combine(rows(), deeds, counts(), said, plants(), sires())
                .as((row, set, count, ties, plant, sires) -> {
                    boolean tied = set.contains(Deed.TIED);
                    return new Statement.OnFlowers(
                            row,
                            set,
                            tied && ties instanceof Named named ? named.ties().size() : count,
                            null,
                            tied ? ties : new NextOnStrip(null),
                            null,
                            plant,
                            set.contains(Deed.POLLINATED) ? sires : null);
                });
    }

    private static Arbitrary<Statement> lost() {
        return Combinators.combine(
                        rows(), counts(), Arbitraries.of(LossReason.class).injectNull(0.3), plants())
                .as((row, count, reason, plant) -> new Statement.OnFlowers(
                        row, Set.of(Deed.LOST), count, null, new NextOnStrip(null), reason, plant, null));
    }

    private static Arbitrary<Statement> onFruit() {
        return Combinators.combine(fruitDeeds(), rows().injectNull(0.5), namedTies())
                .as(Statement.OnFruit::new);
    }

    private static Arbitrary<Statement> onRow() {
        return Combinators.combine(fruitDeeds(), rows(), counts()).as(Statement.OnRow::new);
    }

    private static Arbitrary<Statement> takeBack() {
        return Arbitraries.oneOf(
                rows().injectNull(0.3).map(Statement.TakeBack::new),
                namedTies().map(Statement.TakeBackTies::new),
                Combinators.combine(rows(), plants(), counts()).as(Statement.TakeBackPart::new),
                Combinators.combine(rows(), counts()).as((row, plant) -> new Statement.TakeBackPart(row, plant, null)));
    }

    private static Arbitrary<Deed> fruitDeeds() {
        return Arbitraries.of(Deed.UNBAGGED, Deed.CULLED, Deed.HARVESTED);
    }

    private static Arbitrary<RowId> rows() {
        return counts().map(label -> new RowId(FARM, label.toString()));
    }

    private static Arbitrary<Integer> counts() {
        return Arbitraries.integers().between(1, 999);
    }

    private static Arbitrary<TieNumber> ties() {
        return Arbitraries.integers().between(0, 999_999).map(value -> TieNumber.of(value, WIDTH));
    }

    private static Arbitrary<List<TieNumber>> namedTies() {
        return ties().list().uniqueElements().ofMinSize(1).ofMaxSize(20);
    }

    /** The statement as it is said in words. */
    private static String worded(Statement statement) {
        if (statement instanceof Statement.OnFlowers on) {
            boolean tied = on.deeds().contains(Deed.TIED);
            String start = on.deeds().stream().map(Deed::word).collect(Collectors.joining(" and ")) + " ";
            String inRow = " in row " + on.row().label() + (on.plant() == null ? "" : " plant " + on.plant());
            String from = on.sires() == null
                    ? ""
                    : on.sires().stream().map(PlantId::label).collect(Collectors.joining(" and ", " from ", ""));
            if (tied && on.ties() instanceof Named named) {
                return start + "ties" + spaced(named.ties()) + inRow + from;
            }
            String males = on.males() == null ? "" : " with " + on.males() + " males";
            TieNumber last = tied ? ((NextOnStrip) on.ties()).last() : null;
            String reason = on.reason() == null ? "" : ", " + on.reason().word().replace('-', ' ');
            return start + on.count() + " flowers" + males + inRow + from + (last == null ? "" : ", last " + last)
                    + reason;
        }
        if (statement instanceof Statement.OnFruit on) {
            String inRow = on.row() == null ? "" : " in row " + on.row().label();
            return on.deed().word() + " tie" + spaced(on.ties()) + inRow;
        }
        if (statement instanceof Statement.OnRow on) {
            return on.deed().word() + " " + on.count() + " fruit in row "
                    + on.row().label();
        }
        if (statement instanceof Statement.Finished finished) {
            return "row " + finished.row().label() + " is finished";
        }
        if (statement instanceof Statement.Correction correction) {
            return "wrong, " + worded(correction.right());
        }
        if (statement instanceof Statement.TakeBackTies back) {
            return "undo ties" + spaced(back.ties());
        }
        if (statement instanceof Statement.TakeBackPart part) {
            return "take back" + (part.count() == null ? "" : " " + part.count() + " flowers") + " row "
                    + part.row().label()
                    + (part.plant() == null ? "" : " plant " + part.plant());
        }
        RowId row = ((Statement.TakeBack) statement).row();
        return "take back" + (row == null ? "" : " row " + row.label());
    }

    private static String spaced(List<TieNumber> ties) {
        return ties.stream().map(tie -> " " + tie).collect(Collectors.joining());
    }
}
