package duskpeg.core.plan;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fruit.TieUses;
import duskpeg.core.planting.PlantId;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.planting.Rows;
import duskpeg.core.report.Question;
import duskpeg.core.report.Question.Kind;
import duskpeg.core.round.Round;
import duskpeg.core.round.RoundQuestions;
import duskpeg.core.round.Tally;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;

/**
 * What is pegged for a morning, and what is wrong with it while it can still be mended.
 *
 * @param morning the opening morning
 * @param plantings every planting with anything pegged
 * @param cultivars the same by cultivar, since only males of its own cultivar are of use to a flower
 * @param warnings what was said of plants that can't stay so
 * @param crowded plants on which more than one female was pegged, where plants were named
 */
public record Plan(
        LocalDate morning,
        List<OfPlanting> plantings,
        List<OfCultivar> cultivars,
        List<Warning> warnings,
        List<Crowded> crowded) {

    /** Questions that are about males and their plants, and can be mended in the evening. */
    private static final Set<Kind> OF_PLANTS =
            EnumSet.of(Kind.PLANT_NOT_THERE, Kind.SIRE_IS_DAM, Kind.SIRES_ALIKE, Kind.ONE_SIRE, Kind.SIRE_OF_ANOTHER);

    public Plan {
        plantings = List.copyOf(plantings);
        cultivars = List.copyOf(cultivars);
        warnings = List.copyOf(warnings);
        crowded = List.copyOf(crowded);
    }

    /**
     * A row.
     *
     * @param row the row
     * @param females pegged, less those that were lost
     * @param males pegged for them; two for each female where that was not said
     * @param assumed whether any of {@code males} was not said
     */
    public record OfRow(RowId row, int females, int males, boolean assumed) {

        /** Males that are wanted. */
        public int needed() {
            return Tally.MALES_PER_FEMALE * females;
        }

        /** Males that are missing, never under 0. */
        public int missing() {
            return Math.max(0, needed() - males);
        }

        /** Males that are over, never under 0; none where not all were counted. */
        public int spare() {
            return assumed ? 0 : Math.max(0, males - needed());
        }
    }

    /** A planting with its rows. */
    public record OfPlanting(String name, String cultivar, List<OfRow> rows) {

        public OfPlanting {
            rows = List.copyOf(rows);
        }

        /** Females pegged. */
        public int females() {
            return rows.stream().mapToInt(OfRow::females).sum();
        }
    }

    /** A cultivar with its rows, in whatever planting they are. */
    public record OfCultivar(String cultivar, List<OfRow> rows) {

        public OfCultivar {
            rows = List.copyOf(rows);
        }

        /** Females pegged. */
        public int females() {
            return rows.stream().mapToInt(OfRow::females).sum();
        }

        /** Males that are wanted. */
        public int needed() {
            return Tally.MALES_PER_FEMALE * females();
        }

        /** Males pegged. */
        public int males() {
            return rows.stream().mapToInt(OfRow::males).sum();
        }

        /** Males missing in one row and not to be had from any other, never under 0. */
        public int missing() {
            return Math.max(
                    0,
                    rows.stream().mapToInt(OfRow::missing).sum()
                            - rows.stream().mapToInt(OfRow::spare).sum());
        }

        /** Males that are left when every row has what it wants, never under 0. */
        public int spare() {
            return Math.max(
                    0,
                    rows.stream().mapToInt(OfRow::spare).sum()
                            - rows.stream().mapToInt(OfRow::missing).sum());
        }

        /** Rows with males to give. */
        public List<OfRow> givers() {
            return rows.stream().filter(row -> row.spare() > 0).toList();
        }

        /** Rows that lack males. */
        public List<OfRow> takers() {
            return rows.stream().filter(row -> row.missing() > 0).toList();
        }

        /** Whether any of the males was not said. */
        public boolean assumed() {
            return rows.stream().anyMatch(OfRow::assumed);
        }
    }

    /** Something that was said of plants in a row. */
    public record Warning(RowId row, Question question) {}

    /** A plant and how many females were pegged on it. */
    public record Crowded(PlantId plant, int females) {}

    /**
     * The plan of a morning.
     *
     * @param rounds the rounds of that morning
     * @param plantings the farm's plantings, in the order in which they are shown
     * @param uses what is known of the ties of those rounds
     */
    public static Plan of(
            LocalDate morning,
            Collection<Round> rounds,
            List<Planting> plantings,
            FarmSettings settings,
            TieUses uses) {
        Map<RowId, Round> byRow = new LinkedHashMap<>();
        rounds.forEach(round -> byRow.put(round.id().row(), round));
        List<OfPlanting> ofPlantings = new ArrayList<>();
        Map<String, List<OfRow>> ofCultivars = new LinkedHashMap<>();
        for (Planting planting : plantings) {
            List<OfRow> rows = planting.rows().stream()
                    .flatMap(row -> Optional.ofNullable(byRow.get(row.id())).stream())
                    .map(Plan::ofRow)
                    .filter(row -> row.females() + row.males() > 0)
                    .toList();
            if (!rows.isEmpty()) {
                ofPlantings.add(new OfPlanting(planting.name(), planting.cultivar(), rows));
                ofCultivars
                        .computeIfAbsent(planting.cultivar(), cultivar -> new ArrayList<>())
                        .addAll(rows);
            }
        }
        Rows known = new Rows(plantings);
        return new Plan(
                morning,
                ofPlantings,
                ofCultivars.entrySet().stream()
                        .map(cultivar -> new OfCultivar(cultivar.getKey(), cultivar.getValue()))
                        .toList(),
                rounds.stream()
                        .filter(Round::namesPlants)
                        .flatMap(round -> RoundQuestions.of(round, settings, uses, known).stream()
                                .filter(question -> OF_PLANTS.contains(question.kind()))
                                .map(question -> new Warning(round.id().row(), question)))
                        .toList(),
                rounds.stream().flatMap(round -> crowded(round).stream()).toList());
    }

    private static OfRow ofRow(Round round) {
        Tally tally = round.tally();
        return new OfRow(
                round.id().row(), Math.max(0, tally.pegged() - tally.lost()), tally.males(), tally.malesAssumed());
    }

    private static List<Crowded> crowded(Round round) {
        Map<Integer, Integer> females = new TreeMap<>();
        for (Act.OnFlowers act : round.acts()) {
            Integer plant = act.plant();
            if (plant != null && act.deed() == Deed.PEGGED) {
                females.merge(plant, act.count(), Integer::sum);
            }
        }
        return females.entrySet().stream()
                .filter(plant -> plant.getValue() > 1)
                .map(plant -> new Crowded(new PlantId(round.id().row(), plant.getKey()), plant.getValue()))
                .toList();
    }

    /** Females on the whole farm. */
    public int females() {
        return plantings.stream().mapToInt(OfPlanting::females).sum();
    }

    /** Whether anything is pegged. */
    public boolean isEmpty() {
        return plantings.isEmpty();
    }
}
