package duskpeg.core.germination;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.data.Offset.offset;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.germination.RangeCheck.Outcome;
import duskpeg.core.germination.TwoTests.Agreement;
import duskpeg.core.planting.Species;
import duskpeg.core.published.Change;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class GerminationResultsTest {

    private static final LocalDate SOWN = LocalDate.of(2026, 6, 1);
    private static final WorkerId W1 = new WorkerId(new FarmId("hollow"), "w1");

    private final Published published = Published.shipped();

    /** A replicate with so many normal seedlings, most of them at the first count; the others are dead. */
    private static Replicate replicate(int seeds, int normal) {
        int first = normal * 3 / 4;
        return new Replicate(seeds, new Counted(first, 0, 0), new Counted(normal - first, 0, seeds - normal));
    }

    private static GerminationTest test(int seeds, int... normals) {
        return new GerminationTest(
                Species.PEPO,
                SOWN,
                SOWN.plusDays(4),
                SOWN.plusDays(8),
                Arrays.stream(normals)
                        .mapToObj(normal -> replicate(seeds, normal))
                        .toList());
    }

    private Germination germination(int seeds, int... normals) {
        return Germination.of(test(seeds, normals), published);
    }

    @Test
    void fourReplicatesNearEachOtherAreAccepted() {
        // ISTA table 5B [from memory] and 7 CFR 201.55 [read]: a mean of 89 allows 12.
        Germination germination = germination(100, 90, 88, 92, 86);

        assertThat(germination.percent()).isEqualTo(89);
        assertThat(germination.range().range()).isEqualTo(6);
        assertThat(germination.range().outcome()).isEqualTo(Outcome.ACCEPT);
        assertThat(germination.range().row().number()).isEqualByComparingTo("12");
        assertThat(germination.stands()).isTrue();
        assertThat(germination.cautions()).isEmpty();
        assertThat(germination.sentence())
                .startsWith("89% germinated: 356 normal seedlings of 400 seeds in 4 replicates;")
                .contains("two-sided, 95% confidence", "12 percentage points", "from memory")
                .endsWith(": accepted.");
    }

    @Test
    void fourReplicatesTooFarApartAreTestedAgain() {
        Germination germination = germination(100, 95, 80, 92, 89);

        assertThat(germination.percent()).isEqualTo(89);
        assertThat(germination.range().range()).isEqualTo(15);
        assertThat(germination.range().outcome()).isEqualTo(Outcome.RETEST);
        assertThat(germination.stands()).isFalse();
        assertThat(germination.sentence()).endsWith(": test again.");
    }

    @ParameterizedTest
    @CsvSource({
        // At the most that is allowed, and one more; 7 CFR 201.55 [read].
        "94, 88, 82, 88, ACCEPT", // 88: 13
        "95, 88, 82, 87, ACCEPT",
        "95, 88, 81, 88, RETEST",
        "100, 100, 97, 100, ACCEPT", // 99: 5
        "100, 100, 95, 100, ACCEPT",
        "100, 100, 94, 100, RETEST",
        "0, 0, 0, 5, ACCEPT",
        "100, 100, 100, 98, ACCEPT",
    })
    void rangeIsComparedWithTheRowOfTheRoundedMean(int a, int b, int c, int d, Outcome outcome) {
        assertThat(germination(100, a, b, c, d).range().outcome()).isEqualTo(outcome);
    }

    @Test
    void whereTheTableEndsNoReplicatesCanBeFurtherApart() {
        // What our two computed rows claim, tried out: every four hundreds with a mean that rounds to 0, 1 or 100.
        for (int sum : IntStream.concat(IntStream.rangeClosed(0, 5), IntStream.rangeClosed(398, 400))
                .toArray()) {
            for (int high = 0; high <= 100; high++) {
                for (int low = 0; low <= high; low++) {
                    int rest = sum - high - low;
                    if (rest < 2 * low || rest > 2 * high) {
                        continue;
                    }
                    Germination germination = germination(100, high, low, rest / 2, rest - rest / 2);
                    assertThat(germination.range().outcome()).isEqualTo(Outcome.ACCEPT);
                }
            }
        }
    }

    @Test
    void halvesAreRoundedUp() {
        // 354 of 400 are 88.5.
        Germination germination = germination(100, 90, 88, 90, 86);

        assertThat(germination.normalPercent()).isEqualTo("88.50");
        assertThat(germination.percent()).isEqualTo(89);
        assertThat(germination.range().row().id()).isEqualTo("89");
    }

    @Test
    void smallReplicatesArePutTogether() {
        // ISTA [from memory]: replicates of 50 or 25 are put together into hundreds.
        assertThat(germination(50, 45, 45, 44, 44, 46, 46, 43, 43).range().hundreds())
                .containsExactly(90, 88, 92, 86);
        assertThat(germination(25, 23, 22, 23, 22, 22, 22, 22, 22, 23, 23, 23, 23, 21, 22, 21, 22)
                        .range()
                        .hundreds())
                .containsExactly(90, 88, 92, 86);
    }

    @Test
    void whereTheTableDoesNotHoldItIsNotUsed() {
        for (Germination germination : List.of(
                germination(100, 90, 60, 90),
                germination(200, 190, 120),
                germination(30, 29, 10, 29, 29),
                germination(20, IntStream.range(0, 20).map(i -> i).toArray()))) {
            assertThat(germination.range().outcome()).isEqualTo(Outcome.NOT_CHECKED);
            assertThat(germination.range().row()).isNull();
            assertThat(germination.stands()).isTrue();
        }
        GerminationTest mixed = new GerminationTest(
                Species.PEPO,
                SOWN,
                SOWN.plusDays(4),
                SOWN.plusDays(8),
                List.of(replicate(100, 90), replicate(100, 90), replicate(100, 90), replicate(101, 90)));
        assertThat(Germination.of(mixed, published).range().outcome()).isEqualTo(Outcome.NOT_CHECKED);
    }

    @Test
    void fewSeedsAndOtherDaysAreSaid() {
        GerminationTest test = new GerminationTest(
                Species.MAXIMA,
                SOWN,
                SOWN.plusDays(5),
                SOWN.plusDays(8),
                List.of(replicate(50, 45), replicate(50, 45)));

        assertThat(Germination.of(test, published).cautions())
                .satisfiesExactly(
                        seeds -> assertThat(seeds).startsWith("Only 100 seeds: the method asks for 4 replicates"),
                        day -> assertThat(day).startsWith("The first count was on day 5: the method says 4 days"));

        GerminationTest other = new GerminationTest(Species.FICIFOLIA, SOWN, SOWN, SOWN, List.of(replicate(400, 380)));
        assertThat(Germination.of(other, published).cautions())
                .containsExactly(
                        "No day of the first count is known for Cucurbita ficifolia.",
                        "No day of the final count is known for Cucurbita ficifolia.");
    }

    @Test
    void everyKindIsInPercent() {
        Replicate one = new Replicate(100, new Counted(60, 2, 1), new Counted(25, 5, 7));
        GerminationTest test = new GerminationTest(
                Species.PEPO, SOWN, SOWN.plusDays(4), SOWN.plusDays(8), Collections.nCopies(4, one));
        Germination germination = Germination.of(test, published);

        assertThat(germination.normalPercent()).isEqualTo("85.00");
        assertThat(germination.firstCountPercent()).isEqualTo("60.00");
        assertThat(germination.abnormalPercent()).isEqualTo("7.00");
        assertThat(germination.deadPercent()).isEqualTo("8.00");
    }

    @Test
    void boundsAreThoseOfTheBinomial() {
        // The chance of 356 or more of 400 at the lower bound, of 356 or fewer at the upper: 2.5% each, summed here.
        Germination germination = germination(100, 90, 88, 92, 86);

        assertThat(chance(356, 400, germination.bounds().twoSidedLower())).isCloseTo(0.025, offset(1e-6));
        assertThat(1 - chance(357, 400, germination.bounds().twoSidedUpper())).isCloseTo(0.025, offset(1e-6));
    }

    /** Of at least so many, from logarithms of factorials. */
    private static double chance(int from, int all, double share) {
        double[] log = new double[all + 1];
        for (int i = 1; i <= all; i++) {
            log[i] = log[i - 1] + Math.log(i);
        }
        double sum = 0;
        for (int i = from; i <= all; i++) {
            sum += Math.exp(log[all] - log[i] - log[all - i] + i * Math.log(share) + (all - i) * Math.log1p(-share));
        }
        return sum;
    }

    @Test
    void whatDoesNotAddUpIsRefused() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Replicate(100, new Counted(60, 0, 0), new Counted(39, 0, 0)))
                .withMessage("99 counted of 100 seeds");
        assertThatIllegalArgumentException().isThrownBy(() -> new Counted(-1, 0, 0));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Replicate(0, new Counted(0, 0, 0), new Counted(0, 0, 0)));
        assertThatIllegalArgumentException().isThrownBy(() -> test(100));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new GerminationTest(
                        Species.PEPO, SOWN, SOWN.plusDays(8), SOWN.plusDays(4), List.of(replicate(100, 90))));
    }

    /** Two tests of 400 seeds with these percents, their replicates all alike. */
    private TwoTests twoTests(int one, int other) {
        return TwoTests.of(
                germination(100, one, one, one, one), germination(100, other, other, other, other), published);
    }

    @ParameterizedTest
    @CsvSource({
        // 7 CFR 201.63 [read]: by the mean of both, 96 and over 5, 90 to under 96 6, 80 to under 90 7, and so on.
        "99, 94, 96.5, AGREE, 97", // over 96: 5
        "98, 94, 96, AGREE, 96",
        "99, 93, 96, APART, ",
        "98, 93, 95.5, AGREE, 96", // under 96: 6
        "93, 87, 90, AGREE, 90",
        "94, 87, 90.5, APART, ",
        "93, 86, 89.5, AGREE, 90", // under 90: 7
        "94, 85, 89.5, APART, ",
        "83, 76, 79.5, AGREE, 80", // under 80: 8
        "84, 76, 80, APART, ",
        "83, 75, 79, AGREE, 79",
        "74, 65, 69.5, AGREE, 70", // under 70: 9
        "64, 54, 59, AGREE, 59", // under 60: 10
        "65, 54, 59.5, APART, ",
        "65, 55, 60, APART, ",
        "89, 89, 89, AGREE, 89",
    })
    void twoTestsAgreeWithinTheTolerance(int one, int other, BigDecimal mean, Agreement agreement, Integer report) {
        TwoTests both = twoTests(one, other);

        assertThat(both.mean()).isEqualByComparingTo(mean);
        assertThat(both.agreement()).isEqualTo(agreement);
        assertThat(both.report()).isEqualTo(report);
        assertThat(twoTests(other, one).agreement()).isEqualTo(agreement);
        assertThat(both.sentence()).contains("7 CFR 201.63");
    }

    @Test
    void aTestThatDoesNotCountIsNotCompared() {
        TwoTests apart = TwoTests.of(germination(100, 95, 80, 92, 89), germination(100, 89, 89, 89, 89), published);
        assertThat(apart.agreement()).isEqualTo(Agreement.NOT_COMPARED);
        assertThat(apart.report()).isNull();

        TwoTests few = TwoTests.of(germination(50, 45, 45), germination(100, 90, 90, 90, 90), published);
        assertThat(few.agreement()).isEqualTo(Agreement.NOT_COMPARED);
        assertThat(few.sentence()).contains("400 seeds or more");
    }

    @ParameterizedTest
    @CsvSource({
        // 7 CFR 201.31: pumpkin 75% [read].
        "90, true, true",
        "75, true, false",
        "74, false, false",
        "60, false, true",
    })
    void aStandardIsMetOrNotAndChanceIsSaid(int percent, boolean met, boolean sure) {
        Row minimum = published.get(Table.GERMINATION_MINIMUM, "us", "pumpkin");
        AgainstMinimum against = AgainstMinimum.of(germination(100, percent, percent, percent, percent), minimum);

        assertThat(against.met()).isEqualTo(met);
        assertThat(against.sure()).isEqualTo(sure);
        assertThat(against.sentence()).contains("75 percent (US 7 CFR 201.31");
        // 7 CFR 201.29 [read]: small packets may be sold under it if they say so.
        assertThat(against.sentence().contains("marked below standard")).isEqualTo(!met);
    }

    @Test
    void theFarmsOwnStandardIsUsedAndSaid() {
        Published own = published.with(
                new Change(Table.GERMINATION_MINIMUM, "us/pumpkin", "85", "the farm's rule", "2026", W1));
        AgainstMinimum against = AgainstMinimum.of(
                germination(100, 80, 80, 80, 80), own.get(Table.GERMINATION_MINIMUM, "us", "pumpkin"));

        assertThat(against.met()).isFalse();
        assertThat(against.sentence()).contains("the farm's own 85 percent", "shipped: 75 percent");
    }

    @Test
    void aTestThatMustBeMadeAgainMeetsNothing() {
        Row minimum = published.get(Table.GERMINATION_MINIMUM, "us", "pumpkin");

        assertThat(AgainstMinimum.of(germination(100, 95, 80, 92, 89), minimum).met())
                .isFalse();
        assertThatIllegalArgumentException()
                .isThrownBy(() ->
                        AgainstMinimum.of(germination(100, 90), published.get(Table.OFF_TYPES, "india", "certified")));
    }
}
