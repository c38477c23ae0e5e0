package duskpeg.core.purity;

import static duskpeg.core.Farm.fruit;
import static duskpeg.core.Farm.row;
import static duskpeg.core.Farm.strip;
import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.Farm;
import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.act.FieldEvent;
import duskpeg.core.act.LossReason;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.farm.Standards;
import duskpeg.core.fruit.Evidence.Grade;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.planting.Neighbour;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.Species;
import duskpeg.core.purity.Finding.Result;
import duskpeg.core.report.Question;
import duskpeg.core.settle.How;
import duskpeg.core.settle.Settled;
import duskpeg.core.settle.Settlements;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** What each rule finds. The rules themselves are common practice, no source. */
class RuleTest {

    private static final String TIE = "004711";
    private static final Instant EVER = Instant.MAX;

    private static final Act PEGGED = row("12").pegged(14).males(28).by("w2").at("17:10");
    private static final List<Act> VISIT = row("12").worked(1, TIE).at("07:10");

    /** One list of acts of single acts and lists of them. */
    private static List<Act> acts(Object... told) {
        List<Act> acts = new ArrayList<>();
        Arrays.stream(told).forEach(one -> {
            if (one instanceof List<?> list) {
                list.forEach(act -> acts.add((Act) act));
            } else {
                acts.add((Act) one);
            }
        });
        return acts;
    }

    private static List<Act> only(Deed... deeds) {
        return row("12").worked(1, TIE).only(deeds).at("07:10");
    }

    private static Act harvested(int days) {
        return fruit(TIE).harvested().by("w3").daysLater(days).at("08:00");
    }

    /** Pollinated with males from these plants and tied in one line, on plant 12.7. */
    private static List<Act> from(String... sires) {
        return List.of(
                row("12").pollinated(1).on(7, sires).at("07:10"),
                row("12").tied(1, TIE).on(7).at("07:10"));
    }

    static Case caseOf(List<Act> acts) {
        return Case.of(
                fruit(TIE).id(),
                acts,
                strip("w1", "004700", "004749").strip("w2", "004750", "004799").after(acts),
                Farm.SETTINGS,
                Species.PEPO,
                new Settlements(List.of()),
                List.of(),
                EVER);
    }

    private static Arguments is(Rule rule, Result result, Grade grade, String because, Object... told) {
        return Arguments.of(rule, result, grade, because, acts(told));
    }

