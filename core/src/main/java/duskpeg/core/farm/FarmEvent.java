package duskpeg.core.farm;

import duskpeg.core.act.FieldEvent;
import duskpeg.core.act.OfficeEvent;
import duskpeg.core.act.Subject;
import duskpeg.core.crew.Role;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.maturity.DayTemperature;
import duskpeg.core.planting.Neighbour;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.published.Change;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** What a farm set up before the first flower: itself, its plantings and its crew; and who is erased since. */
public sealed interface FarmEvent extends FieldEvent {

    /** When it was entered. */
    Instant at();

    /** The farm was entered. */
    record Opened(FarmId farm, FarmSettings settings, Instant at) implements FarmEvent {
        @Override
        public Subject subject() {
            return farm;
        }
    }

    /**
     * A planting and its rows were laid out.
     *
     * @param by who entered it; null where it was set up with the farm
     */
    record LaidOut(FarmId farm, Planting planting, @Nullable WorkerId by, Instant at)
            implements FarmEvent, OfficeEvent {

        /** With the farm's first set-up. */
        public LaidOut(FarmId farm, Planting planting, Instant at) {
            this(farm, planting, null, at);
        }

        @Override
        public Subject subject() {
            return farm;
        }
    }

    /**
     * How far it is from a planting to something that may cross with it; it stands in the place of what was measured
     * before.
     *
     * @param planting the planting, by name
     * @param by who entered it; null where it was set up with the farm
     */
    record Measured(
            FarmId farm,
            String planting,
            Neighbour neighbour,
            @Nullable WorkerId by,
            Instant at) implements FarmEvent, OfficeEvent {
        @Override
        public Subject subject() {
            return farm;
        }
    }

    /** It was said which published figures the farm goes by; it stands in the place of what was said before. */
    record StandardsChosen(FarmId farm, Standards standards, WorkerId by, Instant at)
            implements FarmEvent, OfficeEvent {
        @Override
        public Subject subject() {
            return farm;
        }
    }

    /** The farm goes by another figure than the one that was published. */
    record FigureChanged(FarmId farm, Change change, Instant at) implements FarmEvent, OfficeEvent {
        @Override
        public WorkerId by() {
            return change.by();
        }

        @Override
        public Subject subject() {
            return farm;
        }
    }

    /**
     * All that is personal of a worker was erased beside the log. She does no more on the farm, and nobody gets her
     * pseudonym again.
     */
    record Erased(WorkerId worker, WorkerId by, Instant at) implements FarmEvent, OfficeEvent {
        @Override
        public Subject subject() {
            return worker;
        }
    }

    /**
     * Temperatures of some days were entered; a day that was entered before is put right by it.
     *
     * @param days each once
     */
    record TemperaturesEntered(FarmId farm, List<DayTemperature> days, WorkerId by, Instant at)
            implements FarmEvent, OfficeEvent {

        public TemperaturesEntered {
            days = List.copyOf(days);
        }

        @Override
        public Subject subject() {
            return farm;
        }
    }

    /**
     * Rows were looked over for fruit without a tie, and there was nothing to cut: what a report can't say, since it has
     * no counts of nothing.
     *
     * @param on the day
     */
    record LookedOver(FarmId farm, List<RowId> rows, LocalDate on, WorkerId by, Instant at)
            implements FarmEvent, OfficeEvent {

        public LookedOver {
            rows = List.copyOf(rows);
        }

        @Override
        public Subject subject() {
            return farm;
        }

        @Override
        public boolean needsSupervisor() {
            return false;
        }
    }

    /** A worker joined. Name and number are not part of this: see {@link duskpeg.core.crew.People}. */
    record Enrolled(WorkerId worker, Role role, Instant at) implements FarmEvent {
        @Override
        public Subject subject() {
            return worker;
        }
    }
}
