package duskpeg.core.purity;

import duskpeg.core.act.FieldEvent;
import duskpeg.core.farm.FarmEvent;
import duskpeg.core.fruit.Evidence.Grade;
import duskpeg.core.planting.Planting;
import java.util.ArrayList;
import java.util.List;

/** The rule about what flowers near the row. */
final class Neighbourhood {

    private Neighbourhood() {}

    /**
     * Only one of the same species counts as near: what is known of crossing between the others is that it is seldom. A
     * planting of the same stock counts as well, which errs on the safe side.
     */
    static Finding neighboursFarOrBagged(Case fruit) {
        Rule rule = Rule.NEIGHBOURS_FAR_OR_BAGGED;
        Finding bagged = Flowering.baggedAndTiedInOneVisit(fruit);
        if (bagged.result() == Finding.Result.HOLDS) {
            return new Finding(
                    rule,
                    Finding.Result.HOLDS,
                    bagged.grade(),
                    "The bag closed the gap to whatever is near. " + bagged.because(),
                    bagged.read());
        }
        Planting planting = fruit.around().planting();
        if (planting == null) {
            return Finding.notShown(
                    rule, "No report shows that it was bagged in time, nor what is planted in its row.", List.of());
        }
        FarmEvent.StandardsChosen chosen = fruit.around().chosen();
        Integer wanted = chosen == null ? null : chosen.standards().isolationMetres();
        if (chosen == null || wanted == null || fruit.around().measured().isEmpty()) {
            return Finding.notShown(
                    rule,
                    "No report shows that it was bagged in time, nor how far " + planting.name()
                            + " is from its like and should be.",
                    List.of());
        }
        List<FieldEvent> read = new ArrayList<>(List.of(chosen));
        read.addAll(fruit.around().measured());
        for (FarmEvent.Measured near : fruit.around().measured()) {
            if (near.neighbour().species() == planting.species()
                    && near.neighbour().metres() < wanted) {
                return Finding.notShown(
                        rule,
                        near.neighbour().name() + ", of the same species, is "
                                + near.neighbour().metres() + " m from "
                                + planting.name() + ", nearer than the farm's own " + wanted
                                + " m, and no report shows that it was bagged in time.",
                        read);
            }
        }
        return Finding.holds(
                rule,
                Grade.ROW,
                "Nothing of its species was measured nearer to " + planting.name() + " than the farm's own " + wanted
                        + " m.",
                read);
    }
}
