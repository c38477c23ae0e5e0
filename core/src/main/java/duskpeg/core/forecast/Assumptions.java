package duskpeg.core.forecast;

import java.time.Duration;

/**
 * What the forecast takes for granted until the farm's own reports say otherwise. None of these numbers is published:
 * they are wide defaults of ours, tuned on invented mornings (see {@code docs/benchmarks.md}) and outweighed by reports.
 *
 * @param pace flowers a worker does in an hour, from opening to tying, where nothing was ever reported
 * @param paceHours how many hours of work the default pace weighs
 * @param workerHours how many hours of work the crew's pace weighs beside a worker's own of earlier mornings
 * @param newWorker how alike workers are of whom no earlier morning is known: the shape of a gamma distribution
 * @param knownWorker how alike a worker is to herself on other mornings: likewise
 * @param firstMorning how alike the first morning is to the default: likewise
 * @param laterMorning how alike mornings are: likewise
 * @param clumping how much less a flower says than an independent one would
 * @param memory after how long a report of the same morning weighs half
 * @param earlierWeight how much an hour of an earlier morning weighs
 * @param rowHours how many hours of work say that a row is like any other
 * @param gap how long from a worker's report to her next, where nothing else is known
 * @param lateTexts share of workers whose texts come much later than their work
 * @param lateBy how late those come, on average
 * @param leavingPerHour chance that a worker leaves within an hour
 * @param stopPerHour chance that all stop, as in rain, within an hour
 * @param stop how long such a stop lasts, on average
 * @param stopNow chance that they have stopped just now, before their silence is looked at
 * @param helping chance that a worker without a row of her own helps in another's
 * @param nearest chance that the next row is the nearest one
 * @param attendance chance that a worker comes, where no earlier morning is known
 * @param lateness how long after the start a worker begins, on average
 * @param sharedDrift how far the whole crew's pace may move from now on: a standard deviation, of logarithms
 * @param reverting how far a morning that is slower or faster than usual all along may still become like others: half
 *     of this on average, 1 being all the way
 * @param ownDrift how far one worker's may: likewise
 * @param rowSpread how far the work in a row may differ from what its flowers say: likewise
 * @param flowerSpread the same for a single flower
 * @param loss share of the pegged flowers that are lost
 * @param slowStart chance that a morning starts slowly and mends by the target
 */
public record Assumptions(
        double pace,
        double paceHours,
        double workerHours,
        double newWorker,
        double knownWorker,
        double firstMorning,
        double laterMorning,
        double clumping,
        Duration memory,
        double earlierWeight,
        double rowHours,
        Duration gap,
        double lateTexts,
        Duration lateBy,
        double leavingPerHour,
        double stopPerHour,
        Duration stop,
        double stopNow,
        double helping,
        double nearest,
        double attendance,
        Duration lateness,
        double sharedDrift,
        double reverting,
        double ownDrift,
        double rowSpread,
        double flowerSpread,
        double loss,
        double slowStart) {

    /** Those that are used. */
    public static final Assumptions OURS = new Assumptions(
            30,
            0.25,
            1.5,
            8,
            20,
            4,
            16,
            1,
            Duration.ofMinutes(60),
            0.5,
            1,
            Duration.ofMinutes(15),
            0.1,
            Duration.ofMinutes(45),
            0.025,
            0.025,
            Duration.ofMinutes(20),
            0.02,
            0.75,
            0.75,
            0.85,
            Duration.ofMinutes(15),
            0.06,
            1.3,
            0.1,
            0.15,
            0.6,
            0.03,
            0.4);
}
