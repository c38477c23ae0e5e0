package duskpeg.projections.signin;

import java.security.SecureRandom;
import java.util.Locale;
import java.util.stream.Collectors;

/** Codes that people type once: 20 signs of an alphabet without look-alikes, 100 random bits. */
final class Code {

    /** Crockford's base 32 (from memory): no I, L, O and U. */
    private static final String ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

    private static final int SIGNS = 20;
    private static final int GROUP = 5;

    private Code() {}

    /** A new code, in groups of five: {@code 7Q2M9-…}. */
    static String draw(SecureRandom random) {
        String signs = random.ints(SIGNS, 0, ALPHABET.length())
                .mapToObj(one -> ALPHABET.substring(one, one + 1))
                .collect(Collectors.joining());
        return signs.replaceAll("(.{" + GROUP + "})(?!$)", "$1-");
    }

    /** A code as it was drawn, from how somebody typed it: case, spaces and dashes don't matter, nor O for 0, I for 1. */
    static String typed(String typed) {
        return typed.toUpperCase(Locale.ROOT)
                .replaceAll("[^0-9A-Z]", "")
                .replace('O', '0')
                .replace('I', '1')
                .replace('L', '1')
                .replaceAll("(.{" + GROUP + "})(?!$)", "$1-");
    }
}
