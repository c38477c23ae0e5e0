package duskpeg.core.day;

import duskpeg.core.act.OfficeEvent;
import duskpeg.core.act.Subject;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.planting.RowId;
import java.time.Instant;
import java.time.LocalTime;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * What a supervisor entered for a day.
 *
 * <p>Stored forever: fields are only ever added, each with a new revision.
 */
public sealed interface DayEvent extends OfficeEvent {

    /** The day. A caution that lasts longer is of the day it begins. */
    DayId day();

    @Override
    default Subject subject() {
        return day();
    }

    /**
     * Who comes to work on that morning; it stands in the place of what was rostered for that day before.
     *
     * @param start when work is to begin, farm time; null where that is left to the flowers
     * @param crew who comes, each once
     */
    record Rostered(DayId day, @Nullable LocalTime start, List<Duty> crew, WorkerId by, Instant at)
            implements DayEvent {

        public Rostered {
            crew = List.copyOf(crew);
        }

        /** Who comes. */
        public List<WorkerId> workers() {
            return crew.stream().map(Duty::worker).toList();
        }

        /** What is rostered for her; empty where she does not come. */
        public Optional<Duty> dutyOf(WorkerId worker) {
            return crew.stream().filter(duty -> duty.worker().equals(worker)).findFirst();
        }
    }

    /** Something to beware of. */
    record CautionEntered(DayId day, Caution caution, WorkerId by, Instant at) implements DayEvent {}

    /**
     * A worker was told where to go on.
     *
     * @param row where
     */
    record Sent(DayId day, WorkerId worker, RowId row, Instant at) implements DayEvent {

        @Override
        public @Nullable WorkerId by() {
            return null;
        }
    }

    /** It was entered wrongly, or does not hold any more. */
    record CautionWithdrawn(DayId day, Caution caution, WorkerId by, Instant at) implements DayEvent {}
}
