package duskpeg.core.germination;

/**
 * Some seeds that were set to germinate together.
 *
 * @param seeds how many
 * @param first what was taken out at the first count
 * @param last what the rest were at the final count
 */
public record Replicate(int seeds, Counted first, Counted last) {

    /**
     * @throws IllegalArgumentException if there are no seeds, or more or fewer were counted than were sown
     */
    public Replicate {
        int counted = first.total() + last.total();
        if (seeds < 1 || counted != seeds) {
            throw new IllegalArgumentException(counted + " counted of " + seeds + " seeds");
        }
    }

    /** Normal seedlings of both counts. */
    public int normal() {
        return first.normal() + last.normal();
    }

    /** Abnormal seedlings of both counts. */
    public int abnormal() {
        return first.abnormal() + last.abnormal();
    }

    /** Dead or not germinated seeds of both counts. */
    public int dead() {
        return first.dead() + last.dead();
    }
}
