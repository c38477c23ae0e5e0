package duskpeg.core.isolation;

import duskpeg.core.csv.Csv;
import duskpeg.core.csv.Import;
import duskpeg.core.farm.FarmId;
import duskpeg.core.planting.Planting;
import duskpeg.core.planting.RowId;
import duskpeg.core.planting.Species;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/**
 * A planting plan as comma-separated text, a planting in a line: {@code planting,cultivar,species,first row,last
 * row,plants per row,stock}. Either all of it is taken or nothing.
 */
public final class PlantingPlan {

    /** The columns of the text. */
    public static final List<String> COLUMNS =
            List.of("planting", "cultivar", "species", "first row", "last row", "plants per row", "stock");

    private static final int LONGEST = 60;
    private static final int MOST_ROWS = 999;
    private static final int MOST_PLANTS = 10_000;

    private PlantingPlan() {}

    /**
     * Reads a plan.
     *
     * @param existing what the farm has; a name or a row of these is not given twice
     * @return every planting, or every problem with its line
     */
    public static Import<Planting> read(String csv, FarmId farm, List<Planting> existing) {
        Set<String> names = existing.stream().map(Planting::name).collect(Collectors.toSet());
        Map<Integer, String> rows = new HashMap<>();
        existing.forEach(planting -> planting.rows().forEach(row -> {
            if (row.id().label().matches("[0-9]{1,3}")) {
                rows.put(Integer.parseInt(row.id().label()), planting.name());
            }
        }));
        return Csv.read(csv, columns -> {
            Csv.wants(columns, COLUMNS);
            return line -> {
                String name = words(line.text("planting"), "planting");
                int first = whole(line.text("first row"), "first row", 1, MOST_ROWS);
                int last = whole(line.text("last row"), "last row", first, MOST_ROWS);
                int plants = whole(line.text("plants per row"), "plants per row", 1, MOST_PLANTS);
                String stock = line.optional("stock");
                if (stock.length() > LONGEST) {
                    throw new IllegalArgumentException("stock is longer than " + LONGEST + " characters");
                }
                Planting planting = new Planting(
                        name,
                        words(line.text("cultivar"), "cultivar"),
                        species(line.text("species")),
                        IntStream.rangeClosed(first, last)
                                .mapToObj(row -> new Planting.Row(new RowId(farm, String.valueOf(row)), plants))
                                .toList(),
                        stock.isEmpty() ? null : stock);
                for (int row = first; row <= last; row++) {
                    String of = rows.get(row);
                    if (of != null) {
                        throw new IllegalArgumentException("row " + row + " is of " + of + " already");
                    }
                }
                if (!names.add(name)) {
                    throw new IllegalArgumentException("there is a planting " + name + " already");
                }
                IntStream.rangeClosed(first, last).forEach(row -> rows.put(row, name));
                return planting;
            };
        });
    }

    private static String words(String text, String what) {
        if (text.isEmpty() || text.length() > LONGEST) {
            throw new IllegalArgumentException(what + " is 1 to " + LONGEST + " characters");
        }
        return text;
    }

    private static int whole(String text, String what, int least, int most) {
        if (text.matches("[0-9]{1,6}")) {
            int number = Integer.parseInt(text);
            if (number >= least && number <= most) {
                return number;
            }
        }
        throw new IllegalArgumentException(
                what + " is a number from " + least + " to " + most + ", not \"" + text + "\"");
    }

    /** By its word or its scientific name, and never by the name of a type of fruit. */
    private static Species species(String text) {
        return Arrays.stream(Species.values())
                .filter(one ->
                        Stream.of(one.name(), one.scientificName()).anyMatch(name -> name.equalsIgnoreCase(text)))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("species is one of "
                        + Arrays.stream(Species.values())
                                .map(one -> one.name().toLowerCase(Locale.ROOT))
                                .collect(Collectors.joining(", "))
                        + ", not \"" + text + "\""));
    }
}
