package duskpeg.messaging.reply;

import java.text.Normalizer;
import java.util.stream.IntStream;

/**
 * The GSM 7-bit default alphabet and its extension table (3GPP TS 23.038, sections 6.2.1 and 6.2.1.1), which set how
 * long a text may be.
 */
public final class Gsm7 {

    /** Septets in one segment that is not joined to others. */
    public static final int SEGMENT = 160;

    private static final String DEFAULT = "@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ !\"#¤%&'()*+,-./0123456789:;<=>?"
            + "¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§¿abcdefghijklmnopqrstuvwxyzäöñüà";

    private static final String EXTENSION = "\f^{}\\[~]|€";

    private Gsm7() {}

    /** Whether the alphabet has every character of the text. */
    public static boolean covers(String text) {
        return text.chars().allMatch(Gsm7::covers);
    }

    /**
     * How many septets the text takes: one for a character of the default alphabet, two for one of the extension.
     *
     * @throws IllegalArgumentException if the alphabet lacks a character of the text
     */
    public static int septets(String text) {
        return text.chars()
                .map(character -> {
                    if (DEFAULT.indexOf(character) >= 0) {
                        return 1;
                    }
                    if (EXTENSION.indexOf(character) >= 0) {
                        return 2;
                    }
                    throw new IllegalArgumentException("not in the alphabet: U+" + Integer.toHexString(character));
                })
                .sum();
    }

    /**
     * A stranger's word made safe to repeat: printable characters of the alphabet stay, any other becomes a question
     * mark, and of a long word only the beginning stays.
     */
    public static String echo(String word, int longest) {
        StringBuilder echoed = new StringBuilder();
        IntStream codePoints = word.codePoints().limit(longest + 1L);
        codePoints.forEach(codePoint -> echoed.append(codePoint >= ' ' && covers(codePoint) ? (char) codePoint : '?'));
        return echoed.length() > longest ? echoed.substring(0, longest - 2) + ".." : echoed.toString();
    }

    /**
     * The text in characters of the alphabet: one it lacks loses its accents (Zoë becomes Zoe) or, if that does not
     * help, becomes a question mark. Nothing is left out.
     */
    public static String nearest(String text) {
        StringBuilder nearest = new StringBuilder();
        text.codePoints().forEach(codePoint -> {
            if (covers(codePoint)) {
                nearest.append((char) codePoint);
            } else {
                int letter = Normalizer.normalize(Character.toString(codePoint), Normalizer.Form.NFD)
                        .codePointAt(0);
                nearest.append(covers(letter) ? (char) letter : '?');
            }
        });
        return nearest.toString();
    }

    private static boolean covers(int character) {
        return DEFAULT.indexOf(character) >= 0 || EXTENSION.indexOf(character) >= 0;
    }
}
