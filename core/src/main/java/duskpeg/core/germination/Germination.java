package duskpeg.core.germination;

import duskpeg.core.growout.Bounds;
import duskpeg.core.published.Figures;
import duskpeg.core.published.Published;
import duskpeg.core.published.Row;
import duskpeg.core.published.Table;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.ToIntFunction;

/**
 * What a germination test says.
 *
 * @param test the test
 * @param percent normal seedlings in whole percent, halves up, as it is reported
 * @param normalPercent the same with two decimals
 * @param firstCountPercent normal seedlings at the first count, in percent with two decimals
 * @param abnormalPercent abnormal seedlings likewise
 * @param deadPercent dead or not germinated seeds likewise
 * @param bounds of the share of seeds that germinate: Clopper and Pearson's, of chance alone
 * @param range whether the replicates are near enough to each other
 * @param cautions what must be said beside it
 * @param sentence it, in plain English
 */
public record Germination(
        GerminationTest test,
        int percent,
        BigDecimal normalPercent,
        BigDecimal firstCountPercent,
        BigDecimal abnormalPercent,
        BigDecimal deadPercent,
        Bounds bounds,
        RangeCheck range,
        List<String> cautions,
        String sentence) {

    /** The confidence of the bounds: customary. */
    public static final double CONFIDENCE = 0.95;

    public Germination {
        cautions = List.copyOf(cautions);
    }

    /** What a test says by these tables. */
    public static Germination of(GerminationTest test, Published published) {
        int normal = sum(test, Replicate::normal);
        int seeds = test.seeds();
        RangeCheck range = RangeCheck.of(test.replicates(), published);
        Bounds bounds = Bounds.of(normal, seeds, CONFIDENCE);
        int percent = Percent.whole(normal, seeds);
        String sentence = percent + "% germinated: " + Figures.count(normal, "normal seedling") + " of "
                + Figures.count(seeds, "seed") + " in "
                + Figures.count(test.replicates().size(), "replicate")
                + "; by chance alone the lot may have " + share(bounds.twoSidedLower()) + " to "
                + share(bounds.twoSidedUpper()) + " (two-sided, 95% confidence, Clopper-Pearson). " + range.sentence();
        return new Germination(
                test,
                percent,
                Percent.of(normal, seeds, 2),
                Percent.of(sum(test, one -> one.first().normal()), seeds, 2),
                Percent.of(sum(test, Replicate::abnormal), seeds, 2),
                Percent.of(sum(test, Replicate::dead), seeds, 2),
                bounds,
                range,
                cautions(test, published),
                sentence);
    }

    /** Whether the test may be used: it may not where its replicates are too far apart. */
    public boolean stands() {
        return range.outcome() != RangeCheck.Outcome.RETEST;
    }

    private static int sum(GerminationTest test, ToIntFunction<Replicate> of) {
        return test.replicates().stream().mapToInt(of).sum();
    }

    private static String share(double share) {
        return Figures.plain(100 * share, 1) + "%";
    }

    private static List<String> cautions(GerminationTest test, Published published) {
        List<String> cautions = new ArrayList<>();
        if (test.seeds() < wanted(published)) {
            cautions.add("Only " + Figures.count(test.seeds(), "seed") + ": the method asks for "
                    + published.get(Table.GERMINATION_METHOD, "replicates").cited() + " of "
                    + published.get(Table.GERMINATION_METHOD, "seeds").cited() + ".");
        }
        day("first", test.firstCount(), test, published).ifPresent(cautions::add);
        day("final", test.finalCount(), test, published).ifPresent(cautions::add);
        return cautions;
    }

    /** How many seeds the method asks for. */
    static long wanted(Published published) {
        return published.get(Table.GERMINATION_METHOD, "replicates").number().longValueExact()
                * published.get(Table.GERMINATION_METHOD, "seeds").number().longValueExact();
    }

    private static Optional<String> day(String count, LocalDate on, GerminationTest test, Published published) {
        Optional<Row> row = published.row(Table.GERMINATION_COUNTS, test.species(), count);
        long day = ChronoUnit.DAYS.between(test.sown(), on);
        return row.isEmpty()
                ? Optional.of("No day of the " + count + " count is known for "
                        + test.species().scientificName() + ".")
                : row.filter(one -> one.number().longValueExact() != day)
                        .map(one ->
                                "The " + count + " count was on day " + day + ": the method says " + one.cited() + ".");
    }
}
