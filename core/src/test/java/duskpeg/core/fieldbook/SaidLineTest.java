package duskpeg.core.fieldbook;

import static duskpeg.core.Farm.row;
import static duskpeg.core.Farm.takenBack;
import static duskpeg.core.Farm.worker;
import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;

class SaidLineTest {

    private final List<Act> acts = new ArrayList<>();

    private List<SaidLine> lines() {
        return SaidLine.by(worker("w1"), row("12").round(), acts);
    }

    private Optional<String> corrected(Deed... deeds) {
        return SaidLine.correctedBy(lines(), Set.of(deeds))
                .map(line -> line.text().value() + " line " + line.line());
    }

    @Test
    void isWhatTheWorkerSaidInOneLineAsFarAsItStands() {
        acts.addAll(row("12").worked(6, "004711").by("w1").at("07:30"));
        acts.addAll(row("12").worked(2).by("w2").at("07:35"));
        acts.add(row("12").lost(1).by("w1").line(2).at("07:30"));
        acts.add(row("12").opened(3).by("w1").at("07:40"));
        acts.add(takenBack(row("12").round(), "w1-0740").by("w1").at("07:41"));

        assertThat(lines()).extracting(SaidLine::line).containsExactly(1, 2);
        assertThat(lines()).extracting(SaidLine::count).containsExactly(6, 1);
        assertThat(lines().get(0).deeds()).containsExactly(Deed.OPENED, Deed.POLLINATED, Deed.BAGGED, Deed.TIED);
    }

    @Test
    void aCorrectionIsAboutTheLastMessageOnWorkOfItsKind() {
        acts.add(row("12").pegged(14).by("w1").at("17:10"));
        acts.add(row("12").opened(6).by("w1").at("07:10"));
        acts.add(row("12").bagged(6).by("w1").at("07:20"));
        acts.add(row("12").finished().by("w1").at("07:30"));

        assertThat(corrected(Deed.PEGGED)).contains("w1-1710 line 1");
        assertThat(corrected(Deed.OPENED)).contains("w1-0720 line 1");
        assertThat(corrected(Deed.LOST)).contains("w1-0720 line 1");
        assertThat(corrected(Deed.CULLED)).isEmpty();
    }

    @Test
    void inThatMessageItIsAboutTheLineWithOneOfItsActs() {
        acts.addAll(row("12").worked(6).by("w1").line(1).at("07:30"));
        acts.add(row("12").lost(1).by("w1").line(2).at("07:30"));

        assertThat(corrected(Deed.TIED)).contains("w1-0730 line 1");
        assertThat(corrected(Deed.LOST)).contains("w1-0730 line 2");
    }

    @Test
    void aLineIsOfAPlantThatItNames() {
        acts.add(row("12").opened(1).on(7).by("w1").at("07:10"));

        assertThat(lines().get(0).isOfPlant(7)).isTrue();
        assertThat(lines().get(0).isOfPlant(9)).isFalse();
    }
}
