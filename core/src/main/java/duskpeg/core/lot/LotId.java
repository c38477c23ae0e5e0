package duskpeg.core.lot;

import duskpeg.core.act.Subject;
import duskpeg.core.farm.FarmId;
import java.util.regex.Pattern;

/**
 * A seed lot, by the name the farm gave it.
 *
 * @param farm the farm
 * @param name 1 to 20 capital letters, digits and hyphens; it begins with a letter or a digit
 */
public record LotId(FarmId farm, String name) implements Subject {

    private static final Pattern NAME = Pattern.compile("[A-Z0-9][A-Z0-9-]{0,19}");

    /**
     * @throws IllegalArgumentException if the name is no such name
     */
    public LotId {
        if (!isName(name)) {
            throw new IllegalArgumentException("not a lot's name: " + name);
        }
    }

    /** Whether a lot can be called that. */
    public static boolean isName(String name) {
        return NAME.matcher(name).matches();
    }

    @Override
    public String toString() {
        return farm + "/lot/" + name;
    }
}
