package duskpeg.projections.auditor;

import duskpeg.core.act.Worded;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * A link for an auditor. Whoever has it can look until it ends: it is the only key.
 *
 * @param id its number here
 * @param farm the farm
 * @param scope what kind of thing it opens
 * @param about which: a tie number, a lot's name or a year
 * @param whom for whom it was made, in a few words
 * @param by the supervisor who made it
 * @param made when
 * @param expires from when on it opens nothing
 * @param withdrawn when it was withdrawn; null where it was not
 */
record Link(
        long id,
        FarmId farm,
        Scope scope,
        String about,
        String whom,
        WorkerId by,
        Instant made,
        Instant expires,
        @Nullable Instant withdrawn) {

    /** What a link can open. The names are stored: they are never changed. */
    enum Scope implements Worded {
        FRUIT,
        LOT,
        SEASON
    }

    /** What came of a look. The names are stored: they are never changed. */
    enum Outcome implements Worded {
        SHOWN,
        /** It is of the farm, or may be, and the link is not for it. */
        OUTSIDE,
        EXPIRED,
        WITHDRAWN
    }

    /** What comes of a look at that time at something it is for. */
    Outcome at(Instant now) {
        if (withdrawn != null) {
            return Outcome.WITHDRAWN;
        }
        return now.isBefore(expires) ? Outcome.SHOWN : Outcome.EXPIRED;
    }
}
