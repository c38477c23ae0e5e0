package duskpeg.projections.lots;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * From flowers to packets, or from a packet to its flowers. Tracing takes no heed of when seed was drawn, so it may name
 * too many and never too few.
 *
 * @param of what was traced
 * @param flowers every fruit it may be of
 * @param lots the lots on the way, the nearest first
 * @param packets every packet that may hold such seed
 */
public record TraceView(String of, List<FlowerView> flowers, List<String> lots, List<PacketsOf> packets) {

    public TraceView {
        flowers = List.copyOf(flowers);
        lots = List.copyOf(lots);
        packets = List.copyOf(packets);
    }

    /**
     * A fruit.
     *
     * @param lot into which it was taken
     * @param verdict its verdict now; {@code none} where no report tells of it any more
     * @param row the row it was tied in; null where no report says so
     * @param morning the morning it was tied
     */
    public record FlowerView(
            String tie,
            @Nullable String lot,
            String verdict,
            @Nullable String row,
            @Nullable String morning) {}

    /** Packets of a lot, from the first number to the last. */
    public record PacketsOf(String lot, int first, int last, double grams) {}
}
