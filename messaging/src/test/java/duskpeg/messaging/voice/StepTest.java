package duskpeg.messaging.voice;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.messaging.voice.Step.Stage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class StepTest {

    @Test
    void travelsInAQuery() {
        assertThat(Step.START.nextReport().query()).isEqualTo("step=report&report=1&tries=0");
        assertThat(new Step(Stage.REPORT, 3, 2).confirm().again().query()).isEqualTo("step=confirm&report=3&tries=1");
        assertThat(Step.of("confirm", "3", "1")).isEqualTo(new Step(Stage.CONFIRM, 3, 1));
    }

    @Test
    void theNextReportBeginsAnew() {
        assertThat(new Step(Stage.CONFIRM, 3, 2).nextReport()).isEqualTo(new Step(Stage.REPORT, 4, 0));
    }

    @ParameterizedTest
    @CsvSource({
        "'', 5, 1, START, 1, 0",
        "nothing, 5, 1, START, 1, 0",
        "REPORT, 5, 1, START, 1, 0",
        "report, 0, -1, REPORT, 1, 0",
        "report, 99999, 9, REPORT, 1, 2",
        "confirm, x, '', CONFIRM, 1, 0"
    })
    void whatIsNoStepDoesNoHarm(String stage, String number, String tries, Stage read, int report, int triesRead) {
        assertThat(Step.of(stage, number, tries)).isEqualTo(new Step(read, report, triesRead));
    }
}
