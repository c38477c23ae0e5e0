package duskpeg.core.crew;

import duskpeg.core.act.Subject;
import duskpeg.core.farm.FarmId;

/**
 * A worker by pseudonym. Names and phone numbers are kept beside the log, in {@link People}.
 *
 * @param farm the farm
 * @param pseudonym one to 16 lower-case letters or digits that say nothing of the person
 */
public record WorkerId(FarmId farm, String pseudonym) implements Subject {

    /**
     * @throws IllegalArgumentException if the pseudonym has another form
     */
    public WorkerId {
        if (!isPseudonym(pseudonym)) {
            throw new IllegalArgumentException("not a pseudonym: " + pseudonym);
        }
    }

    /** Whether this has the form of a pseudonym. */
    public static boolean isPseudonym(String text) {
        return text.matches("[a-z0-9]{1,16}");
    }

    @Override
    public String toString() {
        return farm + "/worker/" + pseudonym;
    }
}
