package duskpeg.projections.signin;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.security.SecureRandom;
import java.time.Duration;
import java.time.Instant;
import java.util.HexFormat;
import java.util.Optional;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;
import org.junit.jupiter.api.Test;

/** What a password must be, how it is hashed, what a code looks like, and how attempts are slowed. */
class PasswordsTest {

    /** NIST SP 800-63B (from memory): length counts, and a list of the worst; which signs there are does not. */
    @Test
    void lengthCountsAndNotWhichSigns() {
        assertThat(Passwords.refusal("a".repeat(11), "ruth")).isPresent();
        assertThat(Passwords.refusal("mole hill is", "ruth")).isEmpty();
        assertThat(Passwords.refusal("three mole hills", "ruth")).isEmpty();
        assertThat(Passwords.refusal("ab c".repeat(32), "ruth")).isEmpty();
        assertThat(Passwords.refusal("ab c".repeat(32) + "d", "ruth")).isPresent();
        // Twelve characters outside the basic plane are 24 UTF-16 units, and twelve characters.
        assertThat(Passwords.refusal("🎃🐝🌱".repeat(4), "ruth")).isEmpty();
        assertThat(Passwords.refusal("🎃🐝🌱".repeat(3), "ruth")).isPresent();
    }

    @Test
    void theWorstAndTheLoginAreRefused() {
        assertThat(Passwords.refusal("Password1234", "ruth")).isPresent();
        assertThat(Passwords.refusal("aaaaaaaaaaaaaaaa", "ruth")).isPresent();
        assertThat(Passwords.refusal("ruth.of.marrowfield", "ruth.of.marrowfield"))
                .isPresent();
        assertThat(Passwords.refusal("RuthRuthRuth", "ruth")).isPresent();
    }

    /** PBKDF2 reckoned here from HMAC, as in RFC 8018, 5.2: the first block is all of a 32-byte key. */
    @Test
    void theHashIsPbkdf2With600000Iterations() throws Exception {
        String password = "three mole hills";
        String hash = new Passwords().hash(password);
        assertThat(hash).startsWith("{pbkdf2-sha256-600k}");
        byte[] kept = HexFormat.of().parseHex(hash.substring(hash.indexOf('}') + 1));
        assertThat(kept).hasSize(48);

        Mac hmac = Mac.getInstance("HmacSHA256");
        hmac.init(new SecretKeySpec(password.getBytes(StandardCharsets.UTF_8), "HmacSHA256"));
        hmac.update(kept, 0, 16);
        byte[] last = hmac.doFinal(new byte[] {0, 0, 0, 1});
        byte[] key = last.clone();
        for (int i = 1; i < 600_000; i++) {
            last = hmac.doFinal(last);
            for (int at = 0; at < key.length; at++) {
                key[at] ^= last[at];
            }
        }
        assertThat(HexFormat.of().formatHex(key)).isEqualTo(HexFormat.of().formatHex(kept, 16, 48));
    }

    @Test
    void theSamePasswordIsKnownHoweverItIsTyped() {
        Passwords passwords = new Passwords();
        String hash = passwords.hash("caf\u00e9 at the mill");

        assertThat(passwords.matches("cafe\u0301 at the mill", Optional.of(hash)))
                .isTrue();
        assertThat(passwords.matches("cafe at the mill", Optional.of(hash))).isFalse();
        assertThat(passwords.matches("caf\u00e9 at the mill", Optional.empty())).isFalse();
        assertThat(passwords.isOld(hash)).isFalse();
    }

    @Test
    void aCodeIsKnownHoweverItIsTyped() {
        String code = Code.draw(new SecureRandom());

        assertThat(code).matches("[0-9A-HJKMNP-TV-Z]{5}(-[0-9A-HJKMNP-TV-Z]{5}){3}");
        assertThat(Code.typed(" " + code.toLowerCase(java.util.Locale.ROOT).replace("-", " ")))
                .isEqualTo(code);
        assertThat(Code.typed("oOiIl-00000-00000-00000")).isEqualTo("00111-00000-00000-00000");
        assertThat(Code.draw(new SecureRandom())).isNotEqualTo(code);
    }

    @Test
    void eachFurtherFailureDoublesThePause() {
        Attempts attempts = new Attempts(3, Duration.ofSeconds(10));
        Instant now = Instant.parse("2027-01-01T00:00:00Z");
        long[] pauses = new long[8];
        for (int i = 0; i < pauses.length; i++) {
            attempts.failed("ruth", now);
            pauses[i] = attempts.pause("ruth", now).toSeconds();
        }

        assertThat(pauses).containsExactly(0, 0, 1, 2, 4, 8, 10, 10);
        assertThat(attempts.pause("nomsa", now)).isZero();
        assertThat(attempts.pause("ruth", now.plusSeconds(4))).isEqualTo(Duration.ofSeconds(6));
        assertThat(attempts.pause("ruth", now.plusSeconds(11))).isZero();
        attempts.failed("ruth", now.plusSeconds(52));
        assertThat(attempts.pause("ruth", now.plusSeconds(52))).isZero();
    }

    @Test
    void soManyFormsAMinute() {
        Rate rate = new Rate(2, Duration.ofMinutes(1));
        Instant now = Instant.parse("2027-01-01T00:00:00Z");

        assertThat(rate.allows("a", now)).isTrue();
        assertThat(rate.allows("a", now)).isTrue();
        assertThat(rate.allows("a", now)).isFalse();
        assertThat(rate.allows("b", now)).isTrue();
        assertThat(rate.allows("a", now.plusSeconds(61))).isTrue();
    }

    @Test
    void onlyAnAddressOfThisServerIsLedTo() {
        assertThat(SignInController.within("/fruit/4711?farm=f")).isEqualTo("/fruit/4711?farm=f");
        for (String elsewhere :
                new String[] {"", "//evil.invalid", "/\\evil.invalid", "https://evil.invalid", "/a\r\nb", "x"}) {
            assertThat(SignInController.within(elsewhere)).isEqualTo("/");
        }
    }
}
