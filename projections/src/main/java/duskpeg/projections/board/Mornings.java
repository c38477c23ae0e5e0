package duskpeg.projections.board;

import duskpeg.core.act.Deed;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.forecast.Morning;
import duskpeg.core.round.Round;
import duskpeg.core.round.Tally;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** The mornings of which anything was reported. */
@Component
class Mornings {

    private static final int ON_A_PAGE = 28;

    private final Boards boards;
    private final Index index;

    Mornings(Boards boards, Index index) {
        this.boards = boards;
        this.index = index;
    }

    /**
     * One morning in numbers.
     *
     * @param date the opening morning
     * @param pegged females pegged
     * @param tied flowers tied
     * @param lost flowers lost
     * @param left flowers never reported tied or lost
     * @param lastTied when the last was tied, farm time; null where none was
     * @param late flowers tied after the limit
     */
    record Past(
            LocalDate date,
            int pegged,
            int tied,
            int lost,
            int left,
            @Nullable String lastTied,
            int late) {}

    /**
     * Some mornings, latest first.
     *
     * @param older before which date there are more; null where there are none
     */
    record Some(List<Past> mornings, @Nullable LocalDate older) {

        Some {
            mornings = List.copyOf(mornings);
        }
    }

    /** The latest mornings before that date. */
    Some before(FarmId farm, LocalDate date) {
        FarmSettings settings = index.settings(farm);
        List<LocalDate> dates = boards.morningsBefore(farm, date, ON_A_PAGE + 1);
        List<LocalDate> shown = dates.subList(0, Math.min(ON_A_PAGE, dates.size()));
        return new Some(
                shown.stream()
                        .map(one -> past(boards.morning(farm, one), settings))
                        .toList(),
                dates.size() > ON_A_PAGE ? shown.get(shown.size() - 1) : null);
    }

    /** The latest morning before that one. */
    Optional<LocalDate> lastBefore(FarmId farm, LocalDate morning) {
        return boards.morningsBefore(farm, morning, 1).stream().findFirst();
    }

    /** The first morning after that one. */
    Optional<LocalDate> firstAfter(FarmId farm, LocalDate morning) {
        return boards.morningAfter(farm, morning);
    }

    private static Past past(Morning morning, FarmSettings settings) {
        List<Tally> tallies = morning.rounds().stream().map(Round::tally).toList();
        Instant limit = settings.limitOn(morning.date());
        return new Past(
                morning.date(),
                tallies.stream().mapToInt(Tally::pegged).sum(),
                tallies.stream().mapToInt(Tally::tied).sum(),
                tallies.stream().mapToInt(Tally::lost).sum(),
                tallies.stream().mapToInt(Tally::left).sum(),
                morning.rounds().stream()
                        .flatMap(round -> round.acts().stream())
                        .filter(act -> act.deed() == Deed.TIED)
                        .map(act -> act.told().done())
                        .max(Comparator.naturalOrder())
                        .map(done -> String.format(Locale.ROOT, "%tH:%<tM", done.atZone(settings.zone())))
                        .orElse(null),
                morning.rounds().stream()
                        .flatMap(round -> round.acts().stream())
                        .filter(act ->
                                act.deed() == Deed.TIED && act.told().done().isAfter(limit))
                        .mapToInt(act -> act.count())
                        .sum());
    }
}
