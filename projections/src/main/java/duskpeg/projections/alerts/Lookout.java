package duskpeg.projections.alerts;

import duskpeg.core.day.Caution;
import duskpeg.core.farm.FarmId;
import duskpeg.core.farm.FarmSettings;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.forecast.Morning;
import duskpeg.core.text.Warn;
import duskpeg.core.watch.Alert;
import duskpeg.core.watch.Watch;
import duskpeg.projections.board.Boards;
import duskpeg.projections.board.Forecasts;
import duskpeg.projections.plan.Plans;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.springframework.stereotype.Component;

/** Looks whether somebody must be told of something, and tells. */
@Component
public class Lookout {

    private final Boards boards;
    private final Forecasts forecasts;
    private final Plans plans;
    private final Index index;
    private final CommandGateway commands;

    Lookout(Boards boards, Forecasts forecasts, Plans plans, Index index, CommandGateway commands) {
        this.boards = boards;
        this.forecasts = forecasts;
        this.plans = plans;
        this.index = index;
        this.commands = commands;
    }

    /** What is to be told of the morning of that day. */
    List<Alert> ofMorning(FarmId farm, LocalDate day, Instant now) {
        FarmSettings settings = index.settings(farm);
        Morning morning = boards.morning(farm, day);
        boolean anyLeft =
                morning.rounds().stream().anyMatch(round -> round.tally().left() > 0);
        return anyLeft
                ? Watch.morning(morning, forecasts.forecast(farm, day, now), settings, forecasts.start(farm, day), now)
                : List.of();
    }

    /** What is to be told in the evening of the morning after it. */
    List<Alert> ofEvening(FarmId farm, LocalDate morning, Instant now) {
        return Watch.evening(plans.plan(farm, morning), boards.morning(farm, morning), now);
    }

    /** Tells whoever must be told of something and was not yet. */
    public void look(FarmId farm, Instant now) {
        FarmSettings settings = index.settings(farm);
        LocalDate today = settings.dateAt(now);
        warn(farm, today, ofMorning(farm, today, now), now);
        if (settings.afternoonAt(now)) {
            LocalDate tomorrow = today.plusDays(1);
            warn(farm, tomorrow, ofEvening(farm, tomorrow, now), now);
        }
        for (Caution caution : index.cautions(farm, now)) {
            commands.sendAndWait(new Warn.Everybody(farm, caution, now));
        }
    }

    private void warn(FarmId farm, LocalDate morning, List<Alert> alerts, Instant now) {
        if (!alerts.isEmpty()) {
            commands.sendAndWait(new Warn.Supervisors(farm, morning, alerts, now));
        }
    }
}
