package duskpeg.core.germination;

import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import java.math.BigDecimal;

/**
 * A test beside the least that a standard asks for.
 *
 * @param minimum the row of the standard
 * @param met whether the test stands and the percent that is reported is not under it
 * @param sure whether both two-sided bounds are on the same side of it as what is reported, so that chance alone
 *     explains no other answer
 * @param sentence it, in plain English
 */
public record AgainstMinimum(Row minimum, boolean met, boolean sure, String sentence) {

    /**
     * Compares a test with a standard.
     *
     * @param minimum a row of {@link Table#GERMINATION_MINIMUM}
     * @throws IllegalArgumentException if it is of another table
     */
    public static AgainstMinimum of(Germination germination, Row minimum) {
        if (minimum.table() != Table.GERMINATION_MINIMUM) {
            throw new IllegalArgumentException(
                    "no standard of germination: " + minimum.table().word());
        }
        if (!germination.stands()) {
            return new AgainstMinimum(
                    minimum, false, false, "Not compared with " + minimum.cited() + ": the test must be made again.");
        }
        BigDecimal least = minimum.number();
        boolean met = BigDecimal.valueOf(germination.percent()).compareTo(least) >= 0;
        double bound = 100
                * (met
                        ? germination.bounds().twoSidedLower()
                        : germination.bounds().twoSidedUpper());
        boolean sure = met ? bound >= least.doubleValue() : bound < least.doubleValue();
        String note = minimum.shipped().note();
        return new AgainstMinimum(
                minimum,
                met,
                sure,
                germination.percent() + "% is " + (met ? "not under " : "under ") + minimum.cited()
                        + (sure ? "." : ", but so near that chance alone may have made the difference.")
                        + (met || note == null ? "" : " Note: " + note + "."));
    }
}
