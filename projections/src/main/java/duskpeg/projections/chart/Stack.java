package duskpeg.projections.chart;

import java.util.ArrayList;
import java.util.List;

/**
 * Bars beside a common scale, each cut into parts. The parts are told apart by their patterns, and the key says what each
 * amounts to, so that nobody needs colours or eyes for it.
 *
 * @param id of the drawing, unique on its page
 * @param says the same in words
 * @param height in pixels
 * @param bars from above
 * @param keys the patterns that are used, in words
 */
public record Stack(String id, String says, int height, List<Bar> bars, List<Key> keys) {

    /** What a part can be filled with, in the order of the kinds. {@code charts.html} has them. */
    private static final List<String> FILLS = List.of("full", "hatch", "dots", "cross", "blank");

    private static final int PITCH = 54;

    public Stack {
        bars = List.copyOf(bars);
        keys = List.copyOf(keys);
    }

    /** A bar; {@code y} of its name and {@code top} of itself are in pixels. */
    public record Bar(String label, int y, int top, List<Part> parts) {

        public Bar {
            parts = List.copyOf(parts);
        }
    }

    /** A part of a bar. */
    public record Part(String fill, String x, String width) {}

    /** What a pattern is. */
    public record Key(String fill, String label) {}

    /**
     * What is to be drawn as one bar.
     *
     * @param label its name; empty where there is only one
     * @param amounts one for each kind, 0 or more
     */
    public record Amounts(String label, List<Double> amounts) {

        public Amounts {
            amounts = List.copyOf(amounts);
        }

        double sum() {
            return amounts.stream().mapToDouble(one -> one).sum();
        }
    }

    /**
     * Draws.
     *
     * @param kinds what the parts are in words, at most five
     * @param bars from above; something must be in one of them
     */
    public static Stack of(String id, String says, List<String> kinds, List<Amounts> bars) {
        double most = bars.stream().mapToDouble(Amounts::sum).max().orElse(0);
        if (!(most > 0) || kinds.size() > FILLS.size()) {
            throw new IllegalArgumentException(kinds + " of " + bars);
        }
        List<Bar> drawn = new ArrayList<>();
        boolean named = bars.stream().anyMatch(one -> !one.label().isEmpty());
        int pitch = named ? PITCH : PITCH - 18;
        for (int i = 0; i < bars.size(); i++) {
            List<Part> parts = new ArrayList<>();
            double from = 0;
            for (int kind = 0; kind < kinds.size(); kind++) {
                double amount = bars.get(i).amounts().get(kind);
                if (amount > 0) {
                    parts.add(new Part(FILLS.get(kind), Axis.percent(from / most), Axis.percent(amount / most)));
                    from += amount;
                }
            }
            int above = 8 + i * pitch;
            drawn.add(new Bar(bars.get(i).label(), above + 14, above + (named ? 22 : 2), parts));
        }
        List<Key> keys = new ArrayList<>();
        for (int kind = 0; kind < kinds.size(); kind++) {
            int of = kind;
            if (bars.stream().anyMatch(one -> one.amounts().get(of) > 0)) {
                keys.add(new Key(FILLS.get(kind), kinds.get(kind)));
            }
        }
        return new Stack(id, says, 8 + bars.size() * pitch, drawn, keys);
    }
}
