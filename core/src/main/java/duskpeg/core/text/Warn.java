package duskpeg.core.text;

import duskpeg.core.day.Caution;
import duskpeg.core.farm.FarmId;
import duskpeg.core.watch.Alert;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;

/**
 * Warn people by a text, each once of each thing. Sent by whoever looks at the clock, never by an event's handler: when
 * a projection is rebuilt nobody is warned again. Its result is how many texts were posted.
 */
public sealed interface Warn {

    /** The farm. */
    FarmId farm();

    /** When it is said. */
    Instant at();

    /**
     * The supervisors, of what is wrong with a morning.
     *
     * @param morning the opening morning
     */
    record Supervisors(FarmId farm, LocalDate morning, List<Alert> alerts, Instant at) implements Warn {
        public Supervisors {
            alerts = List.copyOf(alerts);
        }
    }

    /** Everybody, of something that can hurt. */
    record Everybody(FarmId farm, Caution caution, Instant at) implements Warn {}
}
