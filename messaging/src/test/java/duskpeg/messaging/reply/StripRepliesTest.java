package duskpeg.messaging.reply;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.crew.CustodyEvent;
import duskpeg.core.crew.Entered;
import duskpeg.core.crew.Handled;
import duskpeg.core.crew.Handling;
import duskpeg.core.crew.Holding;
import duskpeg.core.crew.Holdings;
import duskpeg.core.crew.Strip;
import duskpeg.core.crew.StripInHand;
import duskpeg.core.fruit.Numbering;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.report.Entry;
import duskpeg.messaging.language.LanguageFiles;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** What is answered to lines about strips. */
class StripRepliesTest {

    private static final Instant AT = Instant.parse("2026-08-15T06:00:00Z");
    private static final Strip LONG = strip("888888001", "888888999");
    private static final Handling HANDLING = new Handling.Lose(Field.WORKER, null);
    private static final Entered ENTERED = Entered.onPage(Field.WORKER);
    private static final String NAME = "[Maria-Constanza Fernandez de la Vega]";

    private static Strip strip(String first, String last) {
        return new Strip(new TieNumber(first), new TieNumber(last));
    }

    private static Outcome of(Handled handled) {
        return new Outcome.OfStrip(new Entry.OfStrip(HANDLING, handled), NAME, NAME);
    }

    private static Outcome done(CustodyEvent... events) {
        return of(new Handled.Done(List.of(events), Optional.of(LONG.last())));
    }

    static List<Outcome> longest() {
        CustodyEvent.StripClaimed claim = new CustodyEvent.StripClaimed(Field.WORKER, LONG, AT, ENTERED);
        return List.of(
                done(new CustodyEvent.StripIssued(Field.WORKER, LONG, AT, ENTERED)),
                done(new CustodyEvent.StripHandedOver(Field.WORKER, Field.WORKER, LONG, AT, ENTERED)),
                done(new CustodyEvent.StripReturned(Field.WORKER, LONG, AT, ENTERED)),
                done(new CustodyEvent.StripLost(Field.WORKER, LONG, AT, ENTERED)),
                done(IntStream.range(0, 40)
                        .mapToObj(number -> new CustodyEvent.TieDamaged(
                                Field.WORKER, new TieNumber("888888" + (100 + 2 * number)), AT, ENTERED))
                        .toArray(CustodyEvent[]::new)),
                of(new Handled.NotFree(claim, LONG.first(), Optional.of(Field.WORKER))),
                of(new Handled.NotFree(claim, LONG.first(), Optional.empty())),
                of(new Handled.NothingInHand()),
                of(new Handled.WhichStrip(List.of(LONG, LONG, LONG, LONG))),
                new Outcome.Strips(
                        NAME,
                        IntStream.range(0, 30)
                                .mapToObj(number -> StripInHand.of(LONG, Optional.empty(), Set.of()))
                                .toList()),
                new Outcome.Strips(NAME, List.of()),
                new Outcome.Who(Outcome.Who.Reason.UNKNOWN, NAME),
                new Outcome.Who(Outcome.Who.Reason.SEVERAL, NAME),
                new Outcome.Who(Outcome.Who.Reason.NOT_ALLOWED, NAME),
                new Outcome.Noted(new Entry.OfTakeBack(
                        List.of(),
                        List.of(),
                        IntStream.range(0, 40)
                                .<CustodyEvent>mapToObj(
                                        number -> new CustodyEvent.StripLost(Field.WORKER, LONG, AT, ENTERED))
                                .toList())));
    }

    static Stream<Arguments> everyLanguage() {
        return LanguageFiles.BUILT_IN.codes().stream()
                .flatMap(language -> longest().stream().map(outcome -> Arguments.of(language, outcome)));
    }

    @ParameterizedTest
    @MethodSource("everyLanguage")
    void isOneSegmentAndNeverOnlyACount(String language, Outcome outcome) {
        Phrases phrases = Phrases.load(language);

        String reply = new ReplyWriter(phrases, Field.SETTINGS, AT).write(List.of(outcome));

        assertThat(Gsm7.septets(reply)).as(reply).isLessThanOrEqualTo(Gsm7.SEGMENT);
        assertThat(reply)
                .isNotBlank()
                .isNotEqualTo(phrases.say("more", "count", 1))
                .isNotEqualTo(phrases.say("more.unread", "count", 1, "unread", 1));
    }

    @Test
    void aRunOfPrintedTagsIsOneRun() {
        Strip printed = new Strip(new TieNumber("005724"), new TieNumber("005743"), Numbering.CHECKED);
        Holdings holdings = new Holdings(List.of(new Holding(0, printed, Field.WORKER, AT, null)));
        Outcome damaged = new Outcome.OfStrip(
                new Entry.OfStrip(
                        HANDLING,
                        new Handled.Done(
                                printed.ties()
                                        .<CustodyEvent>map(
                                                tie -> new CustodyEvent.TieDamaged(Field.WORKER, tie, AT, ENTERED))
                                        .toList(),
                                Optional.empty())),
                null,
                null);

        assertThat(new ReplyWriter(Phrases.load("en"), Field.SETTINGS, AT, holdings).write(List.of(damaged)))
                .isEqualTo("Damaged: 005724-005743.");
    }
}
