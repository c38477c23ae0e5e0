package duskpeg.core.published;

import duskpeg.core.act.Worded;
import duskpeg.core.planting.Species;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;

/** A table of numbers with a source. Its word is the name of its file, and its names are stored: they never change. */
public enum Table implements Worded {
    /** Least germination, by scheme and kind of seed. */
    GERMINATION_MINIMUM("Least germination", Kind.PERCENT, List.of("percent"), "scheme", "kind"),
    /** Least pure seed and most other seed by weight, by scheme and kind. */
    ANALYTICAL_PURITY("Purity by weight", Kind.PERCENT, List.of("percent by weight"), "scheme", "kind", "what"),
    /** Most moisture, wet basis, by scheme, kind and container. */
    SEED_MOISTURE("Most moisture", Kind.PERCENT, List.of("percent wet basis"), "scheme", "kind", "container"),
    /** How far two tests of 400 seeds or more may be apart, by their mean: the row holds from its key on. */
    TEST_TOLERANCE("Tolerance between two tests", Kind.PERCENT, List.of("percentage points"), "from"),
    /** How far four replicates of 100 seeds may be apart, by their mean in whole percent: the row holds from its key on. */
    REPLICATE_RANGE("Most between replicates", Kind.PERCENT, List.of("percentage points"), "from"),
    /** Replicates, and seeds in each. */
    GERMINATION_METHOD(
            "Germination test",
            Kind.COUNT,
            List.of("replicates", "seeds"),
            List.of("replicates", "seeds"),
            false,
            "what"),
    /** Days from sowing to the counts. */
    GERMINATION_COUNTS(
            "Germination counts", Kind.COUNT, List.of("days"), List.of("first", "final"), true, "species", "count"),
    /** The temperatures of a germination test. */
    GERMINATION_TEMPERATURE("Germination temperatures", Kind.TEMPERATURES, List.of("degrees Celsius"), "species"),
    /** Least distance to plants that could cross in, by scheme and class. */
    ISOLATION("Isolation distance", Kind.AMOUNT, List.of("metres"), "scheme", "class"),
    /** Most off-type plants, by scheme and class. */
    OFF_TYPES("Most off-types", Kind.PERCENT, List.of("percent of plants"), "scheme", "class"),
    /** How likely two species cross. */
    CROSSING("Crossing between species", Kind.CROSSING, List.of("risk"), "species", "other"),
    /** Days from pollination. */
    MATURITY(
            "Maturity",
            Kind.COUNT,
            List.of("days"),
            List.of("warn-under", "ready-from", "ready-to"),
            true,
            "species",
            "what"),
    /** Days to the first culling round of a row, and between two of them. */
    CULLING("Culling rounds", Kind.COUNT, List.of("days"), List.of("first", "repeat"), false, "what"),
    /** Weeks that a fruit is held after the harvest. */
    CURING("Curing", Kind.COUNT, List.of("weeks"), List.of("least", "most"), true, "species", "bound"),
    /** How many plants to save seed from. */
    PLANT_NUMBERS(
            "Plants to save seed from",
            Kind.COUNT,
            List.of("plants"),
            List.of("viable-least", "viable-most", "maintenance", "conservation"),
            true,
            "purpose"),
    /** The temperatures between which degree-days are counted. */
    DEGREE_DAYS("Degree-days", Kind.MEASURE, List.of("degrees Celsius"), List.of("base", "upper"), true, "what"),
    /** How a thousand seeds are weighed: replicates, and seeds in each. */
    SEED_WEIGHT_METHOD(
            "Seed weight", Kind.COUNT, List.of("replicates", "seeds"), List.of("replicates", "seeds"), false, "what"),
    /** How far the replicates of a thousand-seed weight may be apart. */
    SEED_WEIGHT_SPREAD(
            "Spread of seed weights",
            Kind.AMOUNT,
            List.of("percent", "standard deviations"),
            List.of("most-variation", "most-deviation"),
            false,
            "what"),
    /** How far two portions of one oven test may be apart. */
    OVEN_TEST("Oven test", Kind.AMOUNT, List.of("percentage points"), List.of("most-difference"), false, "what"),
    /** How long a germination test holds, by container. */
    RETEST("How long a test holds", Kind.COUNT, List.of("months"), List.of("open", "sealed"), true, "container"),
    /** The rule of thumb for the life of stored seed: so many times as long for each step. */
    STORAGE_RULE(
            "Storage rule of thumb",
            Kind.AMOUNT,
            List.of("times", "percent wet basis", "degrees Celsius"),
            List.of("times", "moisture-step", "temperature-step"),
            false,
            "what"),
    /** Where that rule is meant to hold. */
    STORAGE_RANGE(
            "Range of the storage rule",
            Kind.MEASURE,
            List.of("percent wet basis", "degrees Celsius"),
            List.of("from", "to"),
            true,
            "what",
            "bound");

