package duskpeg.messaging.card;

import static duskpeg.messaging.language.Meaning.AGO;
import static duskpeg.messaging.language.Meaning.ASKED;
import static duskpeg.messaging.language.Meaning.BAGGED;
import static duskpeg.messaging.language.Meaning.HARVESTED;
import static duskpeg.messaging.language.Meaning.HELP;
import static duskpeg.messaging.language.Meaning.LANGUAGE;
import static duskpeg.messaging.language.Meaning.LOST;
import static duskpeg.messaging.language.Meaning.MALES;
import static duskpeg.messaging.language.Meaning.MINUTES;
import static duskpeg.messaging.language.Meaning.OPENED;
import static duskpeg.messaging.language.Meaning.PEGGED;
import static duskpeg.messaging.language.Meaning.POLLINATED;
import static duskpeg.messaging.language.Meaning.ROW;
import static duskpeg.messaging.language.Meaning.TAKEN_BACK;
import static duskpeg.messaging.language.Meaning.TIE;
import static duskpeg.messaging.language.Meaning.TIED;
import static duskpeg.messaging.language.Meaning.TO;
import static duskpeg.messaging.language.Meaning.YESTERDAY;

import duskpeg.core.act.Deed;
import duskpeg.core.act.LossReason;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.RowId;
import duskpeg.core.report.Statement;
import duskpeg.core.report.When;
import duskpeg.messaging.language.Ask;
import duskpeg.messaging.language.Meaning;
import duskpeg.messaging.language.Reader;
import duskpeg.messaging.language.Reading;
import java.time.Duration;
import java.time.LocalTime;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;

/** The examples of the card in one language. Each is read by that language's reader before it is given out. */
final class Lesson {

    private static final RowId ROW_12 = new RowId(Example.FARM, "12");
    private static final Statement.TiesSaid NEXT = new Statement.NextOnStrip(null);
    private static final Set<Deed> VISIT = EnumSet.of(Deed.OPENED, Deed.POLLINATED, Deed.BAGGED, Deed.TIED);
    private static final When NOW = new When.Now();

    private final Words words;
    private final Reader reader;

    Lesson(Words words, Reader reader) {
        this.words = words;
        this.reader = reader;
    }

    Example pegged() {
        return said("1 12 14 28", words.line(PEGGED, "12 14", MALES, "28"), flowers(Set.of(Deed.PEGGED), 14, 28, NEXT));
    }

    Example visited() {
        return said("2345 12 6", words.line(OPENED, POLLINATED, BAGGED, TIED, "12 6"), flowers(VISIT, 6, null, NEXT));
    }

    Example tiedUpTo() {
        return said(
                "5 12 6 4716",
                words.line(TIED, "12 6", TIE, "4716"),
                flowers(Set.of(Deed.TIED), 6, null, new Statement.NextOnStrip(tie(4716))));
    }

    /** How a line is keyed in a call. */
    Example called() {
        return said("1*12*14#", words.line(PEGGED, "12 14"), flowers(Set.of(Deed.PEGGED), 14, null, NEXT));
    }

    Example tiedNamed() {
        return said(
                "5 12 4711 4713",
                words.line(TIED, "12", TIE, "4711 4713"),
                flowers(Set.of(Deed.TIED), 2, null, new Statement.Named(ties(4711, 4713))));
    }

    Example lost(LossReason reason) {
        return said(
                "8 12 2 " + reason.digit(),
                words.line(LOST, "12 2", Meaning.valueOf(reason.name())),
                new Statement.OnFlowers(ROW_12, Set.of(Deed.LOST), 2, null, NEXT, reason));
    }

    Example harvested() {
        return said(
                "7 4711 4713",
                words.line(HARVESTED, TIE, "4711 4713"),
                new Statement.OnFruit(Deed.HARVESTED, null, ties(4711, 4713)));
    }

    Example harvestedRange() {
        return said(
                "7 4711-4716",
                words.line(HARVESTED, "4711", TO, "4716"),
                new Statement.OnFruit(
                        Deed.HARVESTED,
                        null,
                        ties(IntStream.rangeClosed(4711, 4716).toArray())));
    }

    Example at() {
        String time = words.say("card.at", "when", "0730");
        return said(
                "2345 12 6 " + time,
                "2345 12 6 " + time,
                flowers(VISIT, 6, null, NEXT),
                new When.At(LocalTime.of(7, 30)));
    }

    Example ago() {
        String line = words.line("5 12 6 30", MINUTES, AGO);
        return said(line, line, flowers(Set.of(Deed.TIED), 6, null, NEXT), new When.Ago(Duration.ofMinutes(30)));
    }

    Example yesterday() {
        String line = words.line("1 12 14", YESTERDAY);
        return said(line, line, flowers(Set.of(Deed.PEGGED), 14, null, NEXT), new When.Yesterday(null));
    }

    Example asked() {
        return asked("9", words.first(ASKED), new Ask.Morning());
    }

    Example askedOfRow() {
        return asked("9 12", words.line(ASKED, ROW, "12"), new Ask.OfRow(ROW_12));
    }

    Example askedOfTie() {
        return asked("9 4711", words.line(ASKED, TIE, "4711"), new Ask.OfTie(tie(4711)));
    }

    Example takenBack() {
        return said("0", words.first(TAKEN_BACK), new Statement.TakeBack(null));
    }

    Example takenBackOfRow() {
        return said("0 12", words.line(TAKEN_BACK, ROW, "12"), new Statement.TakeBack(ROW_12));
    }

    Example help() {
        return asked("?", words.first(HELP), new Ask.Help());
    }

    Example language(String code) {
        String line = words.line(LANGUAGE, code);
        return asked(line, line, new Ask.Language(code));
    }

    private static Statement flowers(Set<Deed> deeds, int count, @Nullable Integer males, Statement.TiesSaid ties) {
        return new Statement.OnFlowers(ROW_12, deeds, count, males, ties);
    }

    private static TieNumber tie(int number) {
        return TieNumber.of(number, Example.TIE_WIDTH);
    }

    private static List<TieNumber> ties(int... numbers) {
        return IntStream.of(numbers).mapToObj(Lesson::tie).toList();
    }

    private Example said(String keys, String words, Statement statement) {
        return said(keys, words, statement, NOW);
    }

    private Example said(String keys, String words, Statement statement, When when) {
        return new Example(keys, words).readAs(new Reading.Said(statement, when, 0, keys.length()), reader);
    }

    private Example asked(String keys, String words, Ask ask) {
        return new Example(keys, words).readAs(new Reading.Asked(ask), reader);
    }
}