    static Stream<Arguments> table() {
        Result holds = Result.HOLDS;
        Result fails = Result.FAILS;
        Result not = Result.NOT_SHOWN;
        Grade ofFruit = Grade.FRUIT;
        Grade ofRow = Grade.ROW;
        Rule pegged = Rule.PEGGED_THE_EVENING_BEFORE;
        Rule shut = Rule.STILL_SHUT_IN_THE_MORNING;
        Rule males = Rule.MALES_PEGGED;
        Rule plants = Rule.MALES_OF_TWO_OTHER_PLANTS;
        Rule window = Rule.POLLINATED_IN_THE_WINDOW;
        Rule visit = Rule.BAGGED_AND_TIED_IN_ONE_VISIT;
        Rule tie = Rule.TIE_OF_OWN_STRIP_USED_ONCE;
        Rule people = Rule.TWO_PEOPLE_BEHIND_IT;
        Rule questions = Rule.NO_OPEN_QUESTIONS;
        Rule tied = Rule.TIED_AT_HARVEST;
        Rule mature = Rule.MATURE_AT_HARVEST;
        return Stream.of(
                is(pegged, not, ofRow, "No report says where", harvested(60)),
                is(pegged, not, ofRow, "No report of pegging", VISIT),
                is(
                        pegged,
                        not,
                        ofRow,
                        "No report of pegging",
                        row("12").pegged(14).at("06:00"),
                        VISIT),
                is(
                        pegged,
                        not,
                        ofRow,
                        "No report of pegging",
                        row("13").pegged(14).at("17:10"),
                        VISIT),
                is(pegged, holds, ofRow, "14 pegged in row 12", PEGGED, VISIT),
                is(
                        pegged,
                        holds,
                        ofRow,
                        "1 tied and 13 lost",
                        PEGGED,
                        VISIT,
                        row("12").lost(13).at("07:20")),
                is(
                        pegged,
                        not,
                        ofRow,
                        "it may be this one",
                        PEGGED,
                        VISIT,
                        row("12").lost(14).at("07:20")),
                is(
                        pegged,
                        not,
                        ofRow,
                        "14 pegged in row 12 on 2026-08-15 the evening before, 15 tied and 0 lost: some flower was not",
                        PEGGED,
                        VISIT,
                        row("12").tied(14).at("07:20")),
                is(shut, holds, ofFruit, "opened by hand by w1", PEGGED, VISIT),
                is(shut, not, ofRow, "No report shows", PEGGED, only(Deed.TIED)),
                is(shut, holds, ofRow, "1 opened by hand", row("12").opened(1).at("06:10"), only(Deed.TIED)),
                is(
                        shut,
                        not,
                        ofRow,
                        "it may be this one",
                        row("12").opened(1).at("06:10"),
                        only(Deed.TIED),
                        row("12").tied(1).at("07:20")),
                is(males, holds, ofRow, "28 males pegged for 14", PEGGED, VISIT),
                is(
                        males,
                        not,
                        ofRow,
                        "27 males pegged for 14 females",
                        row("12").pegged(14).males(27).at("17:10"),
                        VISIT),
                is(males, not, ofRow, "how many males", row("12").pegged(14).at("17:10"), VISIT),
                is(males, not, ofRow, "No report of pegging", VISIT),
                is(plants, not, ofRow, "No report names", VISIT),
                is(plants, holds, ofFruit, "from 3.9 and 14.2, and it hangs on 12.7.", from("3.9", "14.2")),
                is(plants, fails, ofFruit, "it hangs on 12.7 itself", from("12.7", "14.2")),
                is(plants, not, ofRow, "from 3.9 alone", from("3.9", "3.9")),
                is(window, holds, ofFruit, "before the farm's limit of 10:00", VISIT),
                is(
                        window,
                        holds,
                        ofFruit,
                        "before the farm's limit",
                        row("12").worked(1, TIE).at("10:00")),
                is(
                        window,
                        fails,
                        ofFruit,
                        "after the farm's limit",
                        row("12").worked(1, TIE).at("10:01")),
                is(window, not, ofRow, "No report shows", only(Deed.TIED)),
                is(
                        window,
                        holds,
                        ofRow,
                        "1 pollinated before 10:00",
                        row("12").pollinated(1).at("07:00"),
                        only(Deed.TIED)),
                is(
                        window,
                        not,
                        ofRow,
                        "it may be one of those",
                        row("12").pollinated(1).at("07:00"),
                        row("12").pollinated(1).at("10:30"),
                        only(Deed.TIED)),
                is(
                        window,
                        not,
                        ofRow,
                        "it may be this one",
                        row("12").pollinated(1).at("07:00"),
                        only(Deed.TIED),
                        row("12").tied(3).at("07:20")),
                is(visit, holds, ofFruit, "reported together", VISIT),
                is(visit, holds, ofFruit, "reported together", only(Deed.BAGGED, Deed.TIED)),
                is(
                        visit,
                        holds,
                        ofRow,
                        "w1 reported 1 bagged and 1 tied",
                        row("12").bagged(1).at("06:40"),
                        only(Deed.TIED)),
                is(visit, not, ofRow, "No report shows", row("12").bagged(1).at("06:39"), only(Deed.TIED)),
                is(
                        visit,
                        not,
                        ofRow,
                        "No report shows",
                        row("12").bagged(1).by("w2").at("07:10"),
                        only(Deed.TIED)),
                is(visit, not, ofRow, "No report shows", only(Deed.TIED)),
                is(tie, holds, ofFruit, "of the strip of w1", VISIT),
                is(
                        tie,
                        fails,
                        ofFruit,
                        "w2 put it on",
                        row("12").worked(1, TIE).by("w2").at("07:10")),
                is(tie, fails, ofFruit, "2 times", VISIT, row("13").tied(1, TIE).at("07:30")),
                is(tie, not, ofRow, "was put on", harvested(60)),
                is(people, holds, ofFruit, "w1, w3", VISIT, harvested(60)),
                is(people, holds, ofRow, "w1, w2", PEGGED, VISIT),
                is(people, not, ofRow, "Fewer than two", VISIT),
                is(questions, holds, ofFruit, "Nothing is asked", PEGGED, VISIT),
                is(
                        questions,
                        fails,
                        ofRow,
                        "27 males pegged",
                        row("12").pegged(14).males(27).at("17:10"),
                        VISIT),
                is(
                        questions,
                        fails,
                        ofRow,
                        "is of another worker's strip",
                        PEGGED,
                        row("12").worked(1, TIE).by("w2").at("07:10")),
                // What is asked about another tie of the row is not asked about this one.
                is(
                        questions,
                        holds,
                        ofFruit,
                        "Nothing",
                        PEGGED,
                        VISIT,
                        row("12").worked(1, "004760").at("07:20")),
                is(tied, not, ofRow, "No report", PEGGED, VISIT),
                is(tied, holds, ofFruit, "brought in by its tie", VISIT, harvested(60)),
                is(
                        tied,
                        not,
                        ofRow,
                        "No report",
                        VISIT,
                        row("12").harvested(3).daysLater(60).at("08:00")),
                is(
                        tied,
                        fails,
                        ofFruit,
                        "cut off",
                        VISIT,
                        fruit(TIE).culled().daysLater(9).at("08:00"),
                        harvested(60)),
                is(mature, holds, ofFruit, "55 days", VISIT, harvested(55)),
                is(mature, not, ofFruit, "54 days", VISIT, harvested(54)),
                is(mature, fails, ofFruit, "44 days", VISIT, harvested(44)),
                is(mature, not, ofRow, "Not both", VISIT));
    }

