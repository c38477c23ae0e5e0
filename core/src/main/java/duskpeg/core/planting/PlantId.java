package duskpeg.core.planting;

import duskpeg.core.act.Subject;

/**
 * A plant of a row, by the number on its stake: {@code 12.7} is row 12, plant 7.
 *
 * @param row the row
 * @param number 1 to 999, counted along the row
 */
public record PlantId(RowId row, int number) {

    /** The highest number a plant can have. */
    public static final int MOST = 999;

    private static final String PART = "/plant/";

    /**
     * @throws IllegalArgumentException if the number is out of its range
     */
    public PlantId {
        if (number < 1 || number > MOST) {
            throw new IllegalArgumentException("not a plant: " + number);
        }
    }

    /** Row and number with a dot between, as it is texted. */
    public String label() {
        return row.label() + "." + number;
    }

    /** The form in which it is stored. */
    @Override
    public String toString() {
        return row + PART + number;
    }

    /**
     * Reads the stored form back.
     *
     * @throws IllegalArgumentException if it is another
     */
    public static PlantId parse(String text) {
        int part = text.indexOf(PART);
        if (part >= 0
                && Subject.parse(text.substring(0, part)) instanceof RowId row
                && text.substring(part + PART.length()).matches("[1-9][0-9]{0,2}")) {
            return new PlantId(row, Integer.parseInt(text.substring(part + PART.length())));
        }
        throw new IllegalArgumentException("not a plant: " + text);
    }
}
