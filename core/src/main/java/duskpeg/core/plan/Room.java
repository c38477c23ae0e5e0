package duskpeg.core.plan;

import java.util.function.IntToDoubleFunction;

/** How many more females may be pegged. */
public final class Room {

    /** Nobody pegs more than that on top of an evening's work. */
    public static final int MOST = 999;

    /** The chance of the limit that is wanted: ours, no source. */
    public static final double WANTED = 0.9;

    private Room() {}

    /**
     * The most that keeps the chance of finishing by the limit; 0 where it is not there as things stand.
     *
     * @param chance the chance with so many more, 0 to 1; it must not rise with them
     */
    public static int of(IntToDoubleFunction chance) {
        if (chance.applyAsDouble(0) < WANTED) {
            return 0;
        }
        int enough = 0;
        int tooMany = MOST + 1;
        while (tooMany - enough > 1) {
            int middle = (enough + tooMany) / 2;
            if (chance.applyAsDouble(middle) >= WANTED) {
                enough = middle;
            } else {
                tooMany = middle;
            }
        }
        return enough;
    }
}
