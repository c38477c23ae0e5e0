package duskpeg.projections.board;

import duskpeg.core.crew.Role;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.day.DayEvent;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.forecast.Forecast;
import duskpeg.core.forecast.Forecast.Progress;
import duskpeg.core.forecast.Forecaster;
import duskpeg.core.forecast.Morning;
import duskpeg.core.moves.OnTheWay;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.window.Window;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Forecasts mornings. What was learnt for one version of a morning and one minute is kept for whoever asks next. */
@Component
public class Forecasts {

    private static final int EARLIER_MORNINGS = 5;

    /** So many rows' rounds are kept with what was learnt of them, and so many acts of earlier mornings. */
    private static final int KEPT_ROUNDS = 800;

    private static final int KEPT_ACTS = 40_000;

    /** Further from now than that there is nothing to forecast. */
    private static final long FURTHEST_DAYS = 366;

    private final Boards boards;
    private final Index index;
    private final Latest<Asked, Known> known = new Latest<>(KEPT_ROUNDS, Known::rounds);
    private final Latest<Read, Morning> earlier = new Latest<>(KEPT_ACTS, Forecasts::acts);

    Forecasts(Boards boards, Index index) {
        this.boards = boards;
        this.index = index;
    }

    private record Asked(FarmId farm, LocalDate morning, long version, int dayEntries, Instant minute) {}

    private record Read(FarmId farm, LocalDate morning, long version) {}

    /**
     * @param onTheWay who was told to go on somewhere else, and has not reported since
     * @param rounds how many rows there are
     */
    private record Known(Forecaster forecaster, Map<WorkerId, RowId> onTheWay, Forecast asThingsStand, int rounds) {

        Forecast forecast(Map<WorkerId, RowId> moved) {
            Map<WorkerId, RowId> all = new HashMap<>(onTheWay);
            all.putAll(moved);
            return forecaster.forecast(all);
        }
    }

    /** The forecast of a morning as things stand. */
    public Forecast forecast(FarmId farm, LocalDate morning, Instant now) {
        if (isTooFar(farm, morning, now)) {
            return new Forecast(morning, now, null, List.of(), List.of());
        }
        return known(farm, morning, now).asThingsStand();
    }

    /** What would come of it if these workers were in these rows from now on. */
    public Forecast forecast(FarmId farm, LocalDate morning, Instant now, Map<WorkerId, RowId> moved) {
        if (isTooFar(farm, morning, now)) {
            return forecast(farm, morning, now);
        }
        return known(farm, morning, now).forecast(moved);
    }

    /**
     * A forecast with how the work is expected to go on.
     *
     * @param progress of each time asked for; none where nothing can be forecast
     */
    record Outlook(Forecast forecast, List<Progress> progress) {}

    /** The forecast of a morning as things stand, and what is expected to be tied by some times. */
    Outlook outlook(FarmId farm, LocalDate morning, Instant now, List<Instant> times) {
        return isTooFar(farm, morning, now)
                ? new Outlook(forecast(farm, morning, now), List.of())
                : outlook(known(farm, morning, now), times);
    }

    /** What would have been said at a time, by what was heard until then. It is not kept. */
    Outlook outlookAsKnownAt(FarmId farm, LocalDate morning, Instant at, List<Instant> times) {
        return isTooFar(farm, morning, at)
                ? new Outlook(forecast(farm, morning, at), List.of())
                : outlook(learn(farm, morning, at.truncatedTo(ChronoUnit.MINUTES), at), times);
    }

    private static Outlook outlook(Known known, List<Instant> times) {
        return new Outlook(known.asThingsStand(), known.forecaster().progress(times, known.onTheWay()));
    }

    private boolean isTooFar(FarmId farm, LocalDate morning, Instant now) {
        LocalDate today = index.settings(farm).dateAt(now);
        return Math.abs(ChronoUnit.DAYS.between(today, morning)) > FURTHEST_DAYS;
    }

