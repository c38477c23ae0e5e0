package duskpeg.core.planting;

/** The cultivated species. Never inferred from a fruit type's name. */
public enum Species {
    PEPO("Cucurbita pepo"),
    MAXIMA("Cucurbita maxima"),
    MOSCHATA("Cucurbita moschata"),
    ARGYROSPERMA("Cucurbita argyrosperma"),
    FICIFOLIA("Cucurbita ficifolia");

    private final String scientificName;

    Species(String scientificName) {
        this.scientificName = scientificName;
    }

    /** The scientific name, without author. */
    public String scientificName() {
        return scientificName;
    }
}
