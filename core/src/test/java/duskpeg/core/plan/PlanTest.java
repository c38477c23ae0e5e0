package duskpeg.core.plan;

import static duskpeg.core.Farm.HILL;
import static duskpeg.core.Farm.MORNING;
import static duskpeg.core.Farm.SETTINGS;
import static duskpeg.core.Farm.noStrips;
import static duskpeg.core.Farm.row;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import duskpeg.core.act.Act;
import duskpeg.core.plan.Plan.OfCultivar;
import duskpeg.core.plan.Plan.OfRow;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.planting.Species;
import duskpeg.core.report.Question.Kind;
import duskpeg.core.round.Round;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

class PlanTest {

    private static final List<Planting> PLANTINGS = List.of(
            planting("Dam side", "Greycap Nine", "1", "2", "3"),
            planting("Far corner", "Greycap Nine", "4"),
            planting("Long strip", "Amber Spindle", "9"));

    private final List<Act> acts = new ArrayList<>();

    private static Planting planting(String name, String cultivar, String... rows) {
        return new Planting(
                name,
                cultivar,
                Species.MAXIMA,
                Stream.of(rows)
                        .map(row -> new Planting.Row(new RowId(HILL, row), 40))
                        .toList());
    }

    private Plan plan() {
        return Plan.of(
                MORNING,
                Stream.of("1", "2", "3", "4", "9")
                        .map(label -> Round.of(row(label).round(), acts))
                        .toList(),
                PLANTINGS,
                SETTINGS,
                noStrips());
    }

    @Test
    void nothingPeggedIsAnEmptyPlan() {
        assertThat(plan().isEmpty()).isTrue();
        assertThat(plan().females()).isZero();
    }

    @Test
    void eachFemaleWantsTwoMales() {
        acts.add(row("1").pegged(14).males(24).by("w1").at("17:10"));
        acts.add(row("2").pegged(10).males(30).by("w2").at("17:20"));

        OfCultivar cultivar = plan().cultivars().get(0);

        assertThat(cultivar.needed()).isEqualTo(48);
        assertThat(cultivar.males()).isEqualTo(54);
        assertThat(cultivar.takers()).extracting(OfRow::row, OfRow::missing).containsExactly(tuple(row("1").id(), 4));
        assertThat(cultivar.givers()).extracting(OfRow::spare).containsExactly(10);
        assertThat(cultivar.missing()).isZero();
        assertThat(cultivar.spare()).isEqualTo(6);
    }

    @Test
    void malesOfAnotherCultivarAreOfNoUse() {
        acts.add(row("1").pegged(14).males(20).by("w1").at("17:10"));
        acts.add(row("9").pegged(1).males(40).by("w1").at("17:15"));

        assertThat(plan().cultivars()).extracting(OfCultivar::missing).containsExactly(8, 0);
    }

    @Test
    void malesOfTheSameCultivarInAnotherPlantingAre() {
        acts.add(row("1").pegged(14).males(20).by("w1").at("17:10"));
        acts.add(row("4").pegged(1).males(10).by("w1").at("17:15"));

        assertThat(plan().plantings()).hasSize(2);
        assertThat(plan().cultivars()).extracting(OfCultivar::missing).containsExactly(0);
    }

    @Test
    void whatWasNotCountedIsNeverSpare() {
        acts.add(row("1").pegged(14).by("w1").at("17:10"));
        acts.add(row("1").lost(4).by("w1").at("17:30"));

        OfRow one = plan().plantings().get(0).rows().get(0);

        assertThat(one.females()).isEqualTo(10);
        assertThat(one.assumed()).isTrue();
        assertThat(one.males()).isEqualTo(28);
        assertThat(one.spare()).isZero();
    }

    @Test
    void plantsThatCannotStaySoAreNamed() {
        acts.add(row("1").pegged(1).males(2).on(7, "1.7", "2.3").by("w1").at("17:10"));
        acts.add(row("2").pegged(1).males(2).on(4, "1.9", "1.9").by("w1").at("17:15"));
        acts.add(row("3").pegged(1).males(2).on(5, "9.2", "1.2").by("w1").at("17:20"));

        assertThat(plan().warnings())
                .extracting(warning ->
                        warning.row().label() + " " + warning.question().kind())
                .containsExactly("1 " + Kind.SIRE_IS_DAM, "2 " + Kind.SIRES_ALIKE, "3 " + Kind.SIRE_OF_ANOTHER);
    }

    @Test
    void severalFemalesOnOnePlantAreSaid() {
        acts.add(row("1").pegged(1).males(2).on(7).by("w1").at("17:10"));
        acts.add(row("1").pegged(2).males(4).on(7).by("w2").at("17:20"));
        acts.add(row("1").pegged(1).males(2).on(8).by("w2").at("17:30"));

        assertThat(plan().crowded()).hasSize(1);
        assertThat(plan().crowded().get(0).plant().label()).isEqualTo("1.7");
        assertThat(plan().crowded().get(0).females()).isEqualTo(3);
    }
}
