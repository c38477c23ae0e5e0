package duskpeg.projections.signin;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.security.SecureRandom;
import java.time.Instant;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Codes of an app against the tables of the two RFCs that define them. */
class TotpTest {

    private static final byte[] SECRET = "12345678901234567890".getBytes(StandardCharsets.US_ASCII);
    private static final String BASE32 = "GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ";

    /** RFC 6238, appendix B, the rows for SHA-1 (from memory). */
    @ParameterizedTest
    @CsvSource({
        "59, 94287082",
        "1111111109, 07081804",
        "1111111111, 14050471",
        "1234567890, 89005924",
        "2000000000, 69279037",
        "20000000000, 65353130"
    })
    void codesOfTimes(long seconds, String code) {
        assertThat(Totp.code(SECRET, Totp.step(Instant.ofEpochSecond(seconds)), 8))
                .isEqualTo(code);
        assertThat(Totp.code(BASE32, Instant.ofEpochSecond(seconds))).isEqualTo(code.substring(2));
    }

    /** RFC 4226, appendix D (from memory). */
    @Test
    void codesOfCounts() {
        assertThat(IntStream.range(0, 10).mapToObj(step -> Totp.code(SECRET, step, Totp.DIGITS)))
                .containsExactly(
                        "755224", "287082", "359152", "969429", "338314", "254676", "287922", "162583", "399871",
                        "520489");
    }

    /** RFC 4648, 6: the alphabet; 20 bytes are 32 signs. */
    @Test
    void secretsInBase32() {
        assertThat(Totp.base32(SECRET)).isEqualTo(BASE32);
        assertThat(Totp.base32(new byte[20])).isEqualTo("A".repeat(32));
        byte[] ones = new byte[20];
        ones[19] = 31;
        assertThat(Totp.base32(ones)).isEqualTo("A".repeat(31) + "7");
        assertThat(Totp.newSecret(new SecureRandom())).matches("[A-Z2-7]{32}");
    }

    @Test
    void aCodeIsTakenAStepEarlyOrLateAndNoFurther() {
        Instant now = Instant.ofEpochSecond(1_111_111_111);
        String code = Totp.code(BASE32, now);
        assertThat(Totp.step(BASE32, code.substring(0, 3) + " " + code.substring(3), now))
                .hasValue(Totp.step(now));
        assertThat(Totp.step(BASE32, code, now.plusSeconds(30))).isPresent();
        assertThat(Totp.step(BASE32, code, now.minusSeconds(30))).isPresent();
        assertThat(Totp.step(BASE32, code, now.plusSeconds(60))).isEmpty();
        assertThat(Totp.step(BASE32, code, now.minusSeconds(60))).isEmpty();
        assertThat(Totp.step(BASE32, "", now)).isEmpty();
        // Other digits than these are none of an app.
        assertThat(Totp.step(BASE32, "\u0661\u0662\u0663\u0664\u0665\u0666", now))
                .isEmpty();
    }
}