    private Known known(FarmId farm, LocalDate morning, Instant now) {
        Asked asked = new Asked(
                farm,
                morning,
                boards.version(farm, morning),
                index.dayEntries(farm),
                now.truncatedTo(ChronoUnit.MINUTES));
        synchronized (known) {
            Known before = known.get(asked);
            if (before != null) {
                return before;
            }
        }
        // Two who ask at once may both reckon it; they get the same.
        Known learnt = learn(farm, morning, asked.minute(), null);
        synchronized (known) {
            known.put(asked, learnt);
        }
        return learnt;
    }

    /**
     * @param heardBy of reports heard later nothing is known; null where none are left out
     */
    private Known learn(FarmId farm, LocalDate morning, Instant now, @Nullable Instant heardBy) {
        FarmSettings settings = index.settings(farm);
        Morning reported = boards.morning(farm, morning, heardBy);
        Forecaster forecaster = Forecaster.of(
                reported,
                boards.morningsBefore(farm, morning, EARLIER_MORNINGS).stream()
                        .map(date -> heardBy == null ? earlier(farm, date) : boards.morning(farm, date, heardBy))
                        .toList(),
                crew(farm, morning),
                index.closedUntil(farm, now),
                settings,
                Duration.between(start(farm, morning), settings.targetOn(morning)),
                now,
                morning.toEpochDay());
        Map<WorkerId, RowId> onTheWay = OnTheWay.to(index.sent(farm, morning), reported, now);
        return new Known(
                forecaster,
                onTheWay,
                forecaster.forecast(onTheWay),
                reported.rounds().size());
    }

    private static int acts(Morning morning) {
        return morning.rounds().stream().mapToInt(round -> round.acts().size()).sum();
    }

    private Morning earlier(FarmId farm, LocalDate date) {
        Read read = new Read(farm, date, boards.version(farm, date));
        synchronized (earlier) {
            Morning before = earlier.get(read);
            if (before != null) {
                return before;
            }
        }
        Morning morning = boards.morning(farm, date);
        synchronized (earlier) {
            earlier.put(read, morning);
        }
        return morning;
    }

    /** Who is expected on that morning: who is rostered; where nobody is, the whole crew. */
    public List<WorkerId> crew(FarmId farm, LocalDate morning) {
        return index.roster(farm, morning)
                .map(DayEvent.Rostered::workers)
                .map(rostered -> rostered.stream()
                        .filter(index.workers(farm).keySet()::contains)
                        .toList())
                .orElseGet(() -> index.workers(farm, Role.CREW));
    }

    /**
     * When work is to begin: as rostered; where that does not say, when all are open, where that leaves a morning to work
     * in.
     */
    public Instant start(FarmId farm, LocalDate morning) {
        FarmSettings settings = index.settings(farm);
        return index.roster(farm, morning)
                .flatMap(roster -> Optional.ofNullable(roster.start()))
                .map(start -> morning.atTime(start).atZone(settings.zone()).toInstant())
                .filter(start -> start.isBefore(settings.targetOn(morning)))
                .orElseGet(() -> settings.targetOn(morning).minus(startBeforeTarget(farm, settings, morning)));
    }

    /** What would come of it if so many more were pegged, in the rows in which some are. */
    public Forecast withMore(FarmId farm, LocalDate morning, Instant now, int flowers) {
        Known known = known(farm, morning, now);
        return known.forecaster().withMore(flowers).forecast(known.onTheWay());
    }

    private Duration startBeforeTarget(FarmId farm, FarmSettings settings, LocalDate morning) {
        Window window = Window.of(
                settings,
                morning,
                index.plantings(farm).stream().map(Planting::species).toList());
        return window.allOpen()
                .map(open -> Duration.between(open, window.target()))
                .filter(span -> span.toHours() >= 1)
                .orElse(Forecaster.START_BEFORE_TARGET);
    }
}
