package duskpeg.core.germination;

import duskpeg.core.crew.WorkerId;
import java.util.ArrayList;
import java.util.List;

/**
 * One test that was entered twice, to find what was miskeyed.
 *
 * @param twoPeople whether two people entered it
 * @param differences where the entries differ, in their order
 * @param sentence it, in plain English
 */
public record TwoEntries(boolean twoPeople, List<Difference> differences, String sentence) {

    public TwoEntries {
        differences = List.copyOf(differences);
    }

    /**
     * An entry.
     *
     * @param by who entered it
     * @param test what she entered
     */
    public record Entry(WorkerId by, GerminationTest test) {}

    /**
     * A difference.
     *
     * @param where the field, as in {@code replicate 3, final count, normal}
     * @param first what the first entry says
     * @param second what the second says
     */
    public record Difference(String where, String first, String second) {}

    /** Compares two entries. */
    public static TwoEntries of(Entry first, Entry second) {
        boolean twoPeople = !first.by().equals(second.by());
        List<Difference> differences = new ArrayList<>();
        GerminationTest one = first.test();
        GerminationTest two = second.test();
        differ(
                differences,
                "species",
                one.species().scientificName(),
                two.species().scientificName());
        differ(differences, "sown", one.sown(), two.sown());
        differ(differences, "first count", one.firstCount(), two.firstCount());
        differ(differences, "final count", one.finalCount(), two.finalCount());
        differ(
                differences,
                "replicates",
                one.replicates().size(),
                two.replicates().size());
        for (int i = 0; i < Math.min(one.replicates().size(), two.replicates().size()); i++) {
            String where = "replicate " + (i + 1) + ", ";
            Replicate mine = one.replicates().get(i);
            Replicate hers = two.replicates().get(i);
            differ(differences, where + "seeds", mine.seeds(), hers.seeds());
            differ(differences, where + "first count", mine.first(), hers.first());
            differ(differences, where + "final count", mine.last(), hers.last());
        }
        String sentence =
                differences.isEmpty() ? "The two entries agree" : "The two entries differ in " + differences.size();
        return new TwoEntries(
                twoPeople,
                differences,
                sentence + (twoPeople ? "." : ", but one person made both: a second person must enter it."));
    }

    /** Whether a second person entered the same. */
    public boolean confirmed() {
        return twoPeople && differences.isEmpty();
    }

    private static void differ(List<Difference> differences, String where, Counted one, Counted two) {
        differ(differences, where + ", normal", one.normal(), two.normal());
        differ(differences, where + ", abnormal", one.abnormal(), two.abnormal());
        differ(differences, where + ", dead", one.dead(), two.dead());
    }

    private static void differ(List<Difference> differences, String where, Object one, Object two) {
        if (!one.equals(two)) {
            differences.add(new Difference(where, one.toString(), two.toString()));
        }
    }
}
