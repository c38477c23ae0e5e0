package duskpeg.core.moves;

import static duskpeg.core.Farm.HILL;
import static duskpeg.core.Farm.MORNING;
import static duskpeg.core.Farm.at;
import static duskpeg.core.Farm.row;
import static duskpeg.core.Farm.worker;
import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.act.Act;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.day.DayEvent;
import duskpeg.core.day.DayId;
import duskpeg.core.forecast.Morning;
import duskpeg.core.planting.RowId;
import duskpeg.core.round.Round;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

class OnTheWayTest {

    private final List<Act> acts = new ArrayList<>();
    private final List<DayEvent.Sent> sent = new ArrayList<>();

    private void sent(String worker, String label, String clock) {
        sent.add(new DayEvent.Sent(
                new DayId(HILL, MORNING), worker(worker), row(label).id(), at(clock)));
    }

    private Map<WorkerId, RowId> to(String clock) {
        return OnTheWay.to(sent, new Morning(MORNING, List.of(Round.of(row("12").round(), acts))), at(clock));
    }

    @Test
    void whoWasToldIsThereUntilSheReportsFromAnywhere() {
        acts.addAll(row("12").worked(2).by("w1").at("07:00"));
        sent("w1", "13", "07:30");

        assertThat(to("07:29")).isEmpty();
        assertThat(to("07:31"))
                .containsExactly(Map.entry(worker("w1"), row("13").id()));

        acts.addAll(row("12").worked(2).by("w1").at("07:40"));
        assertThat(to("07:41")).isEmpty();
    }

    @Test
    void whoStaysSilentDidNotGo() {
        sent("w1", "13", "07:30");

        assertThat(to("08:14")).hasSize(1);
        assertThat(to("08:15")).isEmpty();
    }

    @Test
    void theLastWordStands() {
        sent("w1", "13", "07:30");
        sent("w1", "14", "07:35");
        sent("w2", "13", "07:36");

        assertThat(to("07:40"))
                .containsOnly(
                        Map.entry(worker("w1"), row("14").id()),
                        Map.entry(worker("w2"), row("13").id()));
    }
}
