package duskpeg.core.germination;

import duskpeg.core.act.Worded;
import duskpeg.core.published.Figures;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Whether the replicates of a test are near enough to each other.
 *
 * @param outcome what was found
 * @param hundreds normal seedlings in each hundred seeds; empty where there are not four hundreds
 * @param range the highest less the lowest of them
 * @param row the row that was used; null where none fits
 * @param sentence it, in plain English
 */
public record RangeCheck(
        Outcome outcome,
        List<Integer> hundreds,
        int range,
        @Nullable Row row,
        String sentence) {

    /** The table is one for four replicates of a hundred. */
    private static final int HUNDREDS = 4;

    private static final int HUNDRED = 100;

    /** What can be found. */
    public enum Outcome implements Worded {
        ACCEPT,
        /** Too far apart: the test does not count and is made again. */
        RETEST,
        /** The table does not hold for such replicates. */
        NOT_CHECKED
    }

    public RangeCheck {
        hundreds = List.copyOf(hundreds);
    }

    /**
     * Looks at four hundreds; replicates of 50 or 25 seeds are put together in their order.
     */
    static RangeCheck of(List<Replicate> replicates, Published published) {
        List<Integer> hundreds = hundreds(replicates);
        if (hundreds.isEmpty()) {
            return new RangeCheck(
                    Outcome.NOT_CHECKED,
                    hundreds,
                    0,
                    null,
                    "Not checked how far the replicates are apart: the table is for four of 100 seeds, or of 50 or 25"
                            + " put together.");
        }
        int range = Collections.max(hundreds) - Collections.min(hundreds);
        int mean = Percent.whole(hundreds.stream().mapToInt(one -> one).sum(), HUNDREDS * HUNDRED);
        Row row = published.at(Table.REPLICATE_RANGE, BigDecimal.valueOf(mean));
        boolean near = BigDecimal.valueOf(range).compareTo(row.number()) <= 0;
        return new RangeCheck(
                near ? Outcome.ACCEPT : Outcome.RETEST,
                hundreds,
                range,
                row,
                "The replicates are " + Figures.count(range, "point") + " apart where a mean of " + mean + "% allows "
                        + row.cited() + (near ? ": accepted." : ": test again."));
    }

    private static List<Integer> hundreds(List<Replicate> replicates) {
        int each = replicates.get(0).seeds();
        int together = HUNDRED / each;
        if (HUNDRED % each != 0
                || (together != 1 && together != 2 && together != 4)
                || replicates.size() != HUNDREDS * together
                || replicates.stream().anyMatch(one -> one.seeds() != each)) {
            return List.of();
        }
        List<Integer> hundreds = new ArrayList<>();
        for (int i = 0; i < replicates.size(); i += together) {
            hundreds.add(replicates.subList(i, i + together).stream()
                    .mapToInt(Replicate::normal)
                    .sum());
        }
        return hundreds;
    }
}
