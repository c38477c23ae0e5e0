package duskpeg.core.window;

import duskpeg.core.planting.Species;
import java.time.Duration;
import org.jspecify.annotations.Nullable;

/**
 * What is known of when the flowers of a species open, and what is expected of it. Flowers follow light and warmth, so
 * a clock hour published for one place is not carried over to another one unless it can be tied to the sun there;
 * what is expected otherwise is common practice, no source: around sunrise. Near the equator
 * the sun rises at nearly the same hour all year, so there, and only there, a clock hour is as good as an hour before
 * sunrise; it widens the range of moschata.
 *
 * @param about when the females open, from sunrise; negative before it
 * @param earliest how early that may be, from sunrise
 * @param latest how late that may be, from sunrise
 * @param malesBefore how long the males open before the females; null where no source says so
 * @param published what was published, with its place; empty where nothing was found
 * @param source where; empty where nothing was found
 */
public record Anthesis(
        Duration about,
        Duration earliest,
        Duration latest,
        @Nullable Duration malesBefore,
        String published,
        String source) {

    private static final Duration SUNRISE = Duration.ZERO;
    private static final Duration HALF_AN_HOUR = Duration.ofMinutes(30);

    /** Of that species. */
    public static Anthesis of(Species species) {
        return switch (species) {
            case PEPO ->
                new Anthesis(
                        SUNRISE,
                        HALF_AN_HOUR.negated(),
                        HALF_AN_HOUR,
                        HALF_AN_HOUR,
                        "open for 6 h, from 06:00 to 12:00 by the clock of one place; males open and close half an hour"
                                + " before females",
                        "Nepi & Pacini 1993, Annals of Botany 72:527-536");
            case MAXIMA ->
                new Anthesis(
                        SUNRISE,
                        HALF_AN_HOUR.negated(),
                        Duration.ofHours(1),
                        null,
                        "opened at 06:35 and wilted at 13:52 on average, by the clock of one place",
                        "Nicodemo et al. 2007, Acta Sci. Agron. 29(5)");
            case MOSCHATA ->
                new Anthesis(
                        HALF_AN_HOUR.negated(),
                        Duration.ofMinutes(-210),
                        SUNRISE,
                        null,
                        "both sexes begin to open between 03:30 and 04:00 in Nigeria, where the sun rises two to three and"
                                + " a half hours later all year",
                        "Turkish Journal of Botany 31(5), 2007");
            case ARGYROSPERMA, FICIFOLIA ->
                new Anthesis(SUNRISE, Duration.ofHours(-1), Duration.ofHours(1), null, "", "");
        };
    }
}
