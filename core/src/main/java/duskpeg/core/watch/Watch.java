package duskpeg.core.watch;

import duskpeg.core.act.Act;
import duskpeg.core.act.Deed;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.forecast.Forecast;
import duskpeg.core.forecast.Forecast.RowFinish;
import duskpeg.core.forecast.Morning;
import duskpeg.core.plan.Plan;
import duskpeg.core.round.Round;
import duskpeg.core.watch.Alert.Kind;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * Looks at a morning, or at the evening before one, and says what somebody should be told of. All spans and chances are
 * ours, no source.
 */
public final class Watch {

    /** Nobody need worry sooner after the start than that. */
    public static final Duration AFTER_START = Duration.ofMinutes(30);

    /** A row in which the work was begun and that nobody was heard from for so long is silent. */
    public static final Duration SILENT = Duration.ofMinutes(45);

    /** A row with a lower chance of the limit is at risk. */
    public static final double AT_RISK = 0.75;

    /** How long after the limit open flowers are told of. */
    public static final Duration AFTER_LIMIT = Duration.ofHours(2);

    /** The evening's pegging is taken to be over when nothing was pegged for so long. */
    public static final Duration PEGGED = Duration.ofMinutes(30);

    private Watch() {}

    /**
     * What to tell of a morning.
     *
     * @param forecast its forecast at {@code now}
     * @param start when the work begins
     */
    public static List<Alert> morning(
            Morning morning, Forecast forecast, FarmSettings settings, Instant start, Instant now) {
        Instant limit = settings.limitOn(morning.date());
        List<Round> open = morning.rounds().stream()
                .filter(round -> !round.isFinished() && round.tally().left() > 0)
                .toList();
        int left = open.stream().mapToInt(round -> round.tally().left()).sum();
        if (left == 0 || now.isBefore(start.plus(AFTER_START)) || !now.isBefore(limit.plus(AFTER_LIMIT))) {
            return List.of();
        }
        if (!now.isBefore(limit)) {
            return List.of(new Alert(Kind.CUT_OFF_PASSED, "", Integer.toString(left)));
        }
        if (morning.rounds().stream().allMatch(round -> lastHeard(round).isEmpty())) {
            return List.of(new Alert(Kind.NOBODY_STARTED, "", Integer.toString(left)));
        }
        List<Alert> alerts = new ArrayList<>();
        for (Round round : open) {
            String row = round.id().row().label();
            forecast.row(round.id().row())
                    .map(RowFinish::finish)
                    .filter(finish -> finish.byLimit() < AT_RISK)
                    .ifPresent(finish -> alerts.add(
                            new Alert(Kind.ROW_AT_RISK, row, row + " (" + Math.round(100 * finish.byLimit()) + "%)")));
            lastHeard(round)
                    .map(heard -> Duration.between(heard, now))
                    .filter(silent -> silent.compareTo(SILENT) >= 0)
                    .ifPresent(silent ->
                            alerts.add(new Alert(Kind.ROW_SILENT, row, row + " (" + silent.toMinutes() + " min)")));
        }
        return alerts;
    }

    /** What to tell in the evening of what is pegged for the next morning. */
    public static List<Alert> evening(Plan plan, Morning morning, Instant now) {
        Optional<Instant> pegged = morning.rounds().stream()
                .flatMap(round -> round.acts().stream())
                .filter(act -> act.deed() == Deed.PEGGED)
                .map(act -> act.told().heard())
                .max(Comparator.naturalOrder());
        if (pegged.isEmpty() || now.isBefore(pegged.get().plus(PEGGED))) {
            return List.of();
        }
        return plan.cultivars().stream()
                .filter(cultivar -> cultivar.missing() > 0)
                .map(cultivar -> new Alert(
                        Kind.MALES_SHORT, cultivar.cultivar(), cultivar.cultivar() + " " + cultivar.missing()))
                .toList();
    }

    /** When something of the morning's work was last heard of that row. */
    private static Optional<Instant> lastHeard(Round round) {
        return Stream.concat(round.acts().stream().filter(act -> act.deed().ofTheVisit()), round.finished().stream())
                .map(Act::told)
                .map(told -> told.heard())
                .max(Comparator.naturalOrder());
    }
}
