package duskpeg.core.act;

import duskpeg.core.crew.WorkerId;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/** Something that was entered on a page, and not reported from the field. */
public interface OfficeEvent extends FieldEvent {

    /** Who entered it; null where nobody was asked. */
    @Nullable
    WorkerId by();

    /** When it was entered. */
    Instant at();

    /** Whether only a supervisor may enter it; else anybody of the farm may. */
    default boolean needsSupervisor() {
        return true;
    }
}
