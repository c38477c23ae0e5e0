package duskpeg.core.growout;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.data.Offset.offset;

import duskpeg.core.growout.AgainstLimit.Standing;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class GrowOutTest {

    private static final double CONFIDENCE = 0.95;

    @ParameterizedTest
    @CsvSource({
        // Clopper-Pearson, one-sided 95% upper bound: computed independently.
        "0, 50, 0.058155",
        "0, 100, 0.029513",
        "0, 300, 0.009936",
        "0, 400, 0.007461",
        "1, 400, 0.011804",
        "3, 400, 0.019269",
        "5, 1000, 0.010484"
    })
    void upperBoundIsClopperPearsons(int found, int among, double upper) {
        assertThat(ClopperPearson.upper(found, among, CONFIDENCE)).isCloseTo(upper, offset(1e-5));
    }

    @ParameterizedTest
    @CsvSource({
        // Clopper-Pearson, two-sided 95%: computed independently.
        "0, 50, 0, 0.071122",
        "1, 400, 0.000063, 0.013850",
        "3, 400, 0.001549, 0.021761"
    })
    void twoSidedBoundsAreClopperPearsons(int found, int among, double lower, double upper) {
        Bounds bounds = Bounds.of(found, among, CONFIDENCE);

        assertThat(bounds.twoSidedLower()).isCloseTo(lower, offset(1e-5));
        assertThat(bounds.twoSidedUpper()).isCloseTo(upper, offset(1e-5));
    }

    @ParameterizedTest
    @CsvSource({
        "0, 50, 0.95",
        "0, 300, 0.95",
        "1, 400, 0.95",
        "3, 400, 0.95",
        "3, 400, 0.99",
        "5, 1000, 0.95",
        "12, 40, 0.9",
        "39, 40, 0.95",
        "200, 400, 0.95",
        "1, 1, 0.95",
        "1, 2, 0.5"
    })
    void boundsAreWhereTheBinomialSumSaysSo(int found, int among, double confidence) {
        // Their definition: at the upper bound so few, at the lower so many, have just that chance.
        double upper = ClopperPearson.upper(found, among, confidence);
        double lower = ClopperPearson.lower(found, among, confidence);

        if (found < among) {
            assertThat(Exactly.atMost(found, among, upper)).isCloseTo(1 - confidence, offset(1e-6));
        } else {
            assertThat(upper).isEqualTo(1);
        }
        if (found > 0) {
            assertThat(Exactly.atLeast(found, among, lower)).isCloseTo(1 - confidence, offset(1e-6));
        } else {
            assertThat(lower).isEqualTo(0);
        }
    }

    @Test
    void noneFoundHasAClosedForm() {
        // (1-p)^n = 1 - confidence.
        for (int among = 1; among < 5000; among = among * 3 + 1) {
            assertThat(ClopperPearson.upper(0, among, CONFIDENCE))
                    .isCloseTo(1 - Math.pow(0.05, 1.0 / among), offset(1e-7));
        }
    }

    @ParameterizedTest
    @CsvSource({"5, 4", "-1, 4", "0, 0"})
    void whatCantBeFoundIsRefused(int found, int among) {
        assertThatIllegalArgumentException().isThrownBy(() -> ClopperPearson.upper(found, among, CONFIDENCE));
        assertThatIllegalArgumentException().isThrownBy(() -> new GrowOut(among, found, null));
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, 1, -0.5, 95, Double.NaN})
    void confidenceIsBetweenNoneAndAll(double confidence) {
        assertThatIllegalArgumentException().isThrownBy(() -> new GrowOut(400, 0, 400).shows(confidence));
    }

    @Test
    void saysWhichBoundAndConfidence() {
        GrowOut.Shown shown = new GrowOut(300, 0, 300).shows(CONFIDENCE);

        assertThat(shown.sentence())
                .isEqualTo("0 off-types among 300 plants: at most 0.994% of the lot are off-types (one-sided upper"
                        + " bound, 95% confidence, Clopper-Pearson, every plant counted as drawn independently);"
                        + " between 0% and 1.222% (two-sided, 95% confidence).");
        assertThat(shown.cautions()).isEmpty();
    }

    @Test
    void saysThatSeedsOfOneFruitAreAlike() {
        assertThat(new GrowOut(300, 0, null).shows(CONFIDENCE).cautions())
                .containsExactly(GrowOut.Caution.FRUITS_UNKNOWN);
        assertThat(new GrowOut(300, 0, 30).shows(CONFIDENCE).cautions())
                .containsExactly(GrowOut.Caution.SEEDS_OF_ONE_FRUIT);
        assertThat(new GrowOut(300, 0, 30)
                        .shows(CONFIDENCE, DesignEffect.of(300, 30, 0.1))
                        .cautions())
                .isEmpty();
    }

    @Test
    void alikePlantsTellLess() {
        // 300 plants of 30 fruits that are wholly alike are 30 fruits: 1 - 0.05^(1/30).
        GrowOut.Shown shown = new GrowOut(300, 0, 30).shows(CONFIDENCE, DesignEffect.of(300, 30, 1));
        assertThat(shown.bounds().upper()).isCloseTo(1 - Math.pow(0.05, 1.0 / 30), offset(1e-7));

        // Where two plants weigh as one, four off-types of 400 are two of 200.
        assertThat(new GrowOut(400, 4, 200)
                        .shows(CONFIDENCE, DesignEffect.of(400, 200, 1))
                        .bounds())
                .isEqualTo(new GrowOut(200, 2, 200).shows(CONFIDENCE).bounds());

        // Kish [from memory]: 1 + (10 - 1) 0.1 = 1.9.
        assertThat(DesignEffect.of(300, 30, 0.1).times()).isCloseTo(1.9, offset(1e-12));
        assertThat(DesignEffect.of(300, 300, 0.7).times()).isEqualTo(1);
        assertThatIllegalArgumentException().isThrownBy(() -> DesignEffect.of(300, 301, 0.1));
        assertThatIllegalArgumentException().isThrownBy(() -> DesignEffect.of(300, 30, 1.1));
        assertThatIllegalArgumentException().isThrownBy(() -> new DesignEffect(0.9, "x"));
    }

    @ParameterizedTest
    @CsvSource({
        // Computed independently, 95%.
        "0.05, 59",
        "0.03, 99",
        "0.02, 149",
        "0.01, 299",
        "0.005, 598",
        "0.003, 998",
        "0.001, 2995"
    })
    void plansForNoOffTypes(double share, int plants) {
        assertThat(SampleSize.of(share, 0, CONFIDENCE, DesignEffect.NONE).plants())
                .isEqualTo(plants);
    }

    @ParameterizedTest
    @CsvSource({"0.01, 1", "0.01, 3", "0.02, 2", "0.005, 5", "0.3, 4"})
    void plansTheFewestForSomeOffTypes(double share, int allowed) {
        int plants =
                SampleSize.of(share, allowed, CONFIDENCE, DesignEffect.NONE).plants();

        assertThat(Exactly.atMost(allowed, plants, share)).isLessThanOrEqualTo(0.05);
        assertThat(Exactly.atMost(allowed, plants - 1, share)).isGreaterThan(0.05);
        // And with so many the grow-out shows it indeed.
        assertThat(new GrowOut(plants, allowed, plants)
                        .shows(CONFIDENCE)
                        .bounds()
                        .upper())
                .isLessThanOrEqualTo(share + 1e-9);
    }

    @Test
    void plansForPlantsThatAreAlike() {
        SampleSize size = SampleSize.of(0.01, 0, CONFIDENCE, new DesignEffect(1.9, "alike"));

        assertThat(size.plants()).isEqualTo((int) Math.ceil(299 * 1.9));
        assertThat(size.sentence())
                .isEqualTo("With at most 0 off-types among 569 plants the lot has at most 1% off-types (one-sided upper"
                        + " bound, 95% confidence, alike).");
    }

    @Test
    void aPlanHasAnEnd() {
        assertThatIllegalArgumentException().isThrownBy(() -> SampleSize.of(1e-9, 0, CONFIDENCE, DesignEffect.NONE));
        assertThatIllegalArgumentException().isThrownBy(() -> SampleSize.of(0, 0, CONFIDENCE, DesignEffect.NONE));
        assertThatIllegalArgumentException().isThrownBy(() -> SampleSize.of(0.01, -1, CONFIDENCE, DesignEffect.NONE));
    }

    @ParameterizedTest
    @CsvSource({
        // Computed independently: Poisson, alpha 0.05.
        "99.9, 200, 2", "99.9, 400, 3", "99.9, 1000, 4", "99.9, 2000, 6", "99.9, 4000, 9",
        "99.7, 200, 3", "99.7, 400, 4", "99.7, 1000, 7", "99.7, 2000, 11", "99.7, 4000, 19",
        "99.0, 200, 6", "99.0, 400, 9", "99.0, 1000, 16", "99.0, 2000, 29", "99.0, 4000, 52"
    })
    void rejectNumbersAreThoseOfThePoisson(double purity, int plants, int reject) {
        assertThat(RejectNumber.of(plants, purity, 0.05).reject()).isEqualTo(reject);
    }

    @Test
    void toPassIsNoProof() {
        RejectNumber number = RejectNumber.of(400, 99.7, 0.05);

        assertThat(number.chanceOfPassing(0.006)).isCloseTo(Exactly.atMost(3, 400, 0.006), offset(1e-9));
        assertThat(number.sentence())
                .contains("4 off-types or more")
                .contains("no proof of purity")
                .contains("78%");
        // Three off-types pass, and yet nearly 2% may be: 3/400 is bounded by 0.019269 above.
        assertThat(new GrowOut(400, 3, 400).shows(CONFIDENCE).bounds().upper()).isGreaterThan(6 * 0.003);
        assertThatIllegalArgumentException().isThrownBy(() -> RejectNumber.of(400, 100, 0.05));
    }

    @ParameterizedTest
    @CsvSource({
        // India MSCS 2013, certified, 0.20% [from memory]: 1,497 plants without an off-type are needed at 95%, by
        // (1-0.002)^n <= 0.05.
        "1497, 0, UNDER",
        "1496, 0, NOT_SHOWN",
        "400, 0, NOT_SHOWN",
        "400, 1, NOT_SHOWN",
        "400, 5, OVER"
    })
    void aLimitIsShownOrNot(int plants, int offTypes, Standing standing) {
        Row limit = Published.shipped().get(Table.OFF_TYPES, "india", "certified");
        AgainstLimit against = AgainstLimit.of(new GrowOut(plants, offTypes, plants).shows(CONFIDENCE), limit);

        assertThat(against.standing()).isEqualTo(standing);
        assertThat(against.sentence()).contains("0.20 percent of plants", "from memory", "one-sided", "95% confidence");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> AgainstLimit.of(
                        new GrowOut(1, 0, 1).shows(CONFIDENCE),
                        Published.shipped().get(Table.ISOLATION, "eu", "basic")));
    }
}
