package duskpeg.projections.chart;

import duskpeg.core.published.Figures;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * A scale from 0.
 *
 * @param most its end, above 0
 * @param step from one mark to the next
 */
record Axis(double most, double step) {

    /** About so many marks: more would run into each other on a phone. */
    private static final int MARKS = 4;

    /** A scale that reaches so far at least, in steps of 1, 2 or 5 times a power of ten. */
    static Axis reaching(double value) {
        double rough = Math.max(value, 1e-9) / MARKS;
        double ten = Math.pow(10, Math.floor(Math.log10(rough)));
        double step = 10 * ten;
        for (double one : new double[] {1, 2, 5}) {
            if (one * ten >= rough * (1 - 1e-9)) {
                step = one * ten;
                break;
            }
        }
        return new Axis(Math.ceil(value / step - 1e-9) * step, step);
    }

    /** A value's place, in hundredths of the width. */
    String at(double value) {
        return percent(value / most);
    }

    /** The marks, 0 included. */
    List<Mark> marks(String unit) {
        List<Mark> marks = new ArrayList<>();
        int many = (int) Math.round(most / step);
        for (int i = 0; i <= many; i++) {
            marks.add(new Mark(Figures.plain(i * step, 3) + (i == many ? unit : ""), percent((double) i / many)));
        }
        return marks;
    }

    static String percent(double share) {
        return String.format(Locale.ROOT, "%.2f%%", 100 * share);
    }
}
