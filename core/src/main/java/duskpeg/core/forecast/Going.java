package duskpeg.core.forecast;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * How a morning goes beside others, for all workers alike: by a factor that holds all morning, and perhaps by a slow
 * start that mends, as when it is cold, wet or dark. While it is slow nobody can tell which it is; so the even start and
 * many slow ones are all kept, each with its chance, and the reports move the chances, by Bayes' rule. A change of pace
 * that all show at once moves them most.
 *
 * <p>How likely a worker's reports are under one start and one factor is known exactly: her flowers are Poisson with a
 * rate that is gamma distributed, so their number is negative binomial. The factors are weighed on a grid.
 */
final class Going {

    /** The paces of a slow start, as a share of the later pace; ours, no source. */
    private static final double[] SLOW = {0.5, 0.65, 0.8};

    /** When it mends: at so many times, evenly spread from the begin to the target, the last of which is the target. */
    private static final int ENDS = 6;

    /** The factors that are weighed: from a third of the usual pace to three times it, in even steps of the logarithm. */
    private static final int FACTORS = 29;

    private static final double LOWEST = 1 / 3.0;
    private static final double STEP = Math.log(9) / (FACTORS - 1);

    private final List<Start> starts;
    private final List<Evidence> workers;

    /** The chance of each start and factor and all before it: starts in order, and the factors of each as they rise. */
    private final double[] upTo;

    /**
     * A way in which a morning may start.
     *
     * @param pace the pace at first, as a share of the later one; 1 where it is not slow
     * @param until when it mends
     */
    record Start(double pace, Instant until) {

        /** What share of its hours a stretch would have taken at the later pace. */
        double effective(Stretch stretch) {
            double after = Math.min(1, Math.max(0, Stretch.hours(until, stretch.until())) / stretch.hours());
            return after + (1 - after) * pace;
        }

        /** The pace at that time. */
        double paceAt(Instant time) {
            return time.isBefore(until) ? pace : 1;
        }
    }

    /**
     * What one worker did.
     *
     * @param usual her pace on a morning like others
     * @param shape how sure that is: the shape of her gamma distribution
     * @param flowers flowers she did
     * @param after how it looks after each start
     */
    record Evidence(double usual, double shape, double flowers, List<After> after) {

        Evidence {
            after = List.copyOf(after);
        }
    }

    /**
     * What one worker did, as it looks after one start.
     *
     * @param hours what her flowers would have taken at the later pace
     * @param fit how well the order of her quick and slow stretches agrees with the start: a log-likelihood
     */
    record After(double hours, double fit) {}

    /** A start, by its place in the list, and a factor. */
    record Drawn(int start, double factor) {}

    private Going(List<Start> starts, List<Evidence> workers, double[] upTo) {
        this.starts = starts;
        this.workers = workers;
        this.upTo = upTo;
    }

    /** Every start that is thought of, the even one first. */
    static List<Start> starts(Instant begin, Instant target) {
        List<Start> starts = new ArrayList<>();
        starts.add(new Start(1, begin));
        double hours = Math.max(0, Stretch.hours(begin, target));
        for (double pace : SLOW) {
            for (int end = 1; end <= ENDS; end++) {
                starts.add(new Start(pace, begin.plusSeconds(Math.round(3600 * hours * end / ENDS))));
            }
        }
        return List.copyOf(starts);
    }

    /**
     * How a morning goes by what everybody did.
     *
     * @param alike how alike mornings are: the shape of the factor's gamma distribution, whose mean is 1
     * @param slowStart chance of a slow start, before anything is known of this morning
     */
    static Going of(List<Start> starts, List<Evidence> workers, double alike, double slowStart) {
        double[] chances = new double[starts.size() * FACTORS];
        for (int s = 0; s < starts.size(); s++) {
            double start = Math.log(s == 0 ? 1 - slowStart : slowStart / (starts.size() - 1));
            for (Evidence worker : workers) {
                start += worker.after().get(s).fit();
            }
            for (int f = 0; f < FACTORS; f++) {
                double factor = ofPlace(f);
                // The gamma's density per step of the logarithm; what is the same for all cells is left out.
                double chance = start + alike * (Math.log(factor) - factor);
                for (Evidence worker : workers) {
                    if (worker.flowers() > 0) {
                        double rate = factor * worker.usual();
                        chance += worker.flowers() * Math.log(rate)
                                - (worker.shape() + worker.flowers())
                                        * Math.log(worker.shape()
                                                + rate * worker.after().get(s).hours());
                    }
                }
                chances[s * FACTORS + f] = chance;
            }
        }
        double most = Arrays.stream(chances).max().orElse(0);
        double all = 0;
        for (int cell = 0; cell < chances.length; cell++) {
            all += Math.exp(chances[cell] - most);
            chances[cell] = all;
        }
        double sum = all;
        Arrays.setAll(chances, cell -> chances[cell] / sum);
        return new Going(starts, workers, chances);
    }

    private static double ofPlace(double place) {
        return LOWEST * Math.exp(STEP * place);
    }

    List<Start> starts() {
        return starts;
    }

    /** The chance of that start. */
    double chance(int start) {
        return upTo[(start + 1) * FACTORS - 1] - (start == 0 ? 0 : upTo[start * FACTORS - 1]);
    }

    /** Hours that a worker's flowers would have taken at the later pace, after that start. */
    double hours(int worker, int start) {
        return workers.get(worker).after().get(start).hours();
    }

    /** The start and factor of that probability. */
    Drawn at(double probability) {
        int found = Arrays.binarySearch(upTo, probability);
        int cell = Math.min(found < 0 ? -found - 1 : found, upTo.length - 1);
        double before = cell == 0 ? 0 : upTo[cell - 1];
        double within = upTo[cell] > before ? (probability - before) / (upTo[cell] - before) : 0.5;
        return new Drawn(cell / FACTORS, ofPlace(cell % FACTORS + Math.min(1, Math.max(0, within)) - 0.5));
    }

    /** What share of its hours a stretch would have taken at the later pace, on average. */
    double effective(Stretch stretch) {
        double share = 0;
        for (int s = 0; s < starts.size(); s++) {
            share += chance(s) * starts.get(s).effective(stretch);
        }
        return share;
    }

    /** The factor beside other mornings, on average, after that start; 1 where that start is out of the question. */
    double factor(int start) {
        double before = start == 0 ? 0 : upTo[start * FACTORS - 1];
        double sum = 0;
        for (int f = 0; f < FACTORS; f++) {
            double until = upTo[start * FACTORS + f];
            sum += (until - before) * ofPlace(f);
            before = until;
        }
        return chance(start) > 0 ? sum / chance(start) : 1;
    }

    /** How unsure the pace of all at that time is, as a share of it: a standard deviation. */
    double spreadAt(Instant time) {
        double mean = 0;
        double square = 0;
        double before = 0;
        for (int cell = 0; cell < upTo.length; cell++) {
            double pace = ofPlace(cell % FACTORS) * starts.get(cell / FACTORS).paceAt(time);
            mean += (upTo[cell] - before) * pace;
            square += (upTo[cell] - before) * pace * pace;
            before = upTo[cell];
        }
        return Math.sqrt(Math.max(0, square - mean * mean)) / mean;
    }
}
