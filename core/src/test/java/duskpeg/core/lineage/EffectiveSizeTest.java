package duskpeg.core.lineage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import duskpeg.core.lineage.EffectiveSize.Formula;
import duskpeg.core.lineage.Stock.Fruit;
import duskpeg.core.lineage.Stock.Plant;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Formulas of Wright 1931, Crow & Kimura 1970 and Falconer & Mackay ch. 4, from memory; values computed independently. */
class EffectiveSizeTest {

    @ParameterizedTest
    @CsvSource({
        "10, 10, 20, .025",
        "5, 20, 16, .03125",
        "1, 10, 3.6364, .1375",
        "10, 40, 32, .015625",
        "1, 99, 3.96, .126263"
    })
    void ofSexes(double males, double females, double size, double rate) {
        EffectiveSize found = EffectiveSize.ofSexes(males, females);
        assertThat(found.value()).isCloseTo(size, within(1e-4));
        assertThat(found.rate()).isCloseTo(rate, within(1e-6));
        assertThat(found.formula()).isEqualTo(Formula.SEXES);
    }

    @ParameterizedTest
    @CsvSource({"50, 2, 49.5", "50, 0, 99", "50, 6, 24.75", "25, 4, 16.3333"})
    void ofFamilies(double plants, double variance, double size) {
        assertThat(EffectiveSize.ofFamilies(plants, variance).value()).isCloseTo(size, within(1e-4));
    }

    @Test
    void overGenerations() {
        assertThat(EffectiveSize.over(List.of(100.0, 10.0, 100.0)).value()).isCloseTo(25, within(1e-4));
        assertThat(EffectiveSize.over(List.of(500.0, 500.0, 500.0, 500.0, 10.0)).value())
                .isCloseTo(46.2963, within(1e-4));
    }

    @Test
    void inbreedingAfterGenerations() {
        assertThat(EffectiveSize.ofFamilies(50.5, 2).inbreedingAfter(10)).isCloseTo(.095618, within(1e-6));
        assertThat(EffectiveSize.ofSexes(10, 10).inbreedingAfter(5)).isCloseTo(.118904, within(1e-6));
        assertThat(EffectiveSize.ofSexes(10, 10).inbreedingAfter(0)).isZero();
    }

    @Test
    void theRateOfInbreedingGivesBackTheSize() {
        EffectiveSize twenty = EffectiveSize.ofSexes(10, 10);
        EffectiveSize back = EffectiveSize.ofInbreeding(twenty.inbreedingAfter(4), twenty.inbreedingAfter(5));
        assertThat(back.value()).isCloseTo(20, within(1e-9));
        assertThat(EffectiveSize.ofInbreeding(0.1, 0.1).value()).isInfinite();
    }

    @Test
    void unequalDamsCountForFewer() {
        assertThat(EffectiveSize.ofDams(List.of(.25, .25, .25, .25)).value()).isCloseTo(4, within(1e-12));
        assertThat(EffectiveSize.ofDams(List.of(.7, .1, .1, .1)).value()).isCloseTo(1 / .52, within(1e-12));
    }

    @Test
    void aStatusNumberCountsPlantsThatAreNoKin() {
        Pedigree pedigree = Pedigree.of(List.of(
                Plant.founder("a"),
                Plant.founder("b"),
                Fruit.of("f", "a", "b"),
                new Plant("x", "f"),
                new Plant("y", "f")));
        assertThat(EffectiveSize.ofCoancestry(pedigree.coancestry(Map.of("a", 1.0, "b", 1.0)))
                        .value())
                .isCloseTo(2, within(1e-12));
        // Full sibs: coancestry (2 * 1/2 + 2 * 1/4) / 4 = 3/8.
        assertThat(EffectiveSize.ofCoancestry(pedigree.coancestry(Map.of("x", 1.0, "y", 1.0)))
                        .value())
                .isCloseTo(4 / 3.0, within(1e-12));
    }

    @Test
    void everyFormulaSaysWhatItAssumes() {
        assertThat(Formula.values()).allSatisfy(formula -> {
            assertThat(formula.written()).isNotBlank();
            assertThat(formula.assumes()).endsWith(".");
            assertThat(formula.source()).containsPattern("\\d{4}");
        });
    }

    @Test
    void whatIsNoPopulationIsRefused() {
        assertThatIllegalArgumentException().isThrownBy(() -> EffectiveSize.ofSexes(0, 10));
        assertThatIllegalArgumentException().isThrownBy(() -> EffectiveSize.ofSexes(10, Double.NaN));
        assertThatIllegalArgumentException().isThrownBy(() -> EffectiveSize.ofFamilies(10, -1));
        assertThatIllegalArgumentException().isThrownBy(() -> EffectiveSize.over(List.of()));
        assertThatIllegalArgumentException().isThrownBy(() -> EffectiveSize.over(List.of(10.0, 0.0)));
        assertThatIllegalArgumentException().isThrownBy(() -> EffectiveSize.ofInbreeding(0.2, 0.1));
        assertThatIllegalArgumentException().isThrownBy(() -> EffectiveSize.ofDams(List.of(.5, .4)));
        assertThatIllegalArgumentException().isThrownBy(() -> EffectiveSize.ofCoancestry(-0.1));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> EffectiveSize.ofSexes(10, 10).inbreedingAfter(-1));
    }
}
