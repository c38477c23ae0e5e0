package duskpeg.messaging.reply;

import static duskpeg.messaging.reply.Field.MORNING;
import static duskpeg.messaging.reply.Field.ties;
import static duskpeg.messaging.reply.Field.tiesTo;
import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.act.Deed;
import duskpeg.core.act.LossReason;
import duskpeg.core.report.When;
import duskpeg.messaging.language.Problem;
import java.time.Duration;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;

class ReplyWriterTest {

    private final Field field = new Field();

    @Nested
    class InTheEvening {

        @Test
        void peggedWithItsMales() {
            Outcome pegged = field.at("17:10").pegged("12", 14, 28);

            assertThat(field.reply(pegged)).isEqualTo("Row 12: 14 pegged for 15 Aug. Males 28 of 28.");
        }

        @Test
        void peggedWithoutAWordOnMales() {
            // Common practice, no source: two males for each female.
            Outcome pegged = field.at("17:10").pegged("12", 14);

            assertThat(field.reply(pegged)).isEqualTo("Row 12: 14 pegged for 15 Aug. Males not said, 28 needed.");
        }

        @Test
        void peggedWithTooFewMales() {
            Outcome pegged = field.at("17:10").pegged("12", 14, 20);

            assertThat(field.reply(pegged))
                    .isEqualTo("Row 12: 14 pegged for 15 Aug. MALES: 20 for 14 females, 8 short.");
        }

        @Test
        void fourMalesOnTheLeavesAreTwoFemalesWaiting() {
            // Common practice, no source.
            Outcome pegged = field.at("17:10").pegged("12", 2, 4);

            assertThat(field.reply(pegged)).isEqualTo("Row 12: 2 pegged for 15 Aug. Males 4 of 4.");
        }

        @Test
        void peggedMoreInTheSameRow() {
            field.at("17:10").pegged("12", 14, 28);
            Outcome more = field.at("17:40").pegged("12", 3, 6);

            assertThat(field.reply(more)).isEqualTo("Row 12: 3 more pegged, 17 for 15 Aug. Males 34 of 34.");
        }

        @Test
        void lostInTheEveningIsSaidForTheNextMorning() {
            field.at("17:10").pegged("12", 14, 28);
            Outcome lost = field.at("17:40").did(EnumSet.of(Deed.LOST), "12", 1);

            assertThat(field.reply(lost)).isEqualTo("Row 12, 15 Aug: 1 lost. 13 left.");
        }
    }

    @Nested
    class InTheMorning {

        @Test
        void workedWithTimeLeft() {
            field.at("17:10").pegged("12", 14, 28);
            Outcome worked = field.at("07:30").worked("12", 6, tiesTo("004711", "004716"));

            assertThat(field.reply(worked))
                    .isEqualTo("Row 12: 6 opened, pollinated, bagged, tied 004711-004716. 8 left. 2h30 to 10:00.");
        }

        @Test
        void openedOnly() {
            field.at("17:10").pegged("12", 14, 28);
            Outcome opened = field.at("06:05").did(EnumSet.of(Deed.OPENED), "12", 13);

            assertThat(field.reply(opened)).isEqualTo("Row 12: 13 opened. 14 left. 3h55 to 10:00.");
        }

        @Test
        void theLastMinuteIsStillTime() {
            field.at("17:10").pegged("12", 1, 2);
            Outcome worked = field.at("09:59").worked("12", 1, ties("004711"));

            assertThat(field.reply(worked))
                    .isEqualTo("Row 12: 1 opened, pollinated, bagged, tied 004711. 0 left. 0h01 to 10:00.");
        }

        @Test
        void workedAtTheLimitIsNotLate() {
            field.at("17:10").pegged("12", 1, 2);
            Outcome worked = field.at("10:00").worked("12", 1, ties("004711"));

            assertThat(field.reply(worked)).isEqualTo("Row 12: 1 opened, pollinated, bagged, tied 004711. 0 left.");
        }

        @Test
        void workedAfterTheLimit() {
            field.at("17:10").pegged("12", 14, 28);
            Outcome worked = field.at("10:20").worked("12", 6, tiesTo("004711", "004716"));

            assertThat(field.reply(worked))
                    .isEqualTo("Row 12: 6 opened, pollinated, bagged, tied 004711-004716. 8 left."
                            + " After 10:00: noted as late.");
        }

