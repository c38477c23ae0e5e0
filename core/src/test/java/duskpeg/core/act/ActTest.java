package duskpeg.core.act;

import static duskpeg.core.Farm.fruit;
import static duskpeg.core.Farm.plant;
import static duskpeg.core.Farm.row;
import static duskpeg.core.Farm.takenBack;
import static duskpeg.core.Farm.told;
import static duskpeg.core.Farm.worker;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import duskpeg.core.Farm;
import duskpeg.core.planting.PlantId;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ActTest {

    private static final Told TOLD = told("w1", "07:30", 20, "", 1);

    @Test
    void everyActStandsUntilItIsTakenBack() {
        Act pegged = row("12").pegged(14).males(28).by("w1").at("17:10");
        Act opened = row("12").opened(14).by("w1").at("06:05");

        assertThat(Act.standing(List.of(pegged, opened))).containsExactly(pegged, opened);
    }

    @Test
    void whatWasTakenBackStandsNoLonger() {
        Act right = row("12").pegged(14).by("w1").at("17:10");
        Act wrong = row("12").pegged(41).by("w1").at("17:20");
        Act back = takenBack(row("12").round(), "w1-1720").by("w1").at("17:21");

        assertThat(Act.standing(List.of(right, wrong, back))).containsExactly(right);
    }

    @Test
    void takingBackReachesEveryActOfTheMessageOnThatSubject() {
        List<Act> line = row("12").worked(6, "004711").by("w1").at("07:30");
        Act back = takenBack(row("12").round(), "w1-0730").by("w1").at("07:31");

        assertThat(Act.standing(Stream.concat(line.stream(), Stream.of(back)).toList()))
                .isEmpty();
    }

    @Test
    void anotherRowOfTheSameMessageStaysAsItWas() {
        Act twelve = row("12").pegged(14).by("w1").line(1).at("17:10");
        Act thirteen = row("13").pegged(9).by("w1").line(2).at("17:10");
        Act back = takenBack(row("12").round(), "w1-1710").by("w1").at("17:11");

        assertThat(Act.standing(List.of(twelve, thirteen, back))).containsExactly(thirteen);
    }

    @Test
    void theRowsFruitStaysAsItWasWhereItsFlowersAreTakenBack() {
        Act lost = row("12").lost(2).in("SM1").at("08:00");
        Act culled = row("12").culled(2).in("SM1").at("08:00");
        Act back = takenBack(row("12").round(), "SM1").at("08:01");

        // The row's fruit and the row's round are two subjects, though both are row 12.
        assertThat(Act.standing(List.of(lost, culled, back))).containsExactly(culled);
    }

    @Test
    void whatIsTakenBackDoesNotStandEvenIfItIsHeardLater() {
        Act back = takenBack(row("12").round(), "w1-1710").by("w1").at("17:11");
        Act pegged = row("12").pegged(41).by("w1").at("17:10");

        assertThat(Act.standing(List.of(back, pegged))).isEmpty();
    }

    @Test
    void nothingIsTakenBackByAnIdOfNoMessageHere() {
        Act pegged = row("12").pegged(14).by("w1").at("17:10");
        Act back = takenBack(row("12").round(), "w2-1710").by("w2").at("17:11");

        assertThat(Act.standing(List.of(pegged, back))).containsExactly(pegged);
    }

    @Test
    void aLineIsTakenBackAlone() {
        Act pegged = row("12").pegged(14).by("w1").line(1).at("17:10");
        Act lost = row("12").lost(1).by("w1").line(2).at("17:10");
        Act back = takenBack(row("12").round(), "w1-1710", 2).by("w1").at("17:11");

        assertThat(Act.standing(List.of(pegged, lost, back))).containsExactly(pegged);
    }

    @Test
    void whatIsToldAgainOfFewerIsOtherwiseTheSame() {
        Told anew = told("w1", "08:00", 0, "SM2", 3);

        assertThat(row("12").pegged(14).males(28).on(7, "3.9").at("17:10").again(12, anew))
                .isEqualTo(new Act.Pegged(row("12").round(), 12, 28, 7, List.of(plant("3.9")), anew));
        assertThat(row("12").tied(3, "004711", "004712", "004713").at("07:30").again(2, anew))
                .isEqualTo(new Act.Tied(row("12").round(), 2, Farm.ties("004711", "004712"), null, anew));
        assertThat(row("12").culled(6).at("07:30").again(1, anew))
                .isEqualTo(new Act.Culled(row("12").id(), null, 1, anew));
    }

    @ParameterizedTest
    @ValueSource(ints = {0, -1, 1000})
    void thereIsNoSuchPlant(int number) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> row("12").opened(1).on(number).at("07:30"));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new PlantId(row("12").id(), number));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {"hill/row/12", "hill/row/12/plant/0", "hill/row/12/plant/07", "hill/tie/004711/plant/7", ""})
    void whatIsNoPlantIsNotReadAsOne(String text) {
        assertThatIllegalArgumentException().isThrownBy(() -> PlantId.parse(text));
    }

    @Test
    void fruitCanBeCulledByRow() {
        Act.Culled culled = new Act.Culled(row("12").id(), null, 6, TOLD);

        assertThat(culled.subject()).isEqualTo(row("12").id());
        assertThat(culled.rowSaid()).isNull();
        assertThat(culled.count()).isEqualTo(6);
        assertThat(culled.told()).isEqualTo(TOLD);
        assertThat(culled.deed()).isEqualTo(Deed.CULLED);
    }

    @Test
    void aFruitCanBeHarvestedByItsTie() {
        Act.Harvested harvested =
                new Act.Harvested(fruit("004711").id(), row("12").id(), 1, TOLD);

        assertThat(harvested.subject()).isEqualTo(fruit("004711").id());
        assertThat(harvested.rowSaid()).isEqualTo(row("12").id());
        assertThat(harvested.count()).isEqualTo(1);
        assertThat(harvested.told()).isEqualTo(TOLD);
        assertThat(harvested.deed()).isEqualTo(Deed.HARVESTED);
    }

    @ParameterizedTest
    @ValueSource(ints = {0, 2, 999})
    void oneTieIsOneFruit(int count) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Act.Culled(fruit("004711").id(), null, count, TOLD));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Act.Harvested(fruit("004711").id(), null, count, TOLD));
    }

    @Test
    void flowersOfARoundAreNoFruitToCull() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Act.Culled(row("12").round(), null, 1, TOLD));
    }

    @Test
    void flowersOfARoundAreNoFruitToHarvest() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Act.Harvested(row("12").round(), null, 1, TOLD));
    }

    @Test
    void neitherAWorkerNorAFarmIsFruit() {
        assertThatIllegalArgumentException().isThrownBy(() -> new Act.Culled(worker("w1"), null, 1, TOLD));
        assertThatIllegalArgumentException().isThrownBy(() -> new Act.Harvested(Farm.HILL, null, 1, TOLD));
    }

    @Test
    void flowersAreAboutTheirRound() {
        assertThat(row("12").tied(6, "004711").at("07:30").subject())
                .isEqualTo(row("12").round());
    }

    @ParameterizedTest
    @CsvSource({
        "1, PEGGED, pegged",
        "2, OPENED, opened",
        "3, POLLINATED, pollinated",
        "4, BAGGED, bagged",
        "5, TIED, tied",
        "90, FINISHED, finished",
        "40, UNBAGGED, unbagged",
        "6, CULLED, culled",
        "7, HARVESTED, harvested",
        "8, LOST, lost",
        "0, TAKEN_BACK, taken-back"
    })
    void aKeyStandsForADeed(int digit, Deed deed, String word) {
        assertThat(Deed.of(digit)).isEqualTo(deed);
        assertThat(deed.digit()).isEqualTo(digit);
        assertThat(deed.word()).isEqualTo(word);
    }

    @ParameterizedTest
    @ValueSource(ints = {9, -1, 10})
    void keyNineAsksAndOthersAreNoKeys(int digit) {
        assertThatIllegalArgumentException().isThrownBy(() -> Deed.of(digit));
    }

    @Test
    void theVisitIsFromOpeningToTying() {
        assertThat(Deed.values())
                .filteredOn(Deed::ofTheVisit)
                .containsExactly(Deed.OPENED, Deed.POLLINATED, Deed.BAGGED, Deed.TIED);
    }

    @Test
    void theSameLineIsTheSameLineOfTheSameMessage() {
        Told first = told("w1", "07:30", 0, "SM1", 1);

        assertThat(first.sameLine(told("w2", "07:45", 0, "SM1", 1))).isTrue();
        assertThat(first.sameLine(told("w1", "07:30", 0, "SM1", 2))).isFalse();
        assertThat(first.sameLine(told("w1", "07:30", 0, "SM2", 1))).isFalse();
    }
}
