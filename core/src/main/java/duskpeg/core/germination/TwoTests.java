package duskpeg.core.germination;

import duskpeg.core.act.Worded;
import duskpeg.core.published.Figures;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import java.math.BigDecimal;
import java.math.RoundingMode;
import org.jspecify.annotations.Nullable;

/**
 * Two tests of one lot beside each other, in the whole percent that are reported of them.
 *
 * @param agreement whether they agree
 * @param mean their mean, in percent; may end in a half
 * @param difference how far they are apart, in percentage points
 * @param row the tolerance that was used; null where none fits
 * @param report what to report, in whole percent: the mean, halves up; null where they don't agree
 * @param sentence it, in plain English
 */
public record TwoTests(
        Agreement agreement,
        BigDecimal mean,
        int difference,
        @Nullable Row row,
        @Nullable Integer report,
        String sentence) {

    /** Whether two tests agree. */
    public enum Agreement implements Worded {
        AGREE,
        /** Too far apart: another test is made. */
        APART,
        /** One of them does not stand by itself, or has too few seeds for the table. */
        NOT_COMPARED
    }

    /** Two tests of one lot, in either order. */
    public static TwoTests of(Germination one, Germination other, Published published) {
        BigDecimal mean = BigDecimal.valueOf(one.percent() + other.percent()).divide(BigDecimal.valueOf(2));
        int difference = Math.abs(one.percent() - other.percent());
        String both = one.percent() + "% and " + other.percent() + "%";
        if (!one.stands() || !other.stands()) {
            return new TwoTests(
                    Agreement.NOT_COMPARED,
                    mean,
                    difference,
                    null,
                    null,
                    both + " are not compared: a test whose replicates are too far apart does not count.");
        }
        long wanted = Germination.wanted(published);
        if (one.test().seeds() < wanted || other.test().seeds() < wanted) {
            return new TwoTests(
                    Agreement.NOT_COMPARED,
                    mean,
                    difference,
                    null,
                    null,
                    both + " are not compared: the table is for tests of " + wanted + " seeds or more.");
        }
        Row row = published.at(Table.TEST_TOLERANCE, mean);
        boolean near = BigDecimal.valueOf(difference).compareTo(row.number()) <= 0;
        int report = mean.setScale(0, RoundingMode.HALF_UP).intValueExact();
        return new TwoTests(
                near ? Agreement.AGREE : Agreement.APART,
                mean,
                difference,
                row,
                near ? report : null,
                both + " are " + Figures.count(difference, "point") + " apart where a mean of "
                        + Figures.plain(mean, 1) + "% allows " + row.cited()
                        + (near ? ": report the mean, " + report + "%." : ": test again."));
    }
}