        @Test
        void workedAndSaidInTheAfternoonNamesTheDay() {
            field.at("17:10").pegged("12", 14, 28);
            Outcome worked = field.on(MORNING, "13:00").worked("12", 6, tiesTo("004711", "004716"));

            assertThat(field.reply(worked))
                    .isEqualTo("Row 12, 15 Aug: 6 opened, pollinated, bagged, tied 004711-004716. 8 left."
                            + " After 10:00: noted as late.");
        }

        @Test
        void tiesThatDoNotFollowEachOtherAreSaidInRuns() {
            field.at("17:10").pegged("12", 5, 10);
            Outcome worked = field.at("07:30").worked("12", 5, ties("004711", "004712", "004720", "004730", "004731"));

            assertThat(field.reply(worked))
                    .isEqualTo("Row 12: 5 opened, pollinated, bagged, tied 004711-004712 004720 004730-004731."
                            + " 0 left. 2h30 to 10:00.");
        }

        @Test
        void ofManyRunsThreeAreSaid() {
            field.at("17:10").pegged("12", 5, 10);
            Outcome worked = field.at("07:30").worked("12", 5, ties("004711", "004713", "004715", "004717", "004719"));

            assertThat(field.reply(worked))
                    .isEqualTo("Row 12: 5 opened, pollinated, bagged, tied 004711 004713 004715 +2."
                            + " 0 left. 2h30 to 10:00.");
        }

        @Test
        void moreOpenedThanPeggedMustBeChecked() {
            field.at("17:10").pegged("12", 6, 12);
            Outcome opened = field.at("06:05").did(EnumSet.of(Deed.OPENED), "12", 7);

            assertThat(field.reply(opened))
                    .isEqualTo("Row 12: 7 opened. 6 left. 3h55 to 10:00. CHECK: 7 opened, 6 pegged.");
        }

        @Test
        void aTieInDoubtSaysHowToSetItRight() {
            field.at("17:10").pegged("12", 2, 4);
            field.at("07:00").did(EnumSet.range(Deed.OPENED, Deed.BAGGED), "12", 2);
            Outcome tied = field.at("07:30").tiedInDoubt("12", 2, "004719", "004712");

            assertThat(field.reply(tied))
                    .isEqualTo("Row 12: 2 tied. 0 left. 2h30 to 10:00. CHECK: you read 004719, strip says 004712."
                            + " No numbers kept: send 0, then again with first-last.");
        }
    }

    @Nested
    class OfFruit {

        @Test
        void harvestedByItsTies() {
            field.at("17:10").pegged("12", 3, 6);
            field.at("07:30").worked("12", 3, tiesTo("004711", "004713"));
            Outcome harvested = field.on(MORNING.plusDays(60), "09:00").harvested("004711", "004712");

            assertThat(field.reply(harvested)).isEqualTo("Harvested 2: 004711-004712.");
        }

        @Test
        void culledByItsTie() {
            field.at("17:10").pegged("12", 3, 6);
            field.at("07:30").worked("12", 3, tiesTo("004711", "004713"));
            Outcome culled = field.on(MORNING.plusDays(9), "09:00").culled("004711");

            assertThat(field.reply(culled)).isEqualTo("Culled 1: 004711.");
        }

        @Test
        void harvestedBesideTheWrongStake() {
            field.at("17:10").pegged("12", 1, 2);
            field.at("07:30").worked("12", 1, ties("004711"));
            Outcome harvested = field.on(MORNING.plusDays(60), "09:00").harvestedInRow("13", "004711");

            assertThat(field.reply(harvested)).isEqualTo("Harvested 1: 004711. CHECK: 004711 is of row 12, not 13.");
        }

        @Test
        void harvestedByRowIsNotForSeed() {
            Outcome harvested = field.on(MORNING.plusDays(60), "09:00").ofRow(Deed.HARVESTED, "12", 6);

            assertThat(field.reply(harvested))
                    .isEqualTo("Row 12: 6 harvested. Not named, so not for seed: send 7 and the tie numbers.");
        }

