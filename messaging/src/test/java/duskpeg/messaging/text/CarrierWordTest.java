package duskpeg.messaging.text;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The words are those of the carrier's page on opt-out keywords; it heeds a word only where it stands alone. */
class CarrierWordTest {

    @ParameterizedTest
    @ValueSource(
            strings = {"STOP", "stop", " Stop\n", "STOPALL", "UNSUBSCRIBE", "CANCEL", "END", "quit", "REVOKE", "OPTOUT"
            })
    void stops(String text) {
        assertThat(CarrierWord.in(text, "")).contains(CarrierWord.STOP);
    }

    @ParameterizedTest
    @ValueSource(strings = {"START", "yes", "UNSTOP"})
    void starts(String text) {
        assertThat(CarrierWord.in(text, "")).contains(CarrierWord.START);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {"", "STOP 12", "cancel 12", "stop please", "yes 1 12 14", "help", "HELP", "0", "undo", "stopp"})
    void whatIsMoreOrOtherIsReadAsAnyText(String text) {
        assertThat(CarrierWord.in(text, "")).isEmpty();
        assertThat(CarrierWord.in(text, "HELP")).isEmpty();
    }

    @ParameterizedTest
    @EnumSource
    void whatTheCarrierTookItForCounts(CarrierWord word) {
        assertThat(CarrierWord.in("alto", word.name())).contains(word);
    }
}
