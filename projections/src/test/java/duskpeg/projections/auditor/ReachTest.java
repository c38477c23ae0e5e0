package duskpeg.projections.auditor;

import static org.assertj.core.api.Assertions.assertThat;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fruit.FruitId;
import duskpeg.core.fruit.TieNumber;
import duskpeg.core.lot.LotEvent;
import duskpeg.core.lot.LotId;
import duskpeg.core.lot.Lots;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A has 1 and 2; B was drawn from A and has 3; C has 4, and D has nothing. */
class ReachTest {

    private static final FarmId FARM = new FarmId("hill");

    private static final Lots LOTS =
            new Lots(List.of(taken("A", 1, 2), taken("B", 3), drawn("A", "B"), taken("C", 4), taken("D")));

    private static LotId lot(String name) {
        return new LotId(FARM, name);
    }

    private static FruitId fruit(int tie) {
        return new FruitId(FARM, TieNumber.of(tie, 6));
    }

    private static LotEvent taken(String lot, int... ties) {
        return new LotEvent.FruitTaken(
                lot(lot),
                Arrays.stream(ties)
                        .mapToObj(tie -> new LotEvent.Taken(fruit(tie), "pure", "1", null, List.of()))
                        .toList(),
                new WorkerId(FARM, "w8"),
                Instant.EPOCH);
    }

    private static LotEvent drawn(String from, String to) {
        return new LotEvent.Drawn(lot(from), lot(to), LocalDate.EPOCH, 10, new WorkerId(FARM, "w8"), Instant.EPOCH);
    }

    private static String fruit(Reach reach) {
        return reach.fruit().stream()
                .map(one -> one.tie().digits().replaceFirst("^0+", ""))
                .sorted()
                .collect(Collectors.joining(" "));
    }

    private static String lots(Reach reach) {
        return reach.lots().stream().map(LotId::name).sorted().collect(Collectors.joining(" "));
    }

    @ParameterizedTest
    @CsvSource({"A, 1 2, A", "B, 1 2 3, A B", "C, 4, C", "D, '', D"})
    void aLotReachesItsFlowersAndWhatItWasDrawnFrom(String lot, String fruit, String lots) {
        Reach reach = Reach.ofLot(lot(lot), LOTS);
        assertThat(fruit(reach)).isEqualTo(fruit);
        assertThat(lots(reach)).isEqualTo(lots);
    }

    @ParameterizedTest
    @CsvSource({
        "'', '', ''",
        "1, 1 2 3, A B",
        "3, 1 2 3, A B",
        "4, 4, C",
        "4 5, 4 5, C",
        "5, 5, ''",
        "2 4, 1 2 3 4, A B C"
    })
    void aSeasonReachesItsFruitAndTheLotsWithTheirSeed(String tied, String fruit, String lots) {
        Set<FruitId> ofSeason = Stream.of(tied.split(" "))
                .filter(one -> !one.isEmpty())
                .map(one -> fruit(Integer.parseInt(one)))
                .collect(Collectors.toSet());
        Reach reach = Reach.ofSeason(ofSeason, LOTS);
        assertThat(fruit(reach)).isEqualTo(fruit);
        assertThat(lots(reach)).isEqualTo(lots);
    }

    @Test
    void aFruitReachesItself() {
        Reach reach = Reach.ofFruit(fruit(1));
        assertThat(fruit(reach)).isEqualTo("1");
        assertThat(reach.lots()).isEmpty();
    }

    @ParameterizedTest
    @CsvSource({
        "'', START, ''",
        "/, START, ''",
        "/checkpoint, CHECKPOINT, ''",
        "/fruit/4711, FRUIT, 4711",
        "/fruit/4711/bundle, FRUIT_BUNDLE, 4711",
        "/lot/gc9-26, LOT, GC9-26",
        "/lot/GC9-26/bundle, LOT_BUNDLE, GC9-26",
        "/checkpoint/bundle, , ",
        "/fruit, , ",
        "/fruit/, , ",
        "/fruit/47x, , ",
        "/fruit/1234567890, , ",
        "/fruit/4711/bundle/x, , ",
        "/fruit/4711/words, , ",
        "/lot/a b, , ",
        "/lot/%, , ",
        "/board, , ",
        "//, , ",
        "/people/w1, , "
    })
    void whatStandsBehindATokenIsReadStrictly(String path, Asked.What what, String name) {
        assertThat(Asked.read(path).map(Asked::what).orElse(null)).isEqualTo(what);
        assertThat(Asked.read(path).map(Asked::name).orElse(null)).isEqualTo(name);
    }
}