        @Test
        void culledByRow() {
            Outcome culled = field.on(MORNING.plusDays(9), "09:00").ofRow(Deed.CULLED, "12", 6);

            assertThat(field.reply(culled)).isEqualTo("Row 12: 6 culled.");
        }
    }

    @Nested
    class SaidLater {

        private static final Set<Deed> OPENED = EnumSet.of(Deed.OPENED);

        private static When at(String clock) {
            return new When.At(LocalTime.parse(clock));
        }

        @Test
        void peggedLastEvening() {
            Outcome pegged = field.at("06:10").done(at("18:15")).pegged("12", 14, 28);

            assertThat(field.reply(pegged)).isEqualTo("Row 12, 14 Aug 18:15: 14 pegged for 15 Aug. Males 28 of 28.");
        }

        @Test
        void peggedTheSameEvening() {
            Outcome pegged = field.at("19:30").done(at("18:15")).pegged("12", 14, 28);

            assertThat(field.reply(pegged)).isEqualTo("Row 12, 18:15: 14 pegged for 15 Aug. Males 28 of 28.");
        }

        @Test
        void peggedYesterdayWithoutAnHour() {
            Outcome pegged = field.at("06:10").done(new When.Yesterday(null)).pegged("12", 14, 28);

            assertThat(field.reply(pegged)).isEqualTo("Row 12, 14 Aug: 14 pegged for 15 Aug. Males 28 of 28.");
        }

        @Test
        void workedInTheMorningAndSaidAfterTheLimitIsNotLate() {
            field.at("17:10").pegged("12", 14, 28);
            Outcome worked = field.at("10:20").done(at("09:50")).worked("12", 6, tiesTo("004711", "004716"));

            assertThat(field.reply(worked))
                    .isEqualTo("Row 12, 09:50: 6 opened, pollinated, bagged, tied 004711-004716. 8 left.");
        }

        @Test
        void workedInTheMorningAndSaidInTheAfternoon() {
            field.at("17:10").pegged("12", 14, 28);
            Outcome worked = field.on(MORNING, "13:00").done(at("07:45")).did(OPENED, "12", 6);

            assertThat(field.reply(worked)).isEqualTo("Row 12, 07:45: 6 opened. 14 left.");
        }

        @Test
        void workedLateAndSaidStillLater() {
            field.at("17:10").pegged("12", 14, 28);
            Outcome worked = field.on(MORNING, "13:00").done(at("10:30")).did(OPENED, "12", 6);

            assertThat(field.reply(worked)).isEqualTo("Row 12, 10:30: 6 opened. 14 left. After 10:00: noted as late.");
        }

        @Test
        void workedHalfAnHourAgo() {
            field.at("17:10").pegged("12", 14, 28);
            Outcome worked =
                    field.at("07:45").done(new When.Ago(Duration.ofMinutes(30))).did(OPENED, "12", 6);

            assertThat(field.reply(worked)).isEqualTo("Row 12, 07:15: 6 opened. 14 left. 2h15 to 10:00.");
        }

        @Test
        void workedYesterday() {
            field.at("17:10").pegged("12", 14, 28);
            Outcome worked = field.on(MORNING.plusDays(1), "06:10")
                    .done(new When.Yesterday(LocalTime.of(8, 45)))
                    .did(OPENED, "12", 6);
            Outcome more = field.on(MORNING.plusDays(1), "06:11")
                    .done(new When.Yesterday(null))
                    .did(OPENED, "12", 6);

            assertThat(field.reply(worked)).isEqualTo("Row 12, 15 Aug 08:45: 6 opened. 14 left.");
            assertThat(field.reply(more)).isEqualTo("Row 12, 15 Aug: 6 opened. 14 left.");
        }

        @Test
        void twoTimesInOneRowStandBehindTheirWork() {
            field.at("17:10").pegged("12", 14, 28);
            Outcome opened = field.at("07:30").done(at("06:05")).did(OPENED, "12", 13);
            Outcome lost = field.done(at("06:10")).did(EnumSet.of(Deed.LOST), "12", 1);

            assertThat(field.reply(opened, lost))
                    .isEqualTo("Row 12: 13 opened 06:05, 1 lost 06:10. 13 left. 2h30 to 10:00.");
        }

