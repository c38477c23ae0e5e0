package duskpeg.core.seed;

import duskpeg.core.published.Figures;
import java.math.BigDecimal;
import java.math.RoundingMode;

/**
 * How many packets a weight of seed fills. Exact decimals: ten packets of 0.1 g are 1 g.
 *
 * @param grams the seed
 * @param packetGrams the seed in a packet
 * @param packets full packets
 * @param restGrams what is left over
 * @param sentence it, in plain English
 */
public record Packets(BigDecimal grams, BigDecimal packetGrams, long packets, BigDecimal restGrams, String sentence) {

    /** Scales for packets show that many decimals of a gram. */
    private static final int DECIMALS = 2;

    /**
     * Shares seed out.
     *
     * @throws IllegalArgumentException if the seed weighs less than nothing, or a packet nothing
     */
    public static Packets of(BigDecimal grams, BigDecimal packetGrams) {
        if (grams.signum() < 0 || packetGrams.signum() <= 0) {
            throw new IllegalArgumentException(grams + " g in packets of " + packetGrams + " g");
        }
        BigDecimal[] shared = grams.divideAndRemainder(packetGrams);
        long packets = shared[0].longValueExact();
        return new Packets(
                grams,
                packetGrams,
                packets,
                shared[1],
                Figures.count(packets, "packet") + " of " + Figures.plain(packetGrams, 3) + " g, and "
                        + Figures.plain(shared[1], 3) + " g left over.");
    }

    /**
     * What a packet of so many seeds weighs on average, rounded up to a hundredth of a gram. Seeds differ: a packet that
     * must not have fewer is counted.
     *
     * @param seeds seeds in a packet
     * @param thousandGrams what a thousand seeds weigh, grams
     * @throws IllegalArgumentException if either is not above 0
     */
    public static BigDecimal gramsOf(int seeds, BigDecimal thousandGrams) {
        if (seeds < 1 || thousandGrams.signum() <= 0) {
            throw new IllegalArgumentException(seeds + " seeds of " + thousandGrams + " g a thousand");
        }
        return thousandGrams
                .multiply(BigDecimal.valueOf(seeds))
                .movePointLeft(3)
                .setScale(DECIMALS, RoundingMode.UP);
    }
}
