package duskpeg.core.act;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class SealTest {

    // Source: the SHA-256 example of FIPS 180-4 for the message "abc" (from memory; also NIST's published example).
    private static final String ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

    // Source: the SHA-256 digest of the empty message, the root of an empty log in RFC 6962, section 2.1.
    private static final String EMPTY = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";

    @Test
    void isTheSha256OfTheWords() {
        assertThat(Seal.of("", "abc")).isEqualTo(ABC);
    }

    @Test
    void saltComesBeforeTheWords() {
        assertThat(Seal.of("a", "bc")).isEqualTo(ABC);
    }

    @Test
    void ofNothingIsTheDigestOfNothing() {
        assertThat(Seal.of("", "")).isEqualTo(EMPTY);
    }

    @Test
    void wordsAreSealedInUtf8() {
        // Computed apart from this project with: printf '00ff1 12 14 \xc3\xaa' | sha256sum
        assertThat(Seal.of("00ff", "1 12 14 \u00ea"))
                .isEqualTo("0f72269487fd068ca1234ff713640632c80c2c9ff88a4e494b65c17edccc90c7");
    }

    @Test
    void anotherSaltIsAnotherSeal() {
        assertThat(Seal.of("00112233445566778899aabbccddeeff", "1 12 14"))
                .isNotEqualTo(Seal.of("00112233445566778899aabbccddeefe", "1 12 14"));
    }
}