    /** What is near has a table of its own, since it is read from more than acts. */
    @Test
    void noRuleIsLeftOutOfTheTable() {
        assertThat(table().map(row -> (Rule) row.get()[0]).distinct().toList())
                .containsExactlyInAnyOrderElementsOf(Arrays.stream(Rule.values())
                        .filter(rule -> rule != Rule.NEIGHBOURS_FAR_OR_BAGGED)
                        .toList());
    }

    @ParameterizedTest(name = "{0} {1}: {3}")
    @MethodSource("table")
    void theTable(Rule rule, Result result, Grade grade, String because, List<Act> acts) {
        Finding finding = rule.look(caseOf(acts));
        assertThat(finding.rule()).isEqualTo(rule);
        assertThat(finding.because()).contains(because).endsWith(".");
        assertThat(finding.result()).isEqualTo(result);
        if (result != Result.NOT_SHOWN) {
            assertThat(finding.grade()).isEqualTo(grade);
        }
        assertThat(acts.stream().map(FieldEvent.class::cast).toList()).containsAll(finding.read());
    }

    @Test
    void anArgyrospermaIsFullLater() {
        List<Act> acts = acts(VISIT, harvested(57));
        Case pepo = caseOf(acts);
        Case cushaw = new Case(
                pepo.fruit(),
                pepo.round(),
                pepo.evidence(),
                pepo.ties(),
                pepo.settings(),
                Species.ARGYROSPERMA,
                pepo.settlements(),
                pepo.around());
        assertThat(Rule.MATURE_AT_HARVEST.look(pepo).result()).isEqualTo(Result.HOLDS);
        assertThat(Rule.MATURE_AT_HARVEST.look(cushaw).result()).isEqualTo(Result.NOT_SHOWN);
    }

    private static Finding nearby(FarmEvent... around) {
        List<Act> acts = acts(
                row("12").pegged(14).males(28).by("w2").at("17:10"),
                row("12").tied(1, TIE).at("07:10"));
        Case fruit = Case.of(
                fruit(TIE).id(),
                acts,
                strip("w1", "004700", "004749").after(acts),
                Farm.SETTINGS,
                Species.PEPO,
                new Settlements(List.of()),
                List.of(around),
                EVER);
        Finding finding = Rule.NEIGHBOURS_FAR_OR_BAGGED.look(fruit);
        assertThat(List.of(around))
                .containsAll(finding.read().stream()
                        .filter(FarmEvent.class::isInstance)
                        .map(FarmEvent.class::cast)
                        .toList());
        return finding;
    }

