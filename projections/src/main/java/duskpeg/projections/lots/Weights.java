package duskpeg.projections.lots;

import duskpeg.core.crew.WorkerId;
import duskpeg.core.csv.Csv;
import duskpeg.core.csv.Import;
import duskpeg.core.lot.LotEvent.Weighed;
import duskpeg.core.lot.LotId;
import duskpeg.core.lot.Lots;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;

/** Weights of several lots as comma-separated text, as they come from a day at the scales. */
final class Weights {

    static final List<String> COLUMNS = List.of("lot", "on", "grams", "moisture");

    private static final double MOST_GRAMS = 100_000_000;

    private Weights() {}

    /**
     * Reads them.
     *
     * @param csv the columns {@link #COLUMNS}; moisture is percent of the wet weight and may be empty
     * @param lots all lots of the farm: only what was begun can be weighed
     * @param today the farm's day: what is still to come was not weighed
     * @return every weight, or every problem with its line
     */
    static Import<Weighed> read(String csv, Lots lots, LocalDate today, WorkerId by, Instant at) {
        return Csv.read(csv, columns -> {
            Csv.wants(columns, COLUMNS);
            return line -> {
                String name = line.text("lot").toUpperCase(Locale.ROOT);
                if (!LotId.isName(name) || lots.lot(new LotId(by.farm(), name)).isEmpty()) {
                    throw new IllegalArgumentException("there is no lot " + line.text("lot"));
                }
                LocalDate on = line.date("on");
                if (on.isAfter(today)) {
                    throw new IllegalArgumentException(on + " is still to come");
                }
                double grams = line.number("grams").doubleValue();
                if (!(grams > 0 && grams <= MOST_GRAMS)) {
                    throw new IllegalArgumentException("no number of grams: " + line.text("grams"));
                }
                Double moisture = line.optional("moisture").isEmpty()
                        ? null
                        : Double.valueOf(line.number("moisture").doubleValue());
                if (moisture != null && !(moisture > 0 && moisture < 100)) {
                    throw new IllegalArgumentException("no number of percent: " + line.text("moisture"));
                }
                return new Weighed(new LotId(by.farm(), name), on, grams, moisture, by, at);
            };
        });
    }
}
