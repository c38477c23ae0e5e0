package duskpeg.core.act;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/**
 * A commitment to the words of a message. The log holds the seal; words and salt stay outside. While they are kept,
 * anybody can check that these were the words; once they are erased the seal tells nothing.
 */
public final class Seal {

    private Seal() {}

    /**
     * Seals the words: SHA-256 (FIPS 180-4) over the salt followed by the words, both in UTF-8.
     *
     * @param salt 32 random hex digits, fresh for each message
     * @return 64 lower-case hex digits
     */
    public static String of(String salt, String words) {
        try {
            MessageDigest sha = MessageDigest.getInstance("SHA-256");
            return HexFormat.of().formatHex(sha.digest((salt + words).getBytes(StandardCharsets.UTF_8)));
        } catch (NoSuchAlgorithmException e) {
            throw new AssertionError("every JDK has SHA-256", e);
        }
    }
}
