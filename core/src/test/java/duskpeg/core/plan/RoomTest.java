package duskpeg.core.plan;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class RoomTest {

    @ParameterizedTest
    @ValueSource(ints = {0, 1, 2, 37, 500, 998, 999})
    void isTheMostThatKeepsTheChance(int most) {
        assertThat(Room.of(more -> more <= most ? 0.93 : 0.89)).isEqualTo(most);
    }

    @Test
    void isNoneWhereTheChanceIsNotThere() {
        assertThat(Room.of(more -> 0.89)).isZero();
    }

    @Test
    void hasAnEnd() {
        assertThat(Room.of(more -> 1)).isEqualTo(Room.MOST);
    }
}
