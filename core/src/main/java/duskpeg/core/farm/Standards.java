package duskpeg.core.farm;

import org.jspecify.annotations.Nullable;

/**
 * Which published figures a farm goes by: rows of {@link duskpeg.core.published.Table}s, by their ids. Null where it goes
 * by none.
 *
 * @param germination a row of the least germination
 * @param moisture a row of the most moisture
 * @param isolation a row of the isolation distances
 * @param isolationMetres what that row said when it was chosen, or what the farm had put in its place
 * @param offTypes a row of the most off-types
 */
public record Standards(
        @Nullable String germination,
        @Nullable String moisture,
        @Nullable String isolation,
        @Nullable Integer isolationMetres,
        @Nullable String offTypes) {

    /** None. */
    public static final Standards NONE = new Standards(null, null, null, null, null);
}
