package duskpeg.core.ledger;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.nio.charset.StandardCharsets;
import java.security.KeyPair;
import java.security.KeyPairGenerator;
import java.security.NoSuchAlgorithmException;
import java.util.Arrays;
import java.util.Base64;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** C2SP signed-note and tlog-checkpoint; the signed checkpoint is of the test data of transparency-dev/tessera. */
class NoteTest {

    private static final String PUBLISHED = """
            example.com/log/testdata
            15
            rKbDipCvhuX1GZ7g5BBe8sA6BbJ7ja/1nk427v383cs=

            \u2014 example.com/log/testdata M9e0luh4jTG+UMBqOUo9/q+yAEvx1ilBEniMvjf1zfcBOhg+CKubMt53MvIt/uEWP6zdkdIQzd/fmwlM/dlPWF74ewI=
            """;
    private static final VerifierKey KEY =
            VerifierKey.parse("example.com/log/testdata+33d7b496+AeHTu4Q3hEIMHNqc6fASMsq3rKNx280NI+oO5xCFkkSx");

    private static SignerKey newKey(String name) throws NoSuchAlgorithmException {
        KeyPair pair = KeyPairGenerator.getInstance("Ed25519").generateKeyPair();
        return SignerKey.of(name, pair);
    }

    @Test
    void thePublishedCheckpointIsSigned() {
        Note note = Note.parse(PUBLISHED);
        assertThat(note.isSignedBy(KEY)).isTrue();
        assertThat(note).hasToString(PUBLISHED);
        Checkpoint checkpoint = Checkpoint.parse(note.text());
        assertThat(checkpoint.origin()).isEqualTo("example.com/log/testdata");
        assertThat(checkpoint.size()).isEqualTo(15);
        assertThat(checkpoint.root().base64()).isEqualTo("rKbDipCvhuX1GZ7g5BBe8sA6BbJ7ja/1nk427v383cs=");
        assertThat(checkpoint.text()).isEqualTo(note.text());
    }

    @Test
    void noByteOfItCanBeChanged() {
        byte[] bytes = PUBLISHED.getBytes(StandardCharsets.UTF_8);
        for (int i = 0; i < bytes.length; i++) {
            for (int bit = 0; bit < 8; bit++) {
                byte[] changed = bytes.clone();
                changed[i] ^= (byte) (1 << bit);
                assertThat(isAccepted(new String(changed, StandardCharsets.UTF_8)))
                        .as("byte %d, bit %d", i, bit)
                        .isFalse();
            }
        }
    }

    @Test
    void aSignatureHas64Bytes() {
        // RFC 8032, section 5.1.7; the JDK alone would let zeros follow.
        Note note = Note.parse(PUBLISHED);
        byte[] right = note.signatures().get(0).proper();
        for (int size : new int[] {1, 32, 63, 65, 96}) {
            Note other = new Note(note.text(), List.of(Note.Signature.of(KEY, Arrays.copyOf(right, size))));
            assertThat(other.isSignedBy(KEY)).as("%d", size).isFalse();
        }
    }

    private static boolean isAccepted(String note) {
        try {
            return Note.parse(note).isSignedBy(KEY);
        } catch (IllegalArgumentException e) {
            return false;
        }
    }

    @Test
    void aNoteIsSignedAndReadBack() throws NoSuchAlgorithmException {
        SignerKey farm = newKey("marrowfield.example/log");
        SignerKey witness = newKey("witness.example");
        Note note = Note.sign(new Checkpoint("marrowfield.example/log", 7, Hash.EMPTY).text(), farm);
        assertThat(note.isSignedBy(farm.verifier())).isTrue();
        assertThat(note.isSignedBy(witness.verifier())).isFalse();
        Note both = Note.parse(note.signedBy(witness).toString());
        assertThat(both.isSignedBy(farm.verifier())).isTrue();
        assertThat(both.isSignedBy(witness.verifier())).isTrue();
    }

    @Test
    void keysAreReadBack() throws NoSuchAlgorithmException {
        SignerKey key = newKey("marrowfield.example/log");
        VerifierKey read = VerifierKey.parse(key.verifier().toString());
        assertThat(read).isEqualTo(key.verifier()).hasSameHashCodeAs(key.verifier());
        SignerKey kept = SignerKey.of(read, key.secret().getEncoded());
        assertThat(Note.sign("a\n", kept).isSignedBy(read)).isTrue();
        assertThat(key).hasToString(key.verifier().toString());
    }

    @Test
    void aKeyOfTheSameNameIsAnotherKey() throws NoSuchAlgorithmException {
        assertThat(Note.sign("a\n", newKey("one.example"))
                        .isSignedBy(newKey("one.example").verifier()))
                .isFalse();
    }

    @Test
    void aLineThatOnlySaysItIsOfTheKeyIsRefused() throws NoSuchAlgorithmException {
        SignerKey key = newKey("one.example");
        Note good = Note.sign("a\n", key);
        Note other = Note.sign("b\n", key);
        Note mixed = new Note(
                "a\n", List.of(good.signatures().get(0), other.signatures().get(0)));
        assertThat(mixed.isSignedBy(key.verifier())).isFalse();
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "a",
                "a\n",
                "a\n\n",
                "a\n\n\u2014 b\n",
                "a\n\n\u2014 b !\n",
                "a\n\n- b AAAAAAA=\n",
                "a\n\n\u2014 b AAAAAAA= c\n",
                "a\n\n\u2014 b AAAA\n",
                "a\tb\n\n\u2014 b AAAAAAA=\n",
                "a\n\n\u2014 b AAAAAAA="
            })
    void whatIsNoNoteIsRefused(String text) {
        assertThatIllegalArgumentException().isThrownBy(() -> Note.parse(text));
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "log\n", "log\n01\nA\n", "log\n-1\nA\n", "log\n1\nAAAA\n", "log\n1\n", "\n1\nA\n"})
    void whatIsNoCheckpointIsRefused(String text) {
        assertThatIllegalArgumentException().isThrownBy(() -> Checkpoint.parse(text));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "a+b",
                "a+33d7b496+AeHTu4Q3hEIMHNqc6fASMsq3rKNx280NI+oO5xCFkkSx",
                "example.com/log/testdata+33d7b496+AuHTu4Q3hEIMHNqc6fASMsq3rKNx280NI+oO5xCFkkSx",
                "example.com/log/testdata+33d7b497+AeHTu4Q3hEIMHNqc6fASMsq3rKNx280NI+oO5xCFkkSx"
            })
    void whatIsNoKeyIsRefused(String text) {
        assertThatIllegalArgumentException().isThrownBy(() -> VerifierKey.parse(text));
    }

    @Test
    void aKeyNeedsAName() {
        byte[] key = Base64.getDecoder().decode("4dO7hDeEQgwc2pzp8BIyyresoHHbzQ0j6g7nEIWSRLE=");
        assertThatIllegalArgumentException().isThrownBy(() -> new VerifierKey("a b", key));
        assertThatIllegalArgumentException().isThrownBy(() -> new VerifierKey("", key));
        assertThatIllegalArgumentException().isThrownBy(() -> new VerifierKey("a", new byte[31]));
    }
}
