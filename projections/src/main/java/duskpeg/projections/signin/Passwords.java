package duskpeg.projections.signin;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.text.Normalizer;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.springframework.security.crypto.password.DelegatingPasswordEncoder;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.security.crypto.password.Pbkdf2PasswordEncoder;
import org.springframework.security.crypto.password.Pbkdf2PasswordEncoder.SecretKeyFactoryAlgorithm;

/**
 * What a password must be, and how it is hashed: 12 to 128 characters, none of the worst, not the login, and nothing
 * else (NIST SP 800-63B, from memory: length, a list of the worst, no rules on which signs).
 */
final class Passwords {

    static final int SHORTEST = 12;
    static final int LONGEST = 128;

    /** PBKDF2 with HMAC-SHA-256, as the OWASP password storage cheat sheet has it (from memory). */
    private static final int ITERATIONS = 600_000;

    private static final int SALT_BYTES = 16;
    private static final int HASH_BYTES = 32;
    private static final String HOW = "pbkdf2-sha256-600k";

    private static final Set<String> WORST = worst();

    private final PasswordEncoder encoder = new DelegatingPasswordEncoder(
            HOW,
            Map.of(
                    HOW,
                    new Pbkdf2PasswordEncoder(
                            "", SALT_BYTES, ITERATIONS, SecretKeyFactoryAlgorithm.PBKDF2WithHmacSHA256)));

    /** What a login that is none is compared with, so that it takes as long to refuse as a wrong password. */
    private static final String NOBODY = "{" + HOW + "}" + "00".repeat(SALT_BYTES + HASH_BYTES);

    private static Set<String> worst() {
        try (BufferedReader lines = new BufferedReader(new InputStreamReader(
                Objects.requireNonNull(Passwords.class.getResourceAsStream("worst-passwords.txt")),
                StandardCharsets.UTF_8))) {
            return lines.lines().filter(line -> !line.startsWith("#")).collect(Collectors.toUnmodifiableSet());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Why a password can't be used, in plain words; empty if it can. */
    static Optional<String> refusal(String password, String login) {
        int length = password.codePointCount(0, password.length());
        if (length < SHORTEST) {
            return Optional.of("a password has at least " + SHORTEST + " characters; a few words in a row do well");
        }
        if (length > LONGEST) {
            return Optional.of("a password has at most " + LONGEST + " characters");
        }
        String plain = password.toLowerCase(Locale.ROOT);
        if (WORST.contains(plain) || plain.chars().distinct().count() < 3) {
            return Optional.of("that is one of the passwords that are tried first");
        }
        if (plain.replace(login, "").isEmpty()) {
            return Optional.of("the password must not be the login");
        }
        return Optional.empty();
    }

    /** The same characters may come composed or not, by keyboard. */
    private static String normal(String password) {
        return Normalizer.normalize(password, Normalizer.Form.NFKC);
    }

    /** The hash to keep, with its salt and how it was made. */
    String hash(String password) {
        return encoder.encode(normal(password));
    }

    /** Whether it is the password of that hash; takes as long where there is no hash. */
    boolean matches(String password, Optional<String> hash) {
        // One that can't have been set is not hashed: a long one would take long.
        boolean same = encoder.matches(password.length() > 2 * LONGEST ? "" : normal(password), hash.orElse(NOBODY));
        return same && hash.isPresent();
    }

    /** Whether the hash was made in an older way than new ones are. */
    boolean isOld(String hash) {
        return encoder.upgradeEncoding(hash);
    }
}
