package duskpeg.core.crew;

import duskpeg.core.fruit.TieNumber;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** What somebody says becomes of ties in a worker's hands, before it is known whether it can be. */
public sealed interface Handling {

    /** Whose hands it is about. */
    WorkerId worker();

    /** She holds this strip from now on. */
    record Issue(WorkerId worker, Strip strip) implements Handling {}

    /**
     * What is left comes back to the shed.
     *
     * @param from the first tie that comes back; null for all that is left of her only strip
     */
    record GiveBack(WorkerId worker, @Nullable TieNumber from) implements Handling {}

    /**
     * What is left is lost.
     *
     * @param from the first tie that is lost; null for all that is left of her only strip
     */
    record Lose(WorkerId worker, @Nullable TieNumber from) implements Handling {}

    /**
     * What is left goes to another worker.
     *
     * @param from the first tie that goes; null for all that is left of her only strip
     */
    record HandOver(WorkerId worker, WorkerId to, @Nullable TieNumber from) implements Handling {}

    /**
     * These are spoilt and on no fruit.
     *
     * @param ties at least one
     */
    record Damage(WorkerId worker, List<TieNumber> ties) implements Handling {
        public Damage {
            ties = List.copyOf(ties);
        }
    }
}
