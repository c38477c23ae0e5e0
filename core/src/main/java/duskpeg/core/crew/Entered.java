package duskpeg.core.crew;

import duskpeg.core.act.TextId;
import org.jspecify.annotations.Nullable;

/**
 * Who entered a change of custody, and how.
 *
 * @param by who
 * @param text the message it came in; null where it was entered on a page
 * @param seal hex SHA-256 of that message's salt and words ({@link duskpeg.core.act.Seal}); null where there is none
 */
public record Entered(
        WorkerId by, @Nullable TextId text, @Nullable String seal) {

    /** On a page. */
    public static Entered onPage(WorkerId by) {
        return new Entered(by, null, null);
    }
}