    private final String title;
    private final Kind kind;
    private final boolean rising;

    // These come of List.of, which the checker can't see.
    @SuppressWarnings("ImmutableEnumChecker")
    private final List<String> units;

    @SuppressWarnings("ImmutableEnumChecker")
    private final List<String> parts;

    @SuppressWarnings("ImmutableEnumChecker")
    private final List<String> keyColumns;

    Table(String title, Kind kind, List<String> units, String... keyColumns) {
        this(title, kind, units, List.of(), false, keyColumns);
    }

    Table(String title, Kind kind, List<String> units, List<String> parts, boolean rising, String... keyColumns) {
        this.title = title;
        this.kind = kind;
        this.units = units;
        this.parts = parts;
        this.rising = rising;
        this.keyColumns = List.of(keyColumns);
    }

    /** What it is about, to print. */
    public String title() {
        return title;
    }

    /** The columns that tell its rows apart. */
    public List<String> keyColumns() {
        return keyColumns;
    }

    /** The columns of its file. */
    public List<String> columns() {
        List<String> rest = List.of("value", "unit", "source", "edition", "mark", "note");
        return Stream.concat(keyColumns.stream(), rest.stream()).toList();
    }

    /** What the last part of the key must be: every one of these for each of the others. Empty where it is free. */
    List<String> parts() {
        return parts;
    }

    /** Whether the values may not fall in the order of the parts. */
    boolean rising() {
        return rising;
    }

    /** Whether its values are numbers. */
    boolean isNumeric() {
        return kind.isNumber();
    }

    /**
     * @throws IllegalArgumentException if no such value may stand in it
     */
    void checkValue(String value) {
        kind.check(value);
    }

    /**
     * @throws IllegalArgumentException if its values have another unit
     */
    void checkUnit(String unit) {
        if (!units.contains(unit)) {
            throw new IllegalArgumentException("unit is not " + String.join(" or ", units) + ": " + unit);
        }
    }

    /**
     * @throws IllegalArgumentException if that can't stand in that column of the key
     */
    void checkKey(String column, String value) {
        switch (column) {
            case "species", "other" -> {
                if (Arrays.stream(Species.values()).noneMatch(one -> word(one).equals(value))) {
                    throw new IllegalArgumentException(column + " is no species: " + value);
                }
            }
            case "from" -> Kind.PERCENT.check(value);
            default -> {
                if (!value.matches("[a-z0-9][a-z0-9.-]{0,30}")) {
                    throw new IllegalArgumentException(
                            column + " is not of lower-case letters, digits, points and hyphens: " + value);
                }
                if (!parts.isEmpty()
                        && column.equals(keyColumns.get(keyColumns.size() - 1))
                        && !parts.contains(value)) {
                    throw new IllegalArgumentException(
                            column + " is not one of " + String.join(", ", parts) + ": " + value);
                }
            }
        }
    }

    /** How a species is written in a key. */
    public static String word(Species species) {
        return species.name().toLowerCase(Locale.ROOT);
    }
}
