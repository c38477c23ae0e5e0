package duskpeg.core.forecast;

/**
 * Numbered dice: the same seed, draw and die always show the same. So a forecast is a pure function, and two forecasts
 * that differ in who works where differ in nothing else.
 *
 * @param seed from outside
 */
record Dice(long seed) {

    private static final double TWO_TO_MINUS_53 = 0x1p-53;

    /** A number between 0 and 1, evenly spread: the finaliser of SplitMix64 (Steele, Lea & Flood 2014, from memory). */
    double at(int draw, int die) {
        long z = seed + 0x9E3779B97F4A7C15L * (((long) draw << 32) + die + 1);
        z = (z ^ (z >>> 30)) * 0xBF58476D1CE4E5B9L;
        z = (z ^ (z >>> 27)) * 0x94D049BB133111EBL;
        z ^= z >>> 31;
        return ((z >>> 11) + 0.5) * TWO_TO_MINUS_53;
    }

    /** The draw's number of the van der Corput sequence in that base: evenly spread over few draws already. */
    static double even(int draw, int base) {
        double value = 0;
        double digit = 1.0 / base;
        for (int rest = draw + 1; rest > 0; rest /= base) {
            value += digit * (rest % base);
            digit /= base;
        }
        return value;
    }
}
