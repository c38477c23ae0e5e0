package duskpeg.core.moves;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import duskpeg.core.Farm;
import duskpeg.core.moves.Field.Hand;
import duskpeg.core.moves.Field.Part;
import duskpeg.core.planting.RowId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Test;

class MoverTest {

    private static Part part(int row, double flowers) {
        return new Part(rowId(row), flowers, row);
    }

    private static RowId rowId(int row) {
        return Farm.row(Integer.toString(row)).id();
    }

    private static Hand hand(int number, double pace, int place, RowId... barred) {
        return new Hand(Farm.worker("w" + number), pace, 0.2, place, 0, Set.of(barred));
    }

    static Field random(Random chance, int parts, int hands) {
        List<Part> work = new ArrayList<>();
        for (int i = 0; i < parts; i++) {
            work.add(part(1 + chance.nextInt(24), 1 + chance.nextInt(20)));
        }
        List<Hand> crew = new ArrayList<>();
        for (int i = 0; i < hands; i++) {
            RowId[] barred = chance.nextInt(4) == 0
                    ? new RowId[] {work.get(chance.nextInt(parts)).row()}
                    : new RowId[0];
            crew.add(new Hand(
                    Farm.worker("w" + i),
                    15 + chance.nextInt(30),
                    0.1 + 0.2 * chance.nextDouble(),
                    1 + chance.nextInt(24),
                    chance.nextInt(3) == 0 ? 0.25 : 0,
                    Set.of(barred)));
        }
        return new Field(work, crew, 0.2 + chance.nextDouble() * 2, 0.01);
    }

    /** The best of every assignment there is. */
    private static double bruteForce(Field field) {
        int parts = field.parts().size();
        int hands = field.hands().size();
        double best = Double.NEGATIVE_INFINITY;
        for (int number = 0; number < Math.pow(hands, parts); number++) {
            Integer[] doneBy = new Integer[parts];
            int rest = number;
            for (int part = 0; part < parts; part++) {
                doneBy[part] = rest % hands;
                rest /= hands;
            }
            best = Math.max(best, new Assignment(field, List.of(doneBy)).worth());
        }
        return best;
    }

    @Test
    void smallFieldsAreAssignedAsWellAsCanBe() {
        Random chance = new Random(1);
        for (int i = 0; i < 500; i++) {
            Field field = random(chance, 1 + chance.nextInt(6), 1 + chance.nextInt(4));
            assertThat(Mover.best(field).worth()).isCloseTo(bruteForce(field), within(1e-9));
        }
    }

    @Test
    void theSearchComesNearTheBestToo() {
        Random chance = new Random(2);
        for (int i = 0; i < 5; i++) {
            Field field = random(chance, 9, 3);
            Assignment best = Mover.exact(field);
            Assignment found = Mover.polished(Search.from(Mover.oneByOne(field)));
            assertThat(found.worth()).isLessThanOrEqualTo(best.worth() + 1e-9);
            assertThat(found.chance()).isCloseTo(best.chance(), within(0.03));
        }
    }

    @Test
    void theSameFieldGivesTheSameAnswer() {
        Field field = random(new Random(3), 40, 8);
        assertThat(Mover.best(field)).isEqualTo(Mover.best(field));
        assertThat(Mover.best(field).worth())
                .isGreaterThanOrEqualTo(Mover.oneByOne(field).worth());
    }

    @Test
    void theIdleOneIsSentToTheRowThatWouldBeLate() {
        Field field = new Field(
                List.of(part(12, 20), part(12, 20), part(13, 4)), List.of(hand(1, 20, 12), hand(2, 20, 13)), 1.7, 0.01);
        Assignment best = Mover.best(field);
        assertThat(best.chance()).isGreaterThan(0.9);
        assertThat(new Assignment(field, List.of(0, 0, 1)).chance()).isLessThan(0.3);
        assertThat(best.firstRows()).isEqualTo(Map.of(Farm.worker("w1"), rowId(12), Farm.worker("w2"), rowId(13)));
    }

    @Test
    void nobodyIsSentWhereSheMayNotGo() {
        Field field = new Field(
                List.of(part(12, 10), part(13, 10)), List.of(hand(1, 20, 12, rowId(13)), hand(2, 20, 12)), 2, 0.01);
        assertThat(Mover.best(field).firstRows())
                .isEqualTo(Map.of(Farm.worker("w1"), rowId(12), Farm.worker("w2"), rowId(13)));
    }

    @Test
    void amongEquallyGoodAnswersTheEvenOneIsTaken() {
        Field field = new Field(
                List.of(part(12, 5), part(12, 5), part(12, 5), part(12, 5)),
                List.of(hand(1, 20, 12), hand(2, 20, 12)),
                100,
                0);
        assertThat(Mover.best(field).doneBy()).containsExactlyInAnyOrderElementsOf(Arrays.asList(0, 0, 1, 1));
    }

    @Test
    void whoHasNothingToDoIsLeftWhereSheIs() {
        Field field = new Field(List.of(), List.of(hand(1, 20, 12)), 2, 0.01);
        assertThat(Mover.best(field).firstRows()).isEmpty();
        assertThat(Mover.best(field).chance()).isEqualTo(1);
    }

    @Test
    void afterTheLimitThereIsStillABestAnswer() {
        Field field = random(new Random(4), 6, 3);
        Field late = new Field(field.parts(), field.hands(), -1, field.walk());
        assertThat(Mover.best(late).worth()).isCloseTo(bruteForce(late), within(1e-9));
    }

    @Test
    void somebodyMustBeThere() {
        assertThatIllegalArgumentException().isThrownBy(() -> new Field(List.of(), List.of(), 1, 0));
        Field field = new Field(List.of(part(1, 1)), List.of(hand(1, 1, 1)), 1, 0);
        assertThatIllegalArgumentException().isThrownBy(() -> new Assignment(field, List.of()));
        assertThatIllegalArgumentException().isThrownBy(() -> new Assignment(field, List.of(1)));
    }
}