    /** Half a mile is what seed-saving handbooks say; that a bag closes the gap is common practice, no source. */
    @Test
    void whatIsNearIsFarEnoughOrTheBagClosesTheGap() {
        Instant entered = Farm.at("06:00");
        FarmEvent planted = new FarmEvent.LaidOut(
                Farm.HILL,
                new Planting(
                        "Dam side",
                        "Amber Spindle",
                        Species.PEPO,
                        List.of(new Planting.Row(row("12").id(), 40))),
                entered);
        FarmEvent chosen = new FarmEvent.StandardsChosen(
                Farm.HILL, new Standards(null, null, "handbook/usual", 805, null), Farm.worker("w8"), entered);
        FarmEvent far = measured("a garden", Species.PEPO, 805);
        FarmEvent near = measured("a garden", Species.PEPO, 804);
        FarmEvent other = measured("a field", Species.MAXIMA, 10);

        assertThat(nearby(planted, chosen, far).result()).isEqualTo(Result.HOLDS);
        assertThat(nearby(planted, chosen, far).grade()).isEqualTo(Grade.ROW);
        assertThat(nearby(planted, chosen, far, other).result()).isEqualTo(Result.HOLDS);
        assertThat(nearby(planted, chosen, far, near).result()).isEqualTo(Result.NOT_SHOWN);
        assertThat(nearby(planted, chosen, near, far).result()).isEqualTo(Result.HOLDS);
        assertThat(nearby(planted, chosen, near).because()).contains("a garden", "804 m", "805 m");
        assertThat(nearby(planted, far).result()).isEqualTo(Result.NOT_SHOWN);
        assertThat(nearby(planted, chosen).result()).isEqualTo(Result.NOT_SHOWN);
        assertThat(nearby(chosen, far).result()).isEqualTo(Result.NOT_SHOWN);
        Finding bagged = Rule.NEIGHBOURS_FAR_OR_BAGGED.look(caseOf(acts(PEGGED, VISIT)));
        assertThat(bagged.result()).isEqualTo(Result.HOLDS);
        assertThat(bagged.because()).startsWith("The bag closed the gap");
    }

    private static FarmEvent measured(String name, Species species, int metres) {
        return new FarmEvent.Measured(
                Farm.HILL, "Dam side", new Neighbour(name, species, metres), Farm.worker("w8"), Farm.at("06:00"));
    }

    private static Verdict.Kind verdict(Object... told) {
        return Rules.latest().judge(caseOf(acts(told))).kind();
    }

    @Test
    void theVerdictIsTheFoldOfTheRules() {
        assertThat(verdict(PEGGED, VISIT)).isEqualTo(Verdict.Kind.UNFINISHED);
        assertThat(verdict(PEGGED, VISIT, harvested(60))).isEqualTo(Verdict.Kind.PURE);
        assertThat(verdict(PEGGED, VISIT, harvested(30))).isEqualTo(Verdict.Kind.PURE);
        assertThat(verdict(VISIT, harvested(60))).isEqualTo(Verdict.Kind.IN_QUESTION);
        assertThat(verdict(PEGGED, row("12").worked(1, TIE).at("10:01"), harvested(60)))
                .isEqualTo(Verdict.Kind.NOT_PURE);
        assertThat(verdict(
                        PEGGED, VISIT, row("12").lost(2, LossReason.FOUND_OPEN).at("07:20"), harvested(60)))
                .isEqualTo(Verdict.Kind.PURE);
        assertThat(verdict(PEGGED, VISIT, fruit(TIE).culled().daysLater(9).at("08:00")))
                .isEqualTo(Verdict.Kind.NOT_PURE);
        assertThat(verdict()).isEqualTo(Verdict.Kind.IN_QUESTION);
    }

    @Test
    void aReportTakenBackProvesNothing() {
        assertThat(verdict(
                        PEGGED,
                        VISIT,
                        harvested(60),
                        Farm.takenBack(row("12").round(), "w2-1710").by("w2").at("18:00")))
                .isEqualTo(Verdict.Kind.IN_QUESTION);
    }

    @Test
    void whatWasHeardLaterIsLeftOut() {
        List<Act> acts = acts(PEGGED, VISIT, harvested(60));
        Case then = Case.of(
                fruit(TIE).id(),
                acts,
                strip("w1", "004700", "004749").after(acts),
                Farm.SETTINGS,
                null,
                new Settlements(List.of()),
                List.of(),
                Farm.at("09:00"));
        assertThat(Rules.latest().judge(then).kind()).isEqualTo(Verdict.Kind.UNFINISHED);
        assertThat(then.ties().times(new TieNumber(TIE))).isEqualTo(1);
    }

