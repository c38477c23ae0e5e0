package duskpeg.core.lineage;

import java.util.Collection;
import java.util.List;

/**
 * An effective population size: of how many plants an ideal population would consist that loses as much as this one in a
 * generation. Different formulas answer different questions and assume different things, so none is shown without its
 * own.
 *
 * @param value plants, above 0; infinite where nothing is lost
 * @param formula how it was found
 */
public record EffectiveSize(double value, Formula formula) {

    private static final double ROUNDING = 1e-6;

    /** How an effective size is found. Sources are from memory. */
    public enum Formula {
        SEXES(
                "4 Nm Nf / (Nm + Nf)",
                "Mates at random, families no more unequal than chance makes them. Of plants that have both sexes it is an"
                        + " approximation: distinct plants used as males and as females are counted as if they were two"
                        + " kinds.",
                "Wright 1931, Genetics 16:97-159"),
        FAMILY_VARIANCE(
                "(4N - 2) / (Vk + 2)",
                "N constant, mates at random; Vk is the variance of the number of offspring that became parents. With as"
                        + " much seed of each plant Vk is 0, and the size nearly twice the number of plants.",
                "Crow & Kimura 1970, An Introduction to Population Genetics Theory"),
        HARMONIC_MEAN(
                "t / (1/N1 + ... + 1/Nt)",
                "One figure for generations of different sizes, each of them itself an effective size. The smallest weighs"
                        + " most.",
                "Wright 1938, Science 87:430; Crow & Kimura 1970"),
        RATE_OF_INBREEDING(
                "1 / (2 dF)",
                "dF is what inbreeding rises by in a generation, as a part of what is left to rise by; steady over"
                        + " generations.",
                "Falconer & Mackay 1996, Introduction to Quantitative Genetics, ch. 4"),
        DAMS(
                "1 / (c1^2 + c2^2 + ...)",
                "The number of dams that, used equally, would give as unequal a lot; c is each dam's part of the seeds. It"
                        + " says nothing of fathers, and takes dams to be no kin.",
                "Crow & Kimura 1970; Lacy 1989, Zoo Biology 8:111-123"),
        CONTRIBUTIONS(
                "1 / (g1^2 + g2^2 + ...)",
                "The number of plants that, used equally, would give as unequal a lot; g is each plant's part of the genes,"
                        + " half by way of mothers. A candidate father counts with what is expected of it. Plants are taken"
                        + " to be no kin and not inbred; all those nobody knows count as one, so it may be too small.",
                "Crow & Kimura 1970; Lacy 1989, Zoo Biology 8:111-123"),
        STATUS_NUMBER(
                "1 / (2 coancestry)",
                "The number of plants, no kin and not inbred, in which genes would be as often copies of one ancestor's as"
                        + " in this group. Counted from the founders on, so it tells what is there now and not the rate"
                        + " at which it is lost.",
                "Lindgren, Gea & Jefferson 1996, Silvae Genetica 45:52-59");

        private final String written;
        private final String assumes;
        private final String source;

        Formula(String written, String assumes, String source) {
            this.written = written;
            this.assumes = assumes;
            this.source = source;
        }

        /** The formula as one writes it. */
        public String written() {
            return written;
        }

        /** What must be so for it to hold, in plain English. */
        public String assumes() {
            return assumes;
        }

        /** Where it is from. */
        public String source() {
            return source;
        }
    }

    /**
     * @throws IllegalArgumentException if the value is not above 0
     */
    public EffectiveSize {
        if (!(value > 0)) {
            throw new IllegalArgumentException("not an effective size: " + value);
        }
    }

    /**
     * Of so many plants used as males and so many as females; a plant that was used both ways counts in both.
     *
     * @throws IllegalArgumentException if one is not above 0
     */
    public static EffectiveSize ofSexes(double males, double females) {
        above0(males);
        above0(females);
        return new EffectiveSize(4 * males * females / (males + females), Formula.SEXES);
    }

