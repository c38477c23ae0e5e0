package duskpeg.projections.chart;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * What is expected and between what it is, one line for each, on a common scale.
 *
 * @param id of the drawing, unique on its page
 * @param says the same in words
 * @param height in pixels
 * @param base the y of the lower edge, in pixels
 * @param lines from above
 * @param marks on the lower edge
 * @param limit what they are held against; null where that is nothing
 */
public record Ranges(
        String id,
        String says,
        int height,
        int base,
        List<Line> lines,
        List<Mark> marks,
        @Nullable Mark limit) {

    private static final int PITCH = 52;

    public Ranges {
        lines = List.copyOf(lines);
        marks = List.copyOf(marks);
    }

    /** A line; {@code y} is of its name, and what it shows is drawn a little lower. */
    public record Line(String label, int y, int at, String low, String middle, String high) {}

    /**
     * What is to be drawn as one line, in the unit of the scale.
     *
     * @param label its name, with its numbers
     */
    public record Between(String label, double low, double middle, double high) {}

    /**
     * Draws.
     *
     * @param unit what stands behind the last number of the scale
     * @param limit null where there is none
     * @param limitName what it is called
     */
    public static Ranges of(
            String id, String says, String unit, List<Between> lines, @Nullable Double limit, String limitName) {
        Axis axis = Axis.reaching(DoubleStream.concat(
                        lines.stream().mapToDouble(Between::high),
                        Stream.ofNullable(limit).mapToDouble(one -> one))
                .max()
                .orElse(1));
        List<Line> drawn = new ArrayList<>();
        for (int i = 0; i < lines.size(); i++) {
            Between one = lines.get(i);
            int y = (limit == null ? 22 : 44) + i * PITCH;
            drawn.add(new Line(one.label(), y, y + 14, axis.at(one.low()), axis.at(one.middle()), axis.at(one.high())));
        }
        int base = (limit == null ? 0 : 22) + lines.size() * PITCH;
        return new Ranges(
                id,
                says,
                base + 28,
                base,
                drawn,
                axis.marks(unit),
                limit == null ? null : new Mark(limitName, axis.at(limit)));
    }
}
