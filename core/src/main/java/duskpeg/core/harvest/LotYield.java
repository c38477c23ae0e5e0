package duskpeg.core.harvest;

import duskpeg.core.harvest.PerFruit.Gave;
import duskpeg.core.lot.Lot;
import duskpeg.core.lot.LotEvent.Drawn;
import duskpeg.core.lot.LotEvent.Packed;
import duskpeg.core.lot.LotEvent.Weighed;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * What the fruit of a lot gave, by its last weighing before any seed went into packets or other lots. A lot into which
 * seed of others was drawn tells nothing, nor does one that was weighed only afterwards.
 */
public final class LotYield {

    private static final int THOUSAND = 1000;

    private LotYield() {}

    /** Grams of seed, as weighed. */
    public static Optional<Gave> grams(Lot lot) {
        if (lot.fruit().isEmpty() || !lot.drawnIn().isEmpty()) {
            return Optional.empty();
        }
        LocalDate left = Stream.concat(
                        lot.all(Drawn.class).stream().map(Drawn::on),
                        lot.all(Packed.class).stream().map(Packed::on))
                .min(Comparator.naturalOrder())
                .orElse(LocalDate.MAX);
        return lot.all(Weighed.class).stream()
                .filter(weighed -> !weighed.on().isAfter(left))
                .max(Comparator.comparing(Weighed::on).thenComparing(Weighed::at))
                .map(weighed -> new Gave(lot.fruit().size(), weighed.grams()));
    }

    /** Seeds, by the same weighing and by what a thousand of them were found to weigh. */
    public static Optional<Gave> seeds(Lot lot) {
        return grams(lot)
                .flatMap(gave -> lot.thousandSeeds()
                        .map(found -> new Gave(gave.fruit(), gave.amount() / found.grams() * THOUSAND)));
    }
}