        @Test
        void lostTheEveningBeforeStandsBehindTheMorningItIsLostFor() {
            field.at("17:10").pegged("12", 14, 28);
            Outcome lost = field.at("19:00").done(at("17:40")).did(EnumSet.of(Deed.LOST), "12", 1);

            assertThat(field.reply(lost)).isEqualTo("Row 12, 15 Aug: 1 lost 17:40. 13 left.");
        }

        @Test
        void fruit() {
            Outcome culled = field.on(MORNING.plusDays(9), "09:00")
                    .done(new When.Yesterday(LocalTime.of(16, 0)))
                    .ofRow(Deed.CULLED, "12", 6);
            field.at("07:30").worked("12", 1, ties("004711"));
            Outcome harvested =
                    field.on(MORNING.plusDays(60), "13:00").done(at("09:00")).harvested("004711");

            assertThat(field.on(MORNING.plusDays(9), "09:00").reply(culled))
                    .isEqualTo("Row 12, 23 Aug 16:00: 6 culled.");
            assertThat(field.on(MORNING.plusDays(60), "13:00").reply(harvested))
                    .isEqualTo("Harvested 1: 004711, 09:00.");
        }

        @Test
        void whereThereIsNoRoomTheTimeIsLeftOut() {
            field.at("06:10").done(at("18:15"));
            List<Outcome> four = IntStream.rangeClosed(12, 15)
                    .mapToObj(row -> field.pegged("" + row, 14, 20))
                    .toList();

            assertThat(field.reply(four))
                    .isEqualTo("Row 12: 14 pegged for 15 Aug. CHECK the board. Row 13: 14 pegged for 15 Aug."
                            + " CHECK the board. +2 more noted. CHECK the board.");
        }
    }

    @Nested
    class Lost {

        @Test
        void isSaidWithItsReason() {
            field.at("17:10").pegged("12", 14, 28);
            Outcome lost = field.at("06:40").lost("12", 1, LossReason.FOUND_OPEN);

            assertThat(field.reply(lost)).isEqualTo("Row 12: 1 lost (found open). 13 left. 3h20 to 10:00.");
        }

        @Test
        void forSeveralReasonsInOneRow() {
            field.at("17:10").pegged("12", 14, 28);
            Outcome torn = field.at("06:40").lost("12", 1, LossReason.TORN);
            Outcome off = field.lost("12", 2, LossReason.PEG_OFF);
            Outcome dry = field.lost("12", 3, LossReason.NO_POLLEN);

            assertThat(field.reply(torn, off, dry))
                    .isEqualTo("Row 12: 1 lost (torn), 2 lost (peg off), 3 lost (no pollen). 8 left. 3h20 to 10:00.");
        }

        @Test
        void isTakenBackWithItsReason() {
            field.at("17:10").pegged("12", 14, 28);
            field.at("06:40").lost("12", 1, LossReason.TORN);
            Outcome back = field.at("06:41").takenBack(1);

            assertThat(field.reply(back)).isEqualTo("Taken back: row 12: 1 lost (torn).");
        }
    }

    @Nested
    class TakenBack {

        @Test
        void aVisitIsTakenBackAsItWasTold() {
            field.at("17:10").pegged("12", 14, 28);
            field.at("07:30").worked("12", 6, tiesTo("004711", "004716"));
            Outcome back = field.at("07:31").takenBack(1);

            assertThat(field.reply(back))
                    .isEqualTo("Taken back: row 12: 6 opened, pollinated, bagged, tied 004711-004716.");
        }

        @Test
        void severalRowsAreTakenBackOneByOne() {
            field.at("17:10").pegged("12", 14, 28);
            field.pegged("13", 9, 18);
            Outcome back = field.at("17:12").takenBack(1);

            assertThat(field.reply(back)).isEqualTo("Taken back: row 12: 14 pegged; row 13: 9 pegged.");
        }

        @Test
        void harvestedFruitIsTakenBackByItsTies() {
            field.at("17:10").pegged("12", 3, 6);
            field.at("07:30").worked("12", 3, tiesTo("004711", "004713"));
            field.on(MORNING.plusDays(60), "09:00").harvested("004711", "004712");
            Outcome back = field.on(MORNING.plusDays(60), "09:01").takenBack(1);

            assertThat(field.reply(back)).isEqualTo("Taken back: harvested 004711-004712.");
        }

