package duskpeg.core.act;

import duskpeg.core.farm.FarmId;

/**
 * One message from a worker, by the id its carrier gave it. The words themselves are kept beside the log.
 *
 * @param farm the farm it was sent to
 * @param value one to 64 letters, digits, hyphens or underscores
 */
public record TextId(FarmId farm, String value) implements Subject {

    /**
     * @throws IllegalArgumentException if the value has another form
     */
    public TextId {
        if (!value.matches("[A-Za-z0-9_-]{1,64}")) {
            throw new IllegalArgumentException("not a text id: " + value);
        }
    }

    @Override
    public String toString() {
        return farm + "/text/" + value;
    }

    /**
     * Reads the text form back.
     *
     * @throws IllegalArgumentException if it is not the text form of a text id
     */
    public static TextId parse(String text) {
        String[] part = text.split("/", -1);
        if (part.length != 3 || !part[1].equals("text")) {
            throw new IllegalArgumentException("not a text id: " + text);
        }
        return new TextId(new FarmId(part[0]), part[2]);
    }
}
