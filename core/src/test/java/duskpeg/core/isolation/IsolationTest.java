package duskpeg.core.isolation;

import static duskpeg.core.Farm.HILL;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import duskpeg.core.csv.Import;
import duskpeg.core.isolation.Isolation.Standing;
import duskpeg.core.planting.Neighbour;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.Species;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class IsolationTest {

    private static final Published PUBLISHED = Published.shipped();

    /** Seed-saving handbooks: half a mile, 805 m. */
    private static final Row HALF_A_MILE = PUBLISHED.get(Table.ISOLATION, "handbook", "usual");

    private static Planting planting(String name, Species species, @Nullable String stock) {
        return new Planting(name, "Cultivar of " + name.charAt(0), species, List.of(), stock);
    }

    private static List<Isolation> of(Map<String, List<Neighbour>> measured, Planting... plantings) {
        return Isolation.of(List.of(plantings), measured, PUBLISHED, HALF_A_MILE);
    }

    /**
     * Same species cross freely; moschata with pepo seldom; pepo with maxima hardly ever (Whitaker; Baggett 1979, Cucurbit
     * Genetics Cooperative Report 2, as summed up in the table).
     */
    @ParameterizedTest
    @CsvSource({
        "MAXIMA,   MAXIMA,   804, TOO_NEAR",
        "MAXIMA,   MAXIMA,   805, FAR_ENOUGH",
        "PEPO,     MOSCHATA, 804, BEWARE",
        "PEPO,     MOSCHATA, 805, FAR_ENOUGH",
        "PEPO,     MAXIMA,     0, HARDLY_CROSSES",
        "PEPO,     MAXIMA,   805, FAR_ENOUGH",
        "FICIFOLIA, PEPO,      0, HARDLY_CROSSES"
    })
    void distanceAndSpeciesDecide(Species own, Species other, int metres, Standing standing) {
        List<Isolation> found =
                of(Map.of("A", List.of(new Neighbour("a garden", other, metres))), planting("A", own, null));

        assertThat(found).extracting(Isolation::standing).containsExactly(standing);
        assertThat(found.get(0).sentence())
                .contains("a garden is " + metres + " m from A")
                .contains("805 metres");
    }

    @Test
    void whatNobodyMeasuredIsAskedAbout() {
        assertThat(of(Map.of(), planting("A", Species.MAXIMA, null), planting("B", Species.MAXIMA, null)))
                .extracting(Isolation::standing)
                .containsExactly(Standing.NOT_MEASURED, Standing.NOT_MEASURED);
    }

    @Test
    void oneMeasurementServesBoth() {
        Planting a = planting("A", Species.MAXIMA, null);
        Planting b = planting("B", Species.MAXIMA, null);

        assertThat(of(Map.of("A", List.of(new Neighbour("B", Species.MAXIMA, 100))), a, b))
                .extracting(Isolation::planting, Isolation::neighbour, Isolation::metres, Isolation::standing)
                .containsExactly(tuple("A", "B", 100, Standing.TOO_NEAR), tuple("B", "A", 100, Standing.TOO_NEAR));
    }

    @Test
    void theSameStockIsNoDanger() {
        assertThat(of(
                        Map.of(),
                        planting("A one", Species.MAXIMA, "GC9-25"),
                        planting("A two", Species.MAXIMA, "GC9-25")))
                .isEmpty();
        assertThat(of(Map.of(), planting("A one", Species.MAXIMA, null), planting("A two", Species.MAXIMA, null)))
                .hasSize(2);
    }

    @Test
    void whereTheFarmGoesByNoDistanceItIsWarned() {
        List<Isolation> found = Isolation.of(
                List.of(planting("A", Species.MAXIMA, null)),
                Map.of("A", List.of(new Neighbour("a garden", Species.MAXIMA, 5000))),
                PUBLISHED,
                null);

        assertThat(found).extracting(Isolation::standing).containsExactly(Standing.BEWARE);
    }

    private static final String HEADER = "planting,cultivar,species,first row,last row,plants per row,stock\n";

    @Test
    void aPlanIsTaken() {
        Import<Planting> read = PlantingPlan.read(
                HEADER + "North,Greycap Nine,maxima,30,31,40,GC9-25\nSouth,Nightjar,Cucurbita pepo,32,32,30,\n",
                HILL,
                List.of());

        assertThat(read)
                .isInstanceOfSatisfying(
                        Import.Taken.class, taken -> assertThat(taken.rows()).hasSize(2));
        Planting north = ((Import.Taken<Planting>) read).rows().get(0);
        assertThat(north.rows()).extracting(row -> row.id().label()).containsExactly("30", "31");
        assertThat(north.stock()).isEqualTo("GC9-25");
        assertThat(((Import.Taken<Planting>) read).rows().get(1).stock()).isNull();
    }

    @Test
    void aPlanWithAnyProblemIsNotTakenAndEveryProblemIsNamed() {
        Import<Planting> read = PlantingPlan.read(
                HEADER
                        + "North,Greycap Nine,maxima,30,31,40,\n"
                        + "South,Nightjar,acorn,32,32,30,\n"
                        + "West,Nightjar,pepo,31,33,30,\n"
                        + "North,Nightjar,pepo,40,41,30,\n"
                        + "East,Nightjar,pepo,50,49,30,\n",
                HILL,
                List.of());

        assertThat(read)
                .isInstanceOfSatisfying(
                        Import.Refused.class,
                        refused -> assertThat(refused.problems().toString())
                                .contains(
                                        "line 3", "not \"acorn\"", "line 4", "row 31 is of North", "line 5", "line 6"));
    }
}
