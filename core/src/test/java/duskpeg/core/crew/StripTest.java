package duskpeg.core.crew;

import static duskpeg.core.Farm.ties;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import duskpeg.core.fruit.TieNumber;
import org.junit.jupiter.api.Test;

class StripTest {

    private static Strip strip(String first, String last) {
        return new Strip(new TieNumber(first), new TieNumber(last));
    }

    @Test
    void holdsEveryNumberFromFirstToLast() {
        assertThat(strip("004798", "004801").ties())
                .containsExactlyElementsOf(ties("004798", "004799", "004800", "004801"));
    }

    @Test
    void canBeOfOneTie() {
        assertThat(strip("004711", "004711").ties()).containsExactly(new TieNumber("004711"));
    }

    @Test
    void canEndOnTheLastNumberThereIs() {
        assertThat(strip("999999998", "999999999").ties()).containsExactlyElementsOf(ties("999999998", "999999999"));
    }

    @Test
    void doesNotFall() {
        assertThatIllegalArgumentException().isThrownBy(() -> strip("004712", "004711"));
    }

    @Test
    void hasTiesOfOneWidth() {
        assertThatIllegalArgumentException().isThrownBy(() -> strip("4711", "004712"));
    }
}
