package duskpeg.core.germination;

import duskpeg.core.planting.Species;
import java.time.LocalDate;
import java.util.List;

/**
 * A germination test as it was counted.
 *
 * @param species the species of the seed
 * @param sown the day it was set, in the farm's zone
 * @param firstCount the day of the first count
 * @param finalCount the day of the final count
 * @param replicates its replicates, in their order
 */
public record GerminationTest(
        Species species, LocalDate sown, LocalDate firstCount, LocalDate finalCount, List<Replicate> replicates) {

    /**
     * @throws IllegalArgumentException if there are no replicates, or the days are not in their order
     */
    public GerminationTest {
        replicates = List.copyOf(replicates);
        if (replicates.isEmpty()) {
            throw new IllegalArgumentException("no replicates");
        }
        if (firstCount.isBefore(sown) || finalCount.isBefore(firstCount)) {
            throw new IllegalArgumentException(
                    "sown " + sown + ", first count " + firstCount + ", final count " + finalCount);
        }
    }

    /** All seeds. */
    public int seeds() {
        return replicates.stream().mapToInt(Replicate::seeds).sum();
    }
}
