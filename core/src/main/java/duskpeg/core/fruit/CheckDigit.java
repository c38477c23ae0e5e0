package duskpeg.core.fruit;

/**
 * The check digit of printed tags: Damm's, which finds every single wrong digit and every swap of two neighbours.
 *
 * <p>H. M. Damm, Total anti-symmetrische Quasigruppen, Marburg 2004; the table is the one of order ten given there.
 * Leading zeros do not change it, so numbers must be kept as text of a fixed width. It finds a slip of the finger. It
 * can't find the right number on the wrong fruit.
 */
public final class CheckDigit {

    private static final String[] TABLE = {
        "0317598642",
        "7092154863",
        "4206871359",
        "1750983426",
        "6123045978",
        "3674209581",
        "5869720134",
        "8945362017",
        "9438617205",
        "2581436790"
    };

    private CheckDigit() {}

    /**
     * The check digit of these digits.
     *
     * @param digits any number of digits 0 to 9
     */
    public static char of(String digits) {
        char interim = '0';
        for (int i = 0; i < digits.length(); i++) {
            interim = TABLE[interim - '0'].charAt(digits.charAt(i) - '0');
        }
        return interim;
    }

    /** Whether the last of these digits is the check digit of those before it. */
    public static boolean isRight(String digits) {
        return of(digits) == '0';
    }
}