        @Test
        void nothingToTakeBack() {
            Outcome back = field.at("07:31").takenBack(1);

            assertThat(field.reply(back)).isEqualTo("Nothing of yours to take back.");
        }

        @Test
        void ofManyRowsAsManyAreSaidAsFit() {
            field.at("17:10");
            IntStream.rangeClosed(1, 40).forEach(row -> field.pegged("" + row, 14, 28));
            Outcome back = field.at("17:12").takenBack(1);

            assertThat(field.reply(back))
                    .isEqualTo("Taken back: row 1: 14 pegged; row 2: 14 pegged; row 3: 14 pegged; row 4: 14 pegged;"
                            + " row 5: 14 pegged; row 6: 14 pegged; row 7: 14 pegged; row 8: 14 pegged;"
                            + " +32.");
        }
    }

    @Nested
    class Asked {

        @Test
        void ofTheOwnMorning() {
            field.at("17:10").pegged("12", 14, 28);
            field.pegged("13", 9, 18);
            field.at("07:30").worked("12", 6, tiesTo("004711", "004716"));
            Outcome asked = field.at("07:45").askedOwnMorning("004717", "12", "13");

            assertThat(field.reply(asked))
                    .isEqualTo("15 Aug, left: row 12 8, row 13 9. 2h15 to 10:00. Next tie 004717.");
        }

        @Test
        void ofTheOwnMorningOfWhichNothingIsSaid() {
            Outcome asked = field.at("06:00").askedOwnMorning("004711");

            assertThat(field.reply(asked)).isEqualTo("Nothing from you for 15 Aug yet. Next tie 004711.");
        }

        @Test
        void ofTheOwnMorningWithNoTieLeft() {
            field.at("17:10").pegged("12", 14, 28);
            Outcome asked = field.at("10:05").askedOwnMorning(null, "12");

            assertThat(field.reply(asked)).isEqualTo("15 Aug, left: row 12 14. It is past 10:00.");
        }

        @Test
        void ofARow() {
            field.at("17:10").pegged("12", 14, 28);
            field.at("07:30").worked("12", 6, tiesTo("004711", "004716"));
            field.did(EnumSet.of(Deed.LOST), "12", 1);
            Outcome asked = field.at("07:45").askedOfRow("12");

            assertThat(field.reply(asked))
                    .isEqualTo("Row 12, 15 Aug: 14 pegged, 6 tied, 1 lost, 7 left. 2h15 to 10:00.");
        }

        @Test
        void ofARowAtTheLimit() {
            field.at("17:10").pegged("12", 14, 28);
            Outcome asked = field.at("10:00").askedOfRow("12");

            assertThat(field.reply(asked))
                    .isEqualTo("Row 12, 15 Aug: 14 pegged, 0 tied, 0 lost, 14 left. It is past 10:00.");
        }

        @Test
        void ofATie() {
            field.at("17:10").pegged("12", 1, 2);
            field.at("07:30").worked("12", 1, ties("004711"));
            Outcome asked = field.at("07:45").askedOfTie("004711");

            assertThat(field.reply(asked)).isEqualTo("004711: tied. Tied in row 12, 15 Aug.");
        }

        @Test
        void ofATieThatWasHarvestedButNeverPutOn() {
            field.on(MORNING.plusDays(60), "09:00").harvested("004711");
            Outcome asked = field.on(MORNING.plusDays(60), "09:05").askedOfTie("004711");

            assertThat(field.reply(asked)).isEqualTo("004711: harvested.");
        }

        @Test
        void ofATieOfWhichNothingIsSaid() {
            Outcome asked = field.at("07:45").askedOfTie("004711");

            assertThat(field.reply(asked)).isEqualTo("004711: no report of that tie.");
        }

        @Test
        void howToWrite() {
            assertThat(field.at("07:45").reply(new Outcome.Help()))
                    .isEqualTo("1 peg 2 open 3 pollinate 4 bag 5 tie 6 cull 7 harvest 8 lost 9 ask 0 undo."
                            + " Then row and count: 1 12 14. Done in one go: 2345 12 6");
        }
    }

    @Nested
    class NotNoted {

