package duskpeg.core.lineage;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.ResourceBundle;
import java.util.ResourceBundle.Control;

/**
 * From how many plants a handbook says to save seed. Plants, not effective size: whoever compares the two says so. The
 * table is {@code plant-numbers.properties}.
 *
 * @param least plants at least
 * @param most plants of the usual range at most
 * @param purpose what that is enough for
 * @param source where it is from
 * @param edition of the source
 * @param mark how sure that is
 */
public record PlantNumber(int least, int most, String purpose, String source, String edition, String mark) {

    /** All there are, the least first. */
    public static List<PlantNumber> all() {
        ResourceBundle table = ResourceBundle.getBundle(
                "duskpeg.core.lineage.plant-numbers",
                Locale.ROOT,
                Control.getNoFallbackControl(Control.FORMAT_PROPERTIES));
        return Arrays.stream(table.getString("rows").split(" "))
                .map(row -> new PlantNumber(
                        Integer.parseInt(table.getString(row + ".least")),
                        Integer.parseInt(table.getString(row + ".most")),
                        table.getString(row + ".for"),
                        table.getString(row + ".source"),
                        table.getString(row + ".edition"),
                        table.getString(row + ".mark")))
                .toList();
    }
}
