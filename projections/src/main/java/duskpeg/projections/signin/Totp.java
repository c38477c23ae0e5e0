package duskpeg.projections.signin;

import java.math.BigInteger;
import java.net.URLEncoder;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.SecureRandom;
import java.time.Instant;
import java.util.Locale;
import java.util.OptionalLong;
import java.util.stream.LongStream;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

/**
 * Codes of six digits that an app on a phone makes of a secret and the time (RFC 6238, by HMAC-SHA-1 of RFC 4226, each
 * for 30 s): what apps can do without being told anything else.
 */
final class Totp {

    static final int DIGITS = 6;

    private static final long STEP_SECONDS = 30;

    /** As RFC 6238, 5.2 has it: one step for the way, and for a clock that is a little off. */
    private static final int EARLIER_OR_LATER = 1;

    /** 160 bits, as long as the hash (RFC 4226, 4), and 32 signs of Base32 (RFC 4648) without padding. */
    private static final int SECRET_BITS = 160;

    private static final int SECRET_SIGNS = SECRET_BITS / 5;
    private static final int RADIX = 32;

    private Totp() {}

    /** A new secret, in Base32. */
    static String newSecret(SecureRandom random) {
        byte[] secret = new byte[SECRET_BITS / Byte.SIZE];
        random.nextBytes(secret);
        return base32(secret);
    }

    /** 20 bytes in Base32: {@code A} to {@code Z}, {@code 2} to {@code 7}. */
    static String base32(byte[] secret) {
        String digits = new BigInteger(1, secret).toString(RADIX);
        StringBuilder signs = new StringBuilder("A".repeat(SECRET_SIGNS - digits.length()));
        digits.chars()
                .map(digit -> Character.digit(digit, RADIX))
                .forEach(value -> signs.append((char) (value < 26 ? 'A' + value : '2' + value - 26)));
        return signs.toString();
    }

    private static byte[] bytes(String base32) {
        BigInteger number = BigInteger.ZERO;
        for (int i = 0; i < base32.length(); i++) {
            char sign = base32.charAt(i);
            number = number.shiftLeft(5).or(BigInteger.valueOf(sign >= 'A' ? sign - 'A' : sign - '2' + 26));
        }
        byte[] value = number.toByteArray();
        byte[] secret = new byte[SECRET_BITS / Byte.SIZE];
        int length = Math.min(value.length, secret.length);
        System.arraycopy(value, value.length - length, secret, secret.length - length, length);
        return secret;
    }

    /** The code of a time step, with so many digits (RFC 4226, 5.3). */
    static String code(byte[] secret, long step, int digits) {
        try {
            Mac hmac = Mac.getInstance("HmacSHA1");
            hmac.init(new SecretKeySpec(secret, "RAW"));
            byte[] hash =
                    hmac.doFinal(ByteBuffer.allocate(Long.BYTES).putLong(step).array());
            int from = hash[hash.length - 1] & 0xF;
            int cut = ByteBuffer.wrap(hash, from, Integer.BYTES).getInt() & Integer.MAX_VALUE;
            return String.format(Locale.ROOT, "%0" + digits + "d", cut % (long) Math.pow(10, digits));
        } catch (GeneralSecurityException e) {
            throw new AssertionError("every JDK has HMAC-SHA-1", e);
        }
    }

    /** The step that a time is in. */
    static long step(Instant now) {
        return Math.floorDiv(now.getEpochSecond(), STEP_SECONDS);
    }

    /** The code of a secret in Base32 at a time. */
    static String code(String secret, Instant now) {
        return code(bytes(secret), step(now), DIGITS);
    }

    /** Of which step a code is, as typed, that can be used now; empty if it is of none. */
    static OptionalLong step(String secret, String typed, Instant now) {
        String code = typed.replaceAll("\\s", "");
        byte[] key = bytes(secret);
        long here = step(now);
        return LongStream.rangeClosed(here - EARLIER_OR_LATER, here + EARLIER_OR_LATER)
                .filter(step -> code(key, step, DIGITS).equals(code))
                .findFirst();
    }

    /** What an app reads off a QR code: the form that apps agreed on, no standard (from memory). */
    static String address(String secret, String farm, String login) {
        return "otpauth://totp/Duskpeg:" + encode(login + "@" + farm) + "?secret=" + secret + "&issuer=Duskpeg";
    }

    private static String encode(String text) {
        return URLEncoder.encode(text, StandardCharsets.UTF_8).replace("+", "%20");
    }
}
