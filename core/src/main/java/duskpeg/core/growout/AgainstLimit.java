package duskpeg.core.growout;

import duskpeg.core.act.Worded;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;

/**
 * What a grow-out shows about a limit for off-types.
 *
 * @param limit the row of the limit
 * @param standing what is shown
 * @param sentence it, in plain English
 */
public record AgainstLimit(Row limit, Standing standing, String sentence) {

    /** What can be shown. */
    public enum Standing implements Worded {
        /** The upper bound is at the limit or under it. */
        UNDER,
        /** The lower bound is over the limit. */
        OVER,
        /** Neither: too few plants for that. */
        NOT_SHOWN
    }

    /**
     * Holds the one-sided bounds against a limit.
     *
     * @param limit a row of {@link Table#OFF_TYPES}
     * @throws IllegalArgumentException if it is of another table
     */
    public static AgainstLimit of(GrowOut.Shown shown, Row limit) {
        if (limit.table() != Table.OFF_TYPES) {
            throw new IllegalArgumentException(
                    "no limit for off-types: " + limit.table().word());
        }
        double most = limit.number().doubleValue() / 100;
        Bounds bounds = shown.bounds();
        String confidence = GrowOut.percent(bounds.confidence()) + " confidence";
        if (bounds.upper() <= most) {
            return new AgainstLimit(
                    limit,
                    Standing.UNDER,
                    "The one-sided upper bound, " + GrowOut.percent(bounds.upper()) + " (" + confidence
                            + "), is not over the limit of " + limit.cited() + ".");
        }
        if (bounds.lower() > most) {
            return new AgainstLimit(
                    limit,
                    Standing.OVER,
                    "The one-sided lower bound, " + GrowOut.percent(bounds.lower()) + " (" + confidence
                            + "), is over the limit of " + limit.cited() + ".");
        }
        return new AgainstLimit(
                limit,
                Standing.NOT_SHOWN,
                "Neither shown nor refuted: the limit of " + limit.cited() + " lies between the one-sided bounds "
                        + GrowOut.percent(bounds.lower()) + " and " + GrowOut.percent(bounds.upper()) + " ("
                        + confidence + " each).");
    }
}
