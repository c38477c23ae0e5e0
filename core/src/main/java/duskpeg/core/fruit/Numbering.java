package duskpeg.core.fruit;

/** How the numbers of a strip follow each other. */
public enum Numbering {
    /** Every number is a tie's, as on strips that are bought. */
    PLAIN {
        @Override
        public boolean has(TieNumber tie) {
            return true;
        }

        @Override
        public int serial(TieNumber tie) {
            return tie.value();
        }

        @Override
        public TieNumber of(long serial, int width) {
            return TieNumber.of(serial, width);
        }
    },
    /** The last digit checks those before it ({@link CheckDigit}), as on tags the farm prints itself. */
    CHECKED {
        @Override
        public boolean has(TieNumber tie) {
            return CheckDigit.isRight(tie.digits());
        }

        @Override
        public int serial(TieNumber tie) {
            return tie.value() / RADIX;
        }

        @Override
        public TieNumber of(long serial, int width) {
            String digits = TieNumber.of(serial * RADIX, width).digits();
            String payload = digits.substring(0, width - 1);
            return new TieNumber(payload + CheckDigit.of(payload));
        }
    };

    private static final int RADIX = 10;

    /** Whether a tie of this numbering can have that number. */
    public abstract boolean has(TieNumber tie);

    /** The place of a number in the order: ties next to each other on a strip have serials that differ by one. */
    public abstract int serial(TieNumber tie);

    /**
     * The tie of that serial.
     *
     * @param width how many digits it has
     * @throws IllegalArgumentException if the width has no room for it
     */
    public abstract TieNumber of(long serial, int width);

    /**
     * The tie that comes {@code steps} after that one on a strip; before it, where {@code steps} is negative.
     *
     * @throws IllegalArgumentException if the width has no room for it
     */
    public TieNumber after(TieNumber tie, int steps) {
        return of(serial(tie) + (long) steps, tie.digits().length());
    }
}
