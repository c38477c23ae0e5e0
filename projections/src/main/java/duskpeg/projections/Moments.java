package duskpeg.projections;

import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.util.List;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/** The moments that a page's slider goes through. */
public final class Moments {

    private Moments() {}

    /**
     * Those at which something became known, and the one that is looked at, which may lie between them.
     *
     * @param known in order
     * @param at null where the page is as of now
     */
    public static List<OffsetDateTime> of(List<Instant> known, @Nullable Instant at, ZoneId zone) {
        return Stream.concat(known.stream(), Stream.ofNullable(at))
                .distinct()
                .sorted()
                .map(one -> one.atZone(zone).toOffsetDateTime())
                .toList();
    }
}
