package duskpeg.core.farm;

import duskpeg.core.act.Subject;

/**
 * A farm, the first part of every id.
 *
 * @param value one to 32 lower-case letters, digits or hyphens
 */
public record FarmId(String value) implements Subject {

    /**
     * @throws IllegalArgumentException if the value has another form
     */
    public FarmId {
        if (!value.matches("[a-z0-9-]{1,32}")) {
            throw new IllegalArgumentException("not a farm id: " + value);
        }
    }

    @Override
    public FarmId farm() {
        return this;
    }

    @Override
    public String toString() {
        return value;
    }
}