        @Test
        void aLineThatStopsShort() {
            assertThat(field.at("17:10").reply(new Outcome.Unread(Problem.NO_ROW, "")))
                    .isEqualTo("NOT NOTED. Which row? Send act, row, count: 2345 12 6");
        }

        @Test
        void aWordThatIsNoNumber() {
            assertThat(field.at("17:10").reply(new Outcome.Unread(Problem.NOT_A_NUMBER, "twleve")))
                    .isEqualTo("NOT NOTED. \"twleve\" is not a number. Send act, row, count: 2345 12 6");
        }

        @Test
        void aTimeThatIsNone() {
            assertThat(field.at("17:10").reply(new Outcome.Unread(Problem.BAD_TIME, "at 2460")))
                    .isEqualTo("NOT NOTED. \"at 2460\" is no time. End the line with one: 2345 12 6 at 0730");
        }

        @Test
        void nothingToRead() {
            assertThat(field.at("17:10").reply(new Outcome.Unread(Problem.EMPTY, "")))
                    .isEqualTo("Nothing to read. Send act, row, count: 1 12 14 means 14 pegged in row 12."
                            + " Send ? for help.");
        }

        @Test
        void aRowThatIsNotThere() {
            assertThat(field.at("17:10").reply(field.noSuchRow("99")))
                    .isEqualTo("No row 99 on this farm. Not noted: send it again with the right row.");
        }

        @Test
        void wordsOfPicturesAreEchoedInOneSegment() {
            assertThat(field.at("17:10").reply(new Outcome.Unread(Problem.TOO_MUCH, "\ud83c\udf83".repeat(50))))
                    .isEqualTo("NOT NOTED. \"??????????..\" is too much."
                            + " One line for each row: act, row, count: 2345 12 6");
        }

        @Test
        void aWordOfCostlyCharactersStillLeavesRoomForTheAdvice() {
            // Each of these counts two septets.
            String reply = field.at("17:10").reply(new Outcome.Unread(Problem.NO_ACT, "[[[[[[[[[[[["));

            assertThat(reply)
                    .isEqualTo(
                            "NOT NOTED. \"[[[[[[[[[[[[\" is no act. First 1 peg 2 open 3 pollinate 4 bag 5 tie 6 cull"
                                    + " 7 harvest 8 lost, then row and count: 1 12 14");
            assertThat(Gsm7.septets(reply)).isLessThanOrEqualTo(160);
        }
    }

    @Nested
    class SeveralLines {

        @Test
        void ofTwoRowsAreAnsweredInTurn() {
            Outcome twelve = field.at("17:10").pegged("12", 14, 28);
            Outcome thirteen = field.pegged("13", 9);

            assertThat(field.reply(twelve, thirteen))
                    .isEqualTo("Row 12: 14 pegged for 15 Aug. Males 28 of 28."
                            + " Row 13: 9 pegged for 15 Aug. Males not said, 18 needed.");
        }

        @Test
        void ofOneRowAreAnsweredTogether() {
            field.at("17:10").pegged("12", 14, 28);
            Outcome opened = field.at("06:40").did(EnumSet.of(Deed.OPENED), "12", 13);
            Outcome lost = field.did(EnumSet.of(Deed.LOST), "12", 1);

            assertThat(field.reply(opened, lost)).isEqualTo("Row 12: 13 opened, 1 lost. 13 left. 3h20 to 10:00.");
        }

        @Test
        void notedAndNotNoted() {
            Outcome pegged = field.at("17:10").pegged("12", 14, 28);

            assertThat(field.reply(pegged, field.noSuchRow("99")))
                    .isEqualTo("Row 12: 14 pegged for 15 Aug. Males 28 of 28."
                            + " No row 99 on this farm. Not noted: send it again with the right row.");
        }

        @Test
        void ofFourRowsAreSaidInFewerWords() {
            Outcome one = field.at("17:10").pegged("12", 14, 28);
            Outcome two = field.pegged("13", 9, 18);
            Outcome three = field.pegged("14", 11, 22);
            Outcome four = field.pegged("15", 10, 20);

            assertThat(field.reply(one, two, three, four))
                    .isEqualTo("Row 12: 14 pegged for 15 Aug. Row 13: 9 pegged for 15 Aug."
                            + " Row 14: 11 pegged for 15 Aug. Row 15: 10 pegged for 15 Aug.");
        }

