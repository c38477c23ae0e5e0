package duskpeg.core.lineage;

import org.jspecify.annotations.Nullable;

/**
 * What a plant gave to a lot.
 *
 * @param plant the plant; null for all those together that nobody knows
 * @param asDam the part of the lot's seeds that it bore, 0 to 1; over all plants they add up to 1
 * @param asSire the part of the lot's seeds that it is expected to be the father of, 0 to 1: a candidate at 1/2 counts
 *     for half a fruit's seeds, which is what is expected of it and not what it did. Over all plants they add up to 1
 */
public record Contribution(@Nullable String plant, double asDam, double asSire) {

    /** Its part of the lot's genes, 0 to 1: half of them come by the mothers. */
    public double genes() {
        return (asDam + asSire) / 2;
    }
}
