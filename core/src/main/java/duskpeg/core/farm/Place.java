package duskpeg.core.farm;

/**
 * Where a farm is, for its sun.
 *
 * @param latitude degrees north, -90 to 90, WGS 84
 * @param longitude degrees east, -180 to 180, WGS 84
 */
public record Place(double latitude, double longitude) {

    /**
     * @throws IllegalArgumentException if either is out of its range or not a number
     */
    public Place {
        if (!(Math.abs(latitude) <= 90) || !(Math.abs(longitude) <= 180)) {
            throw new IllegalArgumentException("not a place: " + latitude + ", " + longitude);
        }
    }
}