    @Test
    void thatATieWasPutOnAgainIsNotKnownBeforeItIsHeard() {
        List<Act> acts = acts(PEGGED, VISIT, row("13").tied(1, TIE).at("07:30"));
        Case fruit = caseOf(acts);
        Case then = Case.of(
                fruit(TIE).id(),
                acts,
                strip("w1", "004700", "004749").after(acts),
                Farm.SETTINGS,
                Species.PEPO,
                new Settlements(List.of()),
                List.of(),
                Farm.at("07:20"));
        assertThat(Rule.NO_OPEN_QUESTIONS.look(fruit).because()).contains("2 times");
        assertThat(Rule.NO_OPEN_QUESTIONS.look(then).result()).isEqualTo(Result.HOLDS);
    }

    /** Who worked in the row in which it was said to be later does not stand behind it yet. */
    @Test
    void whatIsOfARowInWhichItWasSaidToBeLaterIsNotKnownBefore() {
        List<Act> acts = acts(
                VISIT,
                row("13").pegged(3).males(6).by("w3").at("17:20"),
                row("13").tied(1, TIE).at("07:30"));
        assertThat(Rule.TWO_PEOPLE_BEHIND_IT.look(caseOf(acts)).because()).contains("w1, w3");
        Case then = Case.of(
                fruit(TIE).id(),
                acts,
                strip("w1", "004700", "004749").after(acts),
                Farm.SETTINGS,
                Species.PEPO,
                new Settlements(List.of()),
                List.of(),
                Farm.at("07:20"));
        assertThat(Rule.TWO_PEOPLE_BEHIND_IT.look(then).result()).isEqualTo(Result.NOT_SHOWN);
    }

    /** Who checks a finding must be led to all of it: also to the report that names the mother, and to those counted. */
    @Test
    void aFindingNamesWhateverItsSentenceSays() {
        Case named = caseOf(acts(PEGGED, from("12.7", "14.2")));
        assertThat(Rule.MALES_OF_TWO_OTHER_PLANTS.look(named).read())
                .hasAtLeastOneElementOfType(Act.Pollinated.class)
                .hasAtLeastOneElementOfType(Act.Tied.class);
        Case counted = caseOf(
                acts(row("12").opened(1).at("06:10"), row("12").pollinated(1).at("07:00"), only(Deed.TIED)));
        for (Rule rule : List.of(Rule.STILL_SHUT_IN_THE_MORNING, Rule.POLLINATED_IN_THE_WINDOW)) {
            assertThat(rule.look(counted).because()).contains("1 tied");
            assertThat(rule.look(counted).read()).hasAtLeastOneElementOfType(Act.Tied.class);
        }
    }

    @Test
    void whatSomebodySettledIsNoLongerAsked() {
        List<Act> acts = acts(row("12").pegged(14).males(27).by("w2").at("17:10"), VISIT, harvested(60));
        Settled.OfQuestion settled = new Settled.OfQuestion(
                row("12").round(),
                Question.Kind.MALES_SHORT,
                List.of("27", "14", "1"),
                List.of(Farm.text("w2-1710")),
                How.AS_REPORTED,
                null,
                null,
                Farm.worker("w8"),
                Farm.at("08:00"));
        assertThat(Rule.NO_OPEN_QUESTIONS.look(settled(acts, settled, EVER)).result())
                .isEqualTo(Result.HOLDS);
        assertThat(Rule.NO_OPEN_QUESTIONS
                        .look(settled(acts, settled, Farm.at("07:30")))
                        .result())
                .isEqualTo(Result.FAILS);
    }

    private static Case settled(List<Act> acts, Settled.OfQuestion settled, Instant at) {
        return Case.of(
                fruit(TIE).id(),
                acts,
                strip("w1", "004700", "004749").after(acts),
                Farm.SETTINGS,
                Species.PEPO,
                new Settlements(List.of(settled)),
                List.of(),
                at);
    }

    @Test
    void everySetOfRulesIsKept() {
        assertThat(Rules.of("1")).contains(Rules.on(LocalDate.of(2026, 1, 1)));
        assertThat(Rules.of("0")).isEmpty();
        assertThat(Rules.latest().rules()).containsExactly(Rule.values());
        Verdict verdict = Rules.latest().judge(caseOf(acts(PEGGED, VISIT)));
        assertThat(verdict.rules()).isEqualTo("2");
        assertThat(Rules.of("1").orElseThrow().rules()).hasSize(11).doesNotContain(Rule.NEIGHBOURS_FAR_OR_BAGGED);
        assertThat(Rules.of("2")).contains(Rules.on(LocalDate.of(2026, 12, 1)));
        assertThat(verdict.findings()).extracting(Finding::rule).containsExactly(Rule.values());
    }
}