    /**
     * Of plants that differ in how many offspring they have.
     *
     * @param plants how many, at least 1
     * @param variance of the number of offspring among them, 0 or more; 2 where chance alone decides
     * @throws IllegalArgumentException if one is out of its range
     */
    public static EffectiveSize ofFamilies(double plants, double variance) {
        if (!(plants >= 1 && variance >= 0)) {
            throw new IllegalArgumentException("not families: " + plants + " with variance " + variance);
        }
        return new EffectiveSize((4 * plants - 2) / (variance + 2), Formula.FAMILY_VARIANCE);
    }

    /**
     * Over generations.
     *
     * @param sizes of each of them, above 0
     * @throws IllegalArgumentException if there is none, or one is not above 0
     */
    public static EffectiveSize over(List<Double> sizes) {
        sizes.forEach(EffectiveSize::above0);
        return new EffectiveSize(
                sizes.size() / sizes.stream().mapToDouble(size -> 1 / size).sum(), Formula.HARMONIC_MEAN);
    }

    /**
     * By the rate of inbreeding.
     *
     * @param before mean inbreeding of a generation, 0 to below 1
     * @param after that of the next, not below it, to 1
     * @throws IllegalArgumentException if one is out of its range
     */
    public static EffectiveSize ofInbreeding(double before, double after) {
        if (!(before >= 0 && before < 1 && after >= before && after <= 1)) {
            throw new IllegalArgumentException("not a rise of inbreeding: " + before + " to " + after);
        }
        return new EffectiveSize((1 - before) / (2 * (after - before)), Formula.RATE_OF_INBREEDING);
    }

    /**
     * By what each dam gave.
     *
     * @param parts of the lot, 0 or more; they add up to 1
     * @throws IllegalArgumentException if they don't, or one is below 0
     */
    public static EffectiveSize ofDams(Collection<Double> parts) {
        return new EffectiveSize(equally(parts), Formula.DAMS);
    }

    /**
     * By what each plant gave, as mother and father, as {@link Pedigree#contributions} gives it.
     *
     * @throws IllegalArgumentException if the parts of the genes don't add up to 1
     */
    public static EffectiveSize ofContributions(Collection<Contribution> given) {
        return new EffectiveSize(equally(given.stream().map(Contribution::genes).toList()), Formula.CONTRIBUTIONS);
    }

    /** How many equal parts would have the same sum of squares. */
    private static double equally(Collection<Double> parts) {
        double sum = parts.stream().mapToDouble(Double::doubleValue).sum();
        if (!(Math.abs(sum - 1) <= ROUNDING) || parts.stream().anyMatch(part -> part < 0)) {
            throw new IllegalArgumentException("not parts of a lot: " + parts);
        }
        return 1 / parts.stream().mapToDouble(part -> part * part).sum();
    }

    /**
     * By coancestry, as {@link Pedigree#coancestry} gives it.
     *
     * @param coancestry of the group, above 0 to 1; 0 only of endless groups of no kin
     * @throws IllegalArgumentException if it is out of its range
     */
    public static EffectiveSize ofCoancestry(double coancestry) {
        if (!(coancestry >= 0 && coancestry <= 1 + ROUNDING)) {
            throw new IllegalArgumentException("not a coancestry: " + coancestry);
        }
        return new EffectiveSize(1 / (2 * coancestry), Formula.STATUS_NUMBER);
    }

    private static void above0(double number) {
        if (!(number > 0)) {
            throw new IllegalArgumentException("not a number of plants: " + number);
        }
    }

    /** What inbreeding rises by in a generation of that size, as a part of what is left to rise by. */
    public double rate() {
        return 1 / (2 * value);
    }

    /**
     * The inbreeding after generations of that size, from none, 0 to 1 (Falconer & Mackay ch. 4; from memory). Of a
     * status number that is no forecast: it says what is there.
     *
     * @throws IllegalArgumentException if the number of generations is below 0
     */
    public double inbreedingAfter(int generations) {
        if (generations < 0) {
            throw new IllegalArgumentException("not generations: " + generations);
        }
        return 1 - Math.pow(1 - rate(), generations);
    }
}
