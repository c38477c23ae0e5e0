package duskpeg.core.act;

import java.util.Locale;

/** A constant with a word for it in stored and published data: its name in lower case, with hyphens. */
public interface Worded {

    /** The constant's name. */
    String name();

    /** The word for it. */
    default String word() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
