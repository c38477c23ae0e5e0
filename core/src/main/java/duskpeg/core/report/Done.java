package duskpeg.core.report;

import duskpeg.core.act.Deed;
import duskpeg.core.farm.FarmSettings;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import org.jspecify.annotations.Nullable;

/**
 * When something was done.
 *
 * @param said as the worker said it
 * @param at the moment that is, as near as it is known; never after it was heard
 */
public record Done(When said, Instant at) {

    /** How far a worker's watch may be ahead. */
    private static final Duration CLOCKS_APART = Duration.ofMinutes(30);

    /**
     * Which moment a worker means.
     *
     * <p>A clock time is the farm's. One that is later than the hour at which it is heard is of the day before:
     * {@code at 1815}, texted at 06:10, is last evening. One that is later by a few minutes only is of a watch that is
     * fast: it is taken for the moment it is heard. A time that the clock shows twice, because it is put back, is
     * the first of the two; a time that it leaves out, because it is put forward, is as much later as it is put
     * forward. Time ago is time that passed, whatever the clock did.
     *
     * <p>Yesterday without a clock time is yesterday's noon for pegging, which is work of the evening, and yesterday's
     * cut-off for everything else: the report says the day, and a report that says no hour is not asked about its hour.
     *
     * @param said as the worker said it
     * @param what what she says was done
     * @param heard when she was heard
     * @param settings her farm's hours
     */
    public static Done of(When said, Statement what, Instant heard, FarmSettings settings) {
        Instant at = at(said, what, heard, settings);
        // A fast watch; or, where the clock leaves out a whole day, yesterday's hours that are still to come.
        return new Done(said, at.isAfter(heard) ? heard : at);
    }

    private static Instant at(When said, Statement what, Instant heard, FarmSettings settings) {
        LocalDate today = settings.dateAt(heard);
        if (said instanceof When.At at) {
            Instant onThisDay = on(today, at.clock(), settings);
            return onThisDay.isAfter(heard.plus(CLOCKS_APART))
                    ? on(today.minusDays(1), at.clock(), settings)
                    : onThisDay;
        }
        if (said instanceof When.Yesterday yesterday) {
            return on(today.minusDays(1), clock(yesterday.clock(), what, settings), settings);
        }
        return said instanceof When.Ago ago ? heard.minus(ago.time()) : heard;
    }

    private static LocalTime clock(@Nullable LocalTime said, Statement what, FarmSettings settings) {
        if (said != null) {
            return said;
        }
        Statement work = what instanceof Statement.Correction correction ? correction.right() : what;
        boolean pegging =
                work instanceof Statement.OnFlowers flowers && flowers.deeds().contains(Deed.PEGGED);
        return pegging ? LocalTime.NOON : settings.limit();
    }

    private static Instant on(LocalDate day, LocalTime clock, FarmSettings settings) {
        return day.atTime(clock).atZone(settings.zone()).toInstant();
    }
}
