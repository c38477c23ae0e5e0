package duskpeg.core.window;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What a morning's temperatures warn of. They move no hour: how far warmth moves an opening was found in no source, and
 * the two bounds are ours, no source.
 */
public enum Warmth {
    COOL("Cool morning: flowers may open later (common practice, no source). Look at the flower."),
    HOT("Hot morning: pollen may run out sooner. In C. pepo its viability falls by about 20% while the flower is open,"
            + " and faster after, as the grain dries (Nepi & Pacini 1993, Annals of Botany 72:527-536); that heat"
            + " hastens it is common practice, no source. Check that the anther sheds.");

    /** Under this temperature at dawn, in degrees Celsius, a morning is called cool. */
    public static final double COOL_UNDER = 12;

    /** Over this temperature before the limit, in degrees Celsius, a morning is called hot. */
    public static final double HOT_OVER = 30;

    private final String warning;

    Warmth(String warning) {
        this.warning = warning;
    }

    /** What to tell the crew. */
    public String warning() {
        return warning;
    }

    /**
     * What these temperatures warn of.
     *
     * @param atDawn degrees Celsius; null where not known
     * @param highest the highest before the limit, degrees Celsius; null where not known
     */
    public static List<Warmth> of(@Nullable Double atDawn, @Nullable Double highest) {
        List<Warmth> warnings = new ArrayList<>();
        if (atDawn != null && atDawn < COOL_UNDER) {
            warnings.add(COOL);
        }
        if (highest != null && highest > HOT_OVER) {
            warnings.add(HOT);
        }
        return List.copyOf(warnings);
    }
}
