package duskpeg.projections.plan;

import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.forecast.Forecast;
import duskpeg.core.forecast.Morning;
import duskpeg.core.plan.Plan;
import duskpeg.core.plan.Room;
import duskpeg.projections.board.Boards;
import duskpeg.projections.board.Forecasts;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Reads plans. */
@Component
public class Plans {

    private final Boards boards;
    private final Forecasts forecasts;
    private final Index index;

    Plans(Boards boards, Forecasts forecasts, Index index) {
        this.boards = boards;
        this.forecasts = forecasts;
        this.index = index;
    }

    /** What is pegged for a morning. */
    public Plan plan(FarmId farm, LocalDate morning) {
        Morning known = boards.morning(farm, morning);
        FarmSettings settings = index.settings(farm);
        return Plan.of(
                morning,
                known.rounds(),
                index.plantings(farm),
                settings,
                index.uses(
                        farm,
                        known.rounds().stream()
                                .flatMap(round -> round.ties().stream())
                                .toList()));
    }

    /**
     * What the crew can do.
     *
     * @param hours hours of work for one person, all rows together; null where the pace of nobody is known
     * @param flowersAnHour what one of the crew does in an hour, on average
     * @param finish when all is tied; null where nothing is pegged
     * @param room how many more females may be pegged; null where nothing is
     */
    record Work(
            @Nullable Double hours,
            double flowersAnHour,
            Forecast.@Nullable Finish finish,
            @Nullable Integer room) {}

    Work work(FarmId farm, LocalDate morning, Instant now) {
        Forecast forecast = forecasts.forecast(farm, morning, now);
        Forecast.Finish finish = forecast.whole();
        double pace = forecast.hands().stream()
                .mapToDouble(Forecast.Hand::flowersAnHour)
                .average()
                .orElse(0);
        double work = forecast.rows().stream()
                .mapToDouble(row -> row.units() * row.ease())
                .sum();
        return new Work(
                pace > 0 ? work / pace : null,
                pace,
                finish,
                finish == null
                        ? null
                        : Room.of(more -> chance(more == 0 ? forecast : forecasts.withMore(farm, morning, now, more))));
    }

    private static double chance(Forecast forecast) {
        Forecast.Finish finish = forecast.whole();
        return finish == null ? 0 : finish.byLimit();
    }

    /** Females for whose males there are enough, in all cultivars together, besides those that are pegged. */
    static int roomOfMales(List<Plan.OfCultivar> cultivars) {
        return cultivars.stream().mapToInt(one -> one.spare() / 2).sum();
    }
}
