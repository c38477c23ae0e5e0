package duskpeg.core.isolation;

import duskpeg.core.act.Worded;
import duskpeg.core.planting.Neighbour;
import duskpeg.core.planting.Planting;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * A planting, and something near it. Isolation distances are written for open pollination: flowers that are pegged, bagged
 * and pollinated by hand are closed to bees, but that waives no distance unless whoever certifies says so.
 *
 * @param planting the planting, by name
 * @param neighbour what is near it
 * @param metres how far; null where nobody measured it
 * @param crossing how likely they cross
 * @param wanted the distance that is wanted; null where the farm goes by none
 * @param standing what that comes to
 * @param sentence it, in plain English
 */
public record Isolation(
        String planting,
        String neighbour,
        @Nullable Integer metres,
        Row crossing,
        @Nullable Row wanted,
        Standing standing,
        String sentence) {

    /** What may be found. */
    public enum Standing implements Worded {
        /** Of a species that crosses freely, and nearer than is wanted. */
        TOO_NEAR,
        /** Of a species that crosses freely, and nobody measured how far it is. */
        NOT_MEASURED,
        /** Of a species that seldom crosses, and nearer than is wanted, or not measured. */
        BEWARE,
        /** Of a species that hardly ever crosses, however near it is. */
        HARDLY_CROSSES,
        /** As far as is wanted. */
        FAR_ENOUGH
    }

    /**
     * What stands near the plantings of a farm, the worst first. Another planting of the farm is looked at also where
     * nobody measured how far it is. One of the same cultivar and stock is no danger and is left out.
     *
     * @param neighbours what was measured, by planting
     * @param wanted a row of the isolation distances; null where the farm goes by none
     */
    public static List<Isolation> of(
            List<Planting> plantings,
            Map<String, List<Neighbour>> neighbours,
            Published published,
            @Nullable Row wanted) {
        List<Isolation> found = new ArrayList<>();
        for (Planting planting : plantings) {
            List<Neighbour> measured = neighbours.getOrDefault(planting.name(), List.of());
            for (Neighbour neighbour : measured) {
                Optional<Planting> own = plantings.stream()
                        .filter(one -> one.name().equals(neighbour.name()))
                        .findFirst();
                if (own.filter(one -> isTheSame(one, planting)).isEmpty()) {
                    found.add(of(
                            planting,
                            neighbour.name(),
                            neighbour.metres(),
                            published.crossing(planting.species(), neighbour.species()),
                            wanted));
                }
            }
            for (Planting other : plantings) {
                boolean isMeasured =
                        measured.stream().anyMatch(one -> one.name().equals(other.name()));
                if (!other.name().equals(planting.name()) && !isTheSame(other, planting) && !isMeasured) {
                    // What was measured from there is as far from here.
                    Integer metres = neighbours.getOrDefault(other.name(), List.of()).stream()
                            .filter(one -> one.name().equals(planting.name()))
                            .findFirst()
                            .map(Neighbour::metres)
                            .orElse(null);
                    found.add(of(
                            planting,
                            other.name(),
                            metres,
                            published.crossing(planting.species(), other.species()),
                            wanted));
                }
            }
        }
        found.sort(Comparator.comparing(Isolation::standing));
        return found;
    }

    private static boolean isTheSame(Planting one, Planting other) {
        return one.cultivar().equals(other.cultivar())
                && one.stock() != null
                && one.stock().equals(other.stock());
    }

    private static Isolation of(
            Planting planting, String name, @Nullable Integer metres, Row crossing, @Nullable Row wanted) {
        String risk = crossing.value();
        boolean isFar =
                metres != null && wanted != null && metres >= wanted.number().intValue();
        Standing standing = isFar
                ? Standing.FAR_ENOUGH
                : risk.equals("very-low") ? Standing.HARDLY_CROSSES : byRisk(risk, metres, wanted);
        String sentence =
                (metres == null ? "Nobody measured how far " + name + " is from " : name + " is " + metres + " m from ")
                        + planting.name() + "; they cross " + crossWord(risk) + ": " + crossing.cited()
                        + (wanted == null ? "." : "; wanted: " + wanted.cited() + ".");
        return new Isolation(planting.name(), name, metres, crossing, wanted, standing, sentence);
    }

    private static Standing byRisk(String risk, @Nullable Integer metres, @Nullable Row wanted) {
        if (!risk.equals("full")) {
            return Standing.BEWARE;
        }
        return metres == null ? Standing.NOT_MEASURED : wanted == null ? Standing.BEWARE : Standing.TOO_NEAR;
    }

    private static String crossWord(String risk) {
        return switch (risk) {
            case "full" -> "freely";
            case "low" -> "seldom";
            default -> "hardly ever";
        };
    }
}