        @Test
        void ofOneRowThatAreTooManyAreCounted() {
            field.at("17:10").pegged("13", 9, 18);
            field.at("06:40");
            List<Outcome> five = IntStream.rangeClosed(1, 5)
                    .<Outcome>mapToObj(
                            line -> field.did(EnumSet.of(Deed.OPENED, Deed.POLLINATED, Deed.BAGGED), "13", 1))
                    .toList();

            assertThat(field.reply(five)).isEqualTo("Row 13: 5 lines noted, 9 left.");
        }

        @Test
        void whatMustBeCheckedIsSaidOfTheRestToo() {
            field.at("06:40");
            List<Outcome> forty = IntStream.rangeClosed(1, 40)
                    .<Outcome>mapToObj(row -> field.did(EnumSet.of(Deed.OPENED), "" + row, 7))
                    .toList();

            assertThat(field.reply(forty)).endsWith("more noted. CHECK the board.");
        }

        @Test
        void ofFortyAsManyAreSaidAsFit() {
            field.at("17:10");
            List<Outcome> forty = IntStream.rangeClosed(1, 40)
                    .mapToObj(row -> field.pegged("" + row, 14, 28))
                    .toList();

            assertThat(field.reply(forty))
                    .isEqualTo("Row 1: 14 pegged for 15 Aug. Row 2: 14 pegged for 15 Aug."
                            + " Row 3: 14 pegged for 15 Aug. Row 4: 14 pegged for 15 Aug."
                            + " Row 5: 14 pegged for 15 Aug. +35 more noted.");
        }

        @Test
        void ofFortyWhatIsNotNotedComesFirst() {
            field.at("17:10");
            List<Outcome> forty = new ArrayList<>(IntStream.rangeClosed(1, 39)
                    .mapToObj(row -> field.pegged("" + row, 14, 28))
                    .toList());
            forty.add(field.noSuchRow("99"));

            assertThat(field.reply(forty))
                    .isEqualTo("NOT NOTED: no row 99. Row 1: 14 pegged for 15 Aug. Row 2: 14 pegged for 15 Aug."
                            + " Row 3: 14 pegged for 15 Aug. Row 4: 14 pegged for 15 Aug. +35 more noted.");
        }

        @Test
        void ofFortyNotNotedAllAreCounted() {
            field.at("17:10");
            List<Outcome> forty = IntStream.rangeClosed(1, 40)
                    .<Outcome>mapToObj(row -> new Outcome.Unread(Problem.NOT_A_NUMBER, "twleve"))
                    .toList();

            assertThat(field.reply(forty))
                    .isEqualTo("NOT NOTED: \"twleve\". NOT NOTED: \"twleve\". NOT NOTED: \"twleve\"."
                            + " NOT NOTED: \"twleve\". NOT NOTED: \"twleve\". NOT NOTED: \"twleve\"."
                            + " +34 more, 34 not noted.");
        }
    }

    @Nested
    class Settled {

        @Test
        void whatWasReadAfterAllIsToldWithTheWordsItWasReadFrom() {
            Outcome pegged = field.at("17:10").pegged("12", 14, 28);

            assertThat(field.reply(new Outcome.ReadAfterAll("1 12 l4x"), pegged))
                    .isEqualTo("Your text \"1 12 l4x\" is now noted: Row 12: 14 pegged for 15 Aug. Males 28 of 28.");
        }

        @Test
        void whereThereIsMuchToSayItIsSaidInFewerWords() {
            field.at("17:10").pegged("12", 5, 10);
            Outcome worked = field.at("10:20").worked("12", 6, ties("004711", "004713", "004715", "004717", "004719"));

            assertThat(field.reply(new Outcome.ReadAfterAll("2345 12 6 ok?"), worked))
                    .startsWith("Noted \"2345 12 6 ..\": Row 12: 6 opened")
                    .contains("CHECK");
        }

        @Test
        void whereThereWasNothingInItThatIsTold() {
            assertThat(field.at("17:10").reply(new Outcome.NothingInIt("thank you!")))
                    .isEqualTo("Your text \"thank you!\" was looked at, and there was nothing to note."
                            + " If that is wrong, send it again.");
        }
    }
}
