package duskpeg.core.planting;

/**
 * Something of the family that flowers near a planting: another planting of the farm, or what others grow.
 *
 * @param name what the farm calls it; a planting of its own by its name
 * @param species its species, as the farm states
 * @param metres from edge to edge at the nearest, 0 or more
 */
public record Neighbour(String name, Species species, int metres) {

    /**
     * @throws IllegalArgumentException if it is nearer than that
     */
    public Neighbour {
        if (metres < 0) {
            throw new IllegalArgumentException("not a distance: " + metres);
        }
    }
}
