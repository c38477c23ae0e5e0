package duskpeg.core.forecast;

import java.util.List;

/**
 * What part of the work on one flower each deed of the visit is, learnt from the time between reports.
 *
 * @param of the parts; they add up to 1
 */
record Shares(Flowers of) {

    /** Before anything is reported: ours, no source. */
    private static final Flowers DEFAULT = new Flowers(0.2, 0.4, 0.2, 0.2);

    /** As many flowers' worth of reports the default weighs. */
    private static final double DEFAULT_FLOWERS = 40;

    private static final int ROUNDS = 3;

    /** The shares that these stretches of work show. A stretch of several deeds is split as the shares so far say. */
    static Shares learn(List<Stretch> stretches) {
        Shares shares = new Shares(DEFAULT);
        double flowers = 0;
        double hours = 0;
        for (Stretch stretch : stretches) {
            flowers += shares.units(stretch.past());
            hours += stretch.hours();
        }
        if (flowers <= 0 || hours <= 0) {
            return shares;
        }
        Flowers usual = DEFAULT.times(DEFAULT_FLOWERS * hours / flowers);
        for (int round = 0; round < ROUNDS; round++) {
            Flowers spent = usual;
            Flowers done = new Flowers(DEFAULT_FLOWERS, DEFAULT_FLOWERS, DEFAULT_FLOWERS, DEFAULT_FLOWERS);
            for (Stretch stretch : stretches) {
                double units = shares.units(stretch.past());
                done = done.plus(stretch.past());
                if (units > 0) {
                    spent = spent.plus(shares.of.times(stretch.past()).times(stretch.hours() / units));
                }
            }
            Flowers each = spent.with(done, (all, times) -> all / times);
            shares = new Shares(each.times(1 / each.sum()));
        }
        return shares;
    }

    /** Whole flowers' worth of work. */
    double units(Flowers past) {
        return of.times(past).sum();
    }
}
