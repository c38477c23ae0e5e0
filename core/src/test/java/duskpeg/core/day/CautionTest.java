package duskpeg.core.day;

import static duskpeg.core.Farm.at;
import static duskpeg.core.Farm.worker;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.time.LocalTime;
import java.util.List;
import org.junit.jupiter.api.Test;

class CautionTest {

    private final Caution sprayed = new Caution(Caution.Kind.SPRAY, "Dam side", at("06:00"), at("08:00"));

    @Test
    void sprayClosesItsPlantingFromItsBeginningToItsEnd() {
        assertThat(sprayed.closes("Dam side", at("05:59"))).isFalse();
        assertThat(sprayed.closes("Dam side", at("06:00"))).isTrue();
        assertThat(sprayed.closes("Dam side", at("07:59"))).isTrue();
        assertThat(sprayed.closes("Dam side", at("08:00"))).isFalse();
        assertThat(sprayed.closes("Long strip", at("07:00"))).isFalse();
    }

    @Test
    void ofTheWholeFarmItClosesEveryPlanting() {
        assertThat(new Caution(Caution.Kind.SPRAY, null, at("06:00"), at("08:00")).closes("Long strip", at("07:00")))
                .isTrue();
    }

    @Test
    void heatClosesNothing() {
        assertThat(new Caution(Caution.Kind.HEAT, null, at("06:00"), at("08:00")).closes("Dam side", at("07:00")))
                .isFalse();
    }

    @Test
    void nothingEndsBeforeItBegins() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Caution(Caution.Kind.SPRAY, null, at("08:00"), at("08:00")));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Duty(worker("w1"), LocalTime.of(8, 0), LocalTime.of(7, 0), List.of()));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Duty(worker("w1"), LocalTime.of(8, 0), null, List.of()));
    }
}
