package duskpeg.core.crew;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** People and numbers are invented; the number is of a range reserved for fiction. */
class NamedTest {

    private static final Named NOMSA = new Named("Nomsa Müller de Wet", List.of("+15555550101"));

    @ParameterizedTest
    @ValueSource(
            strings = {
                "Nomsa",
                "strip to NOMSA from 4730",
                "nomsa's strip",
                "ask Muller",
                "ask MÜLLER",
                "with Nomsa  Müller de\nWet",
                "she is on 15555550101",
                "she is on +1 (555) 555-0101.",
                "call 0555 555 0101",
                "(Wet)"
            })
    void isFound(String words) {
        assertThat(NOMSA.in(words)).isTrue();
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "Nomsatha", "enomsa", "1 12 14 m 28", "de", "15555550102", "155555501011", "2345 12 6"})
    void isNotFound(String words) {
        assertThat(NOMSA.in(words)).isFalse();
    }

    @Test
    void aShortNameIsFoundAsAWhole() {
        assertThat(new Named("Bo", List.of()).in("ask Bo")).isTrue();
        assertThat(new Named("Bo", List.of()).in("the board")).isFalse();
    }

    @Test
    void nobodyIsFoundNowhere() {
        assertThat(new Named(" ", List.of("")).in("")).isFalse();
        assertThat(new Named("", List.of()).in("anything")).isFalse();
    }

    @Test
    void whatIsAPatternToAMachineIsAWordHere() {
        assertThat(new Named("A.*", List.of()).in("ask anybody")).isFalse();
        assertThat(new Named("O\\E.*", List.of()).in("ask anybody")).isFalse();
    }
}
