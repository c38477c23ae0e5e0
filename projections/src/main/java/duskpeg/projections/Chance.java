package duskpeg.projections;

/** Says a chance for people. */
public final class Chance {

    private Chance() {}

    /** A chance, 0 to 1, in hundredths. Nothing that lies ahead is certain, so neither 0 nor 100 is said. */
    public static String of(double chance) {
        long hundredths = Math.round(100 * chance);
        return hundredths < 1 ? "<1%" : hundredths > 99 ? ">99%" : hundredths + "%";
    }
}
