package duskpeg.core.maturity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.maturity.Ripening.Stage;
import duskpeg.core.planting.Species;
import duskpeg.core.published.Change;
import duskpeg.core.published.Published;
import duskpeg.core.published.Table;
import java.time.LocalDate;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class RipeningTest {

    private static final WorkerId WHO = new WorkerId(new FarmId("hollow"), "w1");
    private static final LocalDate POLLINATED = LocalDate.of(2026, 1, 15);

    private final Published published = Published.shipped();

    @ParameterizedTest
    @CsvSource({
        // Seed full at 55 days: Goossen, citing Loy [read]; argyrosperma 60 [from memory]; 45 and 60 are ours, no
        // source.
        "PEPO, 0, TOO_EARLY, 55",
        "PEPO, 44, TOO_EARLY, 11",
        "PEPO, 45, RIPENING, 10",
        "PEPO, 54, RIPENING, 1",
        "PEPO, 55, READY_FROM_NOW, 0",
        "PEPO, 59, READY_FROM_NOW, 0",
        "PEPO, 60, READY, 0",
        "MOSCHATA, 100, READY, 0",
        "ARGYROSPERMA, 55, RIPENING, 5",
        "ARGYROSPERMA, 60, READY, 0",
    })
    void aFruitRipens(Species species, int age, Stage stage, int left) {
        Ripening.Standing standing = Ripening.of(species, POLLINATED, published).on(POLLINATED.plusDays(age));

        assertThat(standing.stage()).isEqualTo(stage);
        assertThat(standing.age()).isEqualTo(age);
        assertThat(standing.daysLeft()).isEqualTo(left);
        assertThat(standing.sentence())
                .startsWith("Pollinated " + age + " days ago, on 2026-01-15: ")
                .contains(standing.row().cited())
                .endsWith("An estimate: look at the fruit.");
    }

    @Test
    void hasItsDays() {
        // 15 January and 55 days: 16 left of January, 28 of February, 11 of March.
        Ripening ripening = Ripening.of(Species.MAXIMA, POLLINATED, published);

        assertThat(ripening.ready()).isEqualTo("2026-03-11");
        assertThat(ripening.warnUntil()).isEqualTo("2026-03-01");
        assertThat(ripening.surely()).isEqualTo("2026-03-16");
        assertThat(ripening.on(LocalDate.of(2026, 3, 10)).sentence())
                .contains("ready from 2026-03-11, in 1 day, at 55 days (Goossen, citing Loy");
        assertThatIllegalArgumentException().isThrownBy(() -> ripening.on(POLLINATED.minusDays(1)));
    }

    @Test
    void theFarmsOwnDaysAreUsedAndSaid() {
        Published own = published.with(List.of(
                new Change(Table.MATURITY, "maxima/ready-from", "70", "own trial", "2026", WHO),
                new Change(Table.MATURITY, "maxima/ready-to", "75", "own trial", "2026", WHO)));
        Ripening ripening = Ripening.of(Species.MAXIMA, POLLINATED, own);

        assertThat(ripening.ready()).isEqualTo(POLLINATED.plusDays(70));
        assertThat(ripening.on(POLLINATED.plusDays(60)).sentence())
                .contains("the farm's own 70 days (own trial, 2026; shipped: 55 days");
    }

    @ParameterizedTest
    @CsvSource({
        // 3 to 8 weeks, shorter for pepo: common practice, no source.
        "MOSCHATA, 0, false, 21, false",
        "MOSCHATA, 20, false, 1, false",
        "MOSCHATA, 21, true, 0, false",
        "MOSCHATA, 56, true, 0, false",
        "MOSCHATA, 57, true, 0, true",
        "PEPO, 29, true, 0, true",
    })
    void fruitIsCured(Species species, int days, boolean ready, int left, boolean late) {
        Curing.Standing standing = Curing.of(species, POLLINATED, published).on(POLLINATED.plusDays(days));

        assertThat(standing.ready()).isEqualTo(ready);
        assertThat(standing.daysLeft()).isEqualTo(left);
        assertThat(standing.late()).isEqualTo(late);
        assertThat(standing.sentence()).contains("2026-01-15", "no source");
    }

    @Test
    void curingHasItsDays() {
        Curing curing = Curing.of(Species.MAXIMA, POLLINATED, published);

        assertThat(curing.ready()).isEqualTo("2026-02-05");
        assertThat(curing.last()).isEqualTo("2026-03-12");
        assertThatIllegalArgumentException().isThrownBy(() -> curing.on(POLLINATED.minusDays(1)));
    }
}
