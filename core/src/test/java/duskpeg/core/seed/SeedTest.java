package duskpeg.core.seed;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.data.Offset.offset;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.published.Change;
import duskpeg.core.published.Published;
import duskpeg.core.published.Table;
import duskpeg.core.seed.OvenTest.Portion;
import duskpeg.core.seed.StorageLife.Store;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SeedTest {

    private static final WorkerId WHO = new WorkerId(new FarmId("hollow"), "w1");

    private final Published published = Published.shipped();

    @Nested
    class MoistureAndWeight {

        @ParameterizedTest
        @CsvSource({
            // Dry matter stays: 88 of 100 is 94% of 93.617, 850 of 1,000 is 92% of 923.913. Computed by hand.
            "100000, 12, 6, 93617.0",
            "1000, 15, 8, 923.913",
            "1000, 8, 8, 1000"
        })
        void dryMatterStays(double grams, double percent, double wanted, double then) {
            assertThat(Moisture.weightAt(grams, percent, wanted)).isCloseTo(then, offset(0.05));
            assertThat(Moisture.percentAt(grams, percent, Moisture.weightAt(grams, percent, wanted)))
                    .isCloseTo(wanted, offset(1e-9));
        }

        @Test
        void whatCantBeIsRefused() {
            assertThatIllegalArgumentException().isThrownBy(() -> Moisture.weightAt(100, 100, 6));
            assertThatIllegalArgumentException().isThrownBy(() -> Moisture.weightAt(100, 10, 100));
            assertThatIllegalArgumentException().isThrownBy(() -> Moisture.weightAt(-1, 10, 6));
            assertThatIllegalArgumentException().isThrownBy(() -> Moisture.percentAt(100, 10, 89));
        }
    }

    @Nested
    class Oven {

        @Test
        void portionsNearEachOtherAreAccepted() {
            // 5 g of which 0.40 g and 0.41 g are water: 8.0% and 8.2%, by hand. Most 0.2 apart: ISTA [from memory].
            OvenTest test = OvenTest.of(List.of(new Portion(20, 25, 24.6), new Portion(20, 25, 24.59)), published);

            assertThat(test.percent()).isCloseTo(8.1, offset(1e-9));
            assertThat(test.difference()).isCloseTo(0.2, offset(1e-9));
            assertThat(test.outcome()).isEqualTo(OvenTest.Outcome.ACCEPT);
            assertThat(test.sentence())
                    .startsWith("8.1% moisture, wet basis, of 2 portions")
                    .contains("from memory");
        }

        @Test
        void portionsTooFarApartAreTestedAgain() {
            OvenTest test = OvenTest.of(List.of(new Portion(20, 25, 24.6), new Portion(20, 25, 24.585)), published);

            assertThat(test.outcome()).isEqualTo(OvenTest.Outcome.RETEST);
        }

        @Test
        void onePortionShowsNothing() {
            assertThat(OvenTest.of(List.of(new Portion(20, 25, 24.6)), published)
                            .outcome())
                    .isEqualTo(OvenTest.Outcome.NOT_CHECKED);
        }

        @Test
        void whatCantBeIsRefused() {
            assertThatIllegalArgumentException().isThrownBy(() -> new Portion(20, 25, 25.1));
            assertThatIllegalArgumentException().isThrownBy(() -> new Portion(20, 25, 20));
            assertThatIllegalArgumentException().isThrownBy(() -> OvenTest.of(List.of(), published));
        }
    }

    @Nested
    class ThousandSeeds {

        @ParameterizedTest
        @CsvSource({
            // Seeds and their weight in a fruit, of a study of plant density [read]; divided by hand.
            "59, 242, 243.8",
            "87, 304, 286.2",
            "76, 376, 202.1"
        })
        void weighAsTheirFruitsSay(double grams, int seeds, double thousand) {
            assertThat(SeedWeight.thousandGrams(grams, seeds)).isCloseTo(thousand, offset(0.05));
        }

        @Test
        void evenReplicatesAreAccepted() {
            // The weights of a tutorial on Appendix 4 of the AOSA rules (FRSA 2001) [read], and its printed formula for
            // the variance, which is another than ours: (n sum(x^2) - sum(x)^2) / (n (n - 1)).
            List<Double> grams = List.of(0.2224, 0.2134, 0.2130, 0.2116, 0.2145, 0.2071, 0.2116, 0.2125);
            double sum = 0;
            double squares = 0;
            for (double one : grams) {
                sum += one;
                squares += one * one;
            }
            double deviation = Math.sqrt((8 * squares - sum * sum) / (8 * 7));

            SeedWeight weight = SeedWeight.of(grams, published);
            assertThat(weight.deviationGrams()).isCloseTo(deviation, offset(1e-9));
            assertThat(weight.variationPercent()).isCloseTo(100 * deviation / (sum / 8), offset(1e-6));
            assertThat(weight.variationPercent()).isCloseTo(2.01, offset(0.01));
            assertThat(weight.thousandGrams()).isCloseTo(10 * sum / 8, offset(1e-9));
            assertThat(weight.outcome()).isEqualTo(SeedWeight.Outcome.ACCEPT);
            assertThat(weight.sentence()).contains("4.0 percent", "from memory");
        }

        @Test
        void ofUnevenOnesMoreAreWeighed() {
            // Mean 25, deviations of 2 g on both sides: 8 of 4 g squared over 7, a root of 2.138, 8.55%. By hand.
            SeedWeight weight = SeedWeight.of(List.of(23.0, 27.0, 23.0, 27.0, 23.0, 27.0, 23.0, 27.0), published);

            assertThat(weight.variationPercent()).isCloseTo(8.552, offset(0.001));
            assertThat(weight.outcome()).isEqualTo(SeedWeight.Outcome.WEIGH_MORE);
        }

        @Test
        void ofSixteenThoseTooFarAwayAreLeftOut() {
            // Fifteen of 25 g and one of 33: mean 25.5, deviation 2, so 33 is 3.75 deviations away. By hand.
            List<Double> grams = new ArrayList<>(Collections.nCopies(15, 25.0));
            grams.add(33.0);
            SeedWeight weight = SeedWeight.of(grams, published);

            assertThat(weight.deviationGrams()).isCloseTo(2, offset(1e-9));
            assertThat(weight.leftOut()).isEqualTo(1);
            assertThat(weight.thousandGrams()).isEqualTo(250);
            assertThat(weight.outcome()).isEqualTo(SeedWeight.Outcome.ACCEPT);
        }

        @Test
        void fewAreSaidToBeFew() {
            assertThat(SeedWeight.of(List.of(25.0, 25.2), published).outcome()).isEqualTo(SeedWeight.Outcome.TOO_FEW);
            assertThatIllegalArgumentException().isThrownBy(() -> SeedWeight.of(List.of(25.0), published));
            assertThatIllegalArgumentException().isThrownBy(() -> SeedWeight.of(List.of(25.0, 0.0), published));
        }
    }

    @Nested
    class InPackets {

        @ParameterizedTest
        @CsvSource({
            // Binary fractions would make 9 and 2999 of the first two.
            "1, 0.1, 10, 0",
            "300, 0.1, 3000, 0",
            "1000, 2.5, 400, 0",
            "999.9, 2.5, 399, 2.4",
            "2.4, 2.5, 0, 2.4"
        })
        void fullOnesAreCounted(BigDecimal grams, BigDecimal packet, long packets, BigDecimal rest) {
            Packets shared = Packets.of(grams, packet);

            assertThat(shared.packets()).isEqualTo(packets);
            assertThat(shared.restGrams()).isEqualByComparingTo(rest);
        }

        @Test
        void seedsAreWeighedOutRoundedUp() {
            // 20 seeds of 243.8 g a thousand: 4.876 g.
            assertThat(Packets.gramsOf(20, new BigDecimal("243.8"))).isEqualTo("4.88");
            assertThat(Packets.gramsOf(20, new BigDecimal("243.6"))).isEqualTo("4.88");
            assertThat(Packets.gramsOf(20, new BigDecimal("243.5"))).isEqualTo("4.87");
            assertThatIllegalArgumentException().isThrownBy(() -> Packets.gramsOf(0, BigDecimal.TEN));
            assertThatIllegalArgumentException().isThrownBy(() -> Packets.of(BigDecimal.ONE, BigDecimal.ZERO));
        }
    }

    @Nested
    class Storage {

        @ParameterizedTest
        @CsvSource({
            // Harrington, in Justice & Bass 1978, USDA AH-506 [read]: 2^2 for moisture, 2^2 for temperature.
            "12, 25, 10, 15, 16",
            "10, 15, 12, 25, 0.0625",
            "8, 20, 8, 20, 1",
            "14, 50, 5, 0, 524288",
            "8, 20, 8, 17.5, 1.414214"
        })
        void isLongerByHarringtonsRuleOfThumb(double fromM, double fromC, double toM, double toC, double times) {
            StorageLife life = StorageLife.of(new Store(fromM, fromC), new Store(toM, toC), published);

            assertThat(life.times()).hasValueCloseTo(times, offset(1e-6));
            assertThat(life.sentence()).contains("rule of thumb", "5 to 14% moisture", "Only a test");
        }

        @ParameterizedTest
        @CsvSource({"14.1, 25, 10, 15", "12, 25, 4.9, 15", "12, 51, 10, 15", "12, 25, 10, -1"})
        void isNotEstimatedOutsideItsRange(double fromM, double fromC, double toM, double toC) {
            StorageLife life = StorageLife.of(new Store(fromM, fromC), new Store(toM, toC), published);

            assertThat(life.times()).isEmpty();
            assertThat(life.sentence()).startsWith("Not estimated").contains("Harrington");
        }

        @Test
        void goesByTheFarmsOwnRows() {
            Published own =
                    published.with(new Change(Table.STORAGE_RANGE, "moisture/from", "4", "own trial", "2026", WHO));

            assertThat(StorageLife.of(new Store(5, 20), new Store(4.5, 20), own).times())
                    .isPresent();
        }
    }

    @Nested
    class TestedAgain {

        @ParameterizedTest
        @CsvSource({
            // 7 CFR 201.30a [read]: 5 months, sealed 24, after the last day of the month in which the test was
            // completed.
            "2026-03-15, open, 2026-08-31",
            "2026-09-01, open, 2027-02-28",
            "2027-09-30, open, 2028-02-29",
            "2026-03-15, sealed, 2028-03-31"
        })
        void afterMonthsByTheCalendar(LocalDate tested, String container, LocalDate due) {
            Retest retest = Retest.of(tested, container, published);

            assertThat(retest.due()).isEqualTo(due);
            assertThat(retest.isOver(due)).isFalse();
            assertThat(retest.isOver(due.plusDays(1))).isTrue();
            assertThat(retest.on(due)).contains("7 CFR 201.30a").endsWith("until " + due + ", 0 days to go.");
            assertThat(retest.on(due.plusDays(1))).endsWith("test again, it held until " + due + ".");
        }

        @Test
        void theFarmHasMonthsOfItsOwn() {
            Published own = published.with(new Change(Table.RETEST, "open", "9", "own rule", "2026", WHO));

            assertThat(Retest.of(LocalDate.of(2026, 3, 15), "open", own).due()).isEqualTo("2026-12-31");
            assertThatIllegalArgumentException()
                    .isThrownBy(() -> new Retest(LocalDate.of(2026, 3, 15), published.get(Table.CULLING, "first")));
        }
    }
}
