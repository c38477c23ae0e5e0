package duskpeg.core.ledger;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import duskpeg.core.ledger.Witness.Answer;
import java.nio.charset.StandardCharsets;
import java.security.KeyPairGenerator;
import java.security.NoSuchAlgorithmException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Base64;
import java.util.Collections;
import java.util.HexFormat;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** C2SP tlog-cosignature and tlog-witness, section by section. */
class WitnessTest {

    /** The example of C2SP tlog-cosignature, whose keys are not published. */
    private static final String SOFA = """
            example.com/behind-the-sofa
            20852163
            CsUYapGGPo4dkMgIAUqom/Xajj7h2fB2MPA3j2jxq2I=
            """;

    /** The example of a request in C2SP tlog-witness, section add-checkpoint. */
    private static final String REQUEST = """
            old 20852014
            PlRNCrwHpqhGrupue0L7gxbjbMiKA9temvuZZDDpkaw=
            jrJZDmY8Y7SyJE0MWLpLozkIVMSMZcD5kvuKxPC3swk=
            5+pKlUdi2LeF/BcMHBn+Ku6yhPGNCswZZD1X/6QgPd8=
            /6WVhPs2CwSsb5rYBH5cjHV/wSmA79abXAwhXw3Kj/0=

            example.com/behind-the-sofa
            20852163
            CsUYapGGPo4dkMgIAUqom/Xajj7h2fB2MPA3j2jxq2I=

            \u2014 example.com/behind-the-sofa Az3grlgtzPICa5OS8npVmf1Myq/5IZniMp+ZJurmRDeOoRDe4URYN7u5/Zhcyv2q1gGzGku9nTo+zyWE+xeMcTOAYQ8=
            \u2014 example.com/behind-the-sofa opLqBQsREYCgu6xQkYQwJr9fo45a62DN9EdmHXnZdXNqlcVGlCum2Wks+49/V6267UEjw6QUXTS5Rovnzv++qbSzm9Q=
            """;

    /**
     * A checkpoint of a public Certificate Transparency log (staging) as its public witnesses cosigned it on
     * 2026-05-23; the key of one of them is also in the tests of transparency-dev/formats. OpenSSL 3 agrees that it made
     * the line.
     */
    private static final String PUBLISHED = """
            arche2025h1.staging.ct.transparency.dev
            1432088532
            U7WM79jrzyhGZ5/GUBTpM7NzwdyfFx61t3RovgcC4Ro=

            \u2014 arche2025h1.staging.ct.transparency.dev zTM8sQAAAZ5W0WdjBAMARjBEAiBjW5IQf9pvsYLfQFX6hoGREPMHbdQ3urbllzalApkptQIgIpwtEroeW2BXaHAI4kJXFbon5Ch9MNL5zRNZ55lvGt0=
            \u2014 arche2025h1.staging.ct.transparency.dev ui8GwCF1+kWqZrxGdhj4aX3gcw7XUlXQQabg/27lefwhUkzbC3NygNI75MdhL1bfTW9g8Ei59RA23oHP7Ry1k3ZFWwQ=
            \u2014 remora.n621.de 2net5wAAAABqEiEgPlfF3V06o0Y+fHM+J5J9s27wgxxcOVSpZ/2g/KSiXCg9DEZI+aVCIobWX9sXTynk5XeU/zZ0WBxtqB0DrAWfBw==
            """;

    private static final VerifierKey PUBLISHED_KEY = VerifierKey.parse(
            "remora.n621.de+da77ade7+BOvN63jn/bLvkieywe8R6UYAtVtNbZpXh34x7onlmtw2", VerifierKey.Kind.COSIGNATURE);

    /** RFC 8032, section 7.1, TEST 1, in the PKCS #8 of RFC 8410. */
    private static final byte[] SECRET = HexFormat.of()
            .parseHex("302e020100300506032b657004220420"
                    + "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60");

    private static final VerifierKey RFC_8032 = VerifierKey.parse(
            "witness.example.com/w1+7e6f4aaa+BNdamAGCsQq31Uv+08lkBzoO4XLz2qYjJa8CGmj3B1Ea",
            VerifierKey.Kind.COSIGNATURE);

    private static final String LOG = "marrowfield.example/log";
    private static final List<Hash> LEAVES = TreeTest.leaves(20);
    private static final KeptInMemory TILES = KeptInMemory.of(LEAVES);
    private static final SignerKey KEY = newKey(LOG, VerifierKey.Kind.NOTE);
    private static final List<VerifierKey> TRUSTED = List.of(KEY.verifier());

    private static SignerKey newKey(String name, VerifierKey.Kind kind) {
        try {
            return SignerKey.of(
                    name, kind, KeyPairGenerator.getInstance("Ed25519").generateKeyPair());
        } catch (NoSuchAlgorithmException e) {
            throw new AssertionError(e);
        }
    }

    // ---- Cosignatures ----

    @Test
    void aPublishedCosignatureIsRight() {
        assertThat(Note.parse(PUBLISHED).isSignedBy(PUBLISHED_KEY)).isTrue();
        assertThat(Note.parse(PUBLISHED).by(PUBLISHED_KEY)).hasSize(1);
    }

    @Test
    void noByteOfThePublishedOneCanBeChanged() {
        // The lines of other keys may be anything: only the text and the witness's own line count.
        int own = PUBLISHED.indexOf("\u2014 remora");
        int text = PUBLISHED.indexOf("\n\n");
        for (int i = 0; i < PUBLISHED.length(); i++) {
            if (i > text && i < own) {
                continue;
            }
            char other = PUBLISHED.charAt(i) == 'A' ? 'B' : 'A';
            String changed = PUBLISHED.substring(0, i) + other + PUBLISHED.substring(i + 1);
            assertThat(isAccepted(changed)).as("character %d", i).isFalse();
        }
    }

    private static boolean isAccepted(String note) {
        try {
            return Note.parse(note).isSignedBy(PUBLISHED_KEY);
        } catch (IllegalArgumentException e) {
            return false;
        }
    }

    @Test
    void itIsTheOneThatOpensslMakes() {
        // Made with OpenSSL 3.0 and a script: C2SP tlog-cosignature, sections Format and Ed25519 signed message.
        String openssl =
                "\u2014 witness.example.com/w1 fm9KqgAAAABkGFDL+TPmh4BYuAjsYRoqMJCWb/gWJaeRF/kmm5tlCr9sJ57DLErur7K0"
                        + "yDXc2ArN+TIuotuB/HbuL3AJsp3bv/aNCQ==";
        SignerKey witness = SignerKey.of(RFC_8032, SECRET);
        Note.Signature made = Cosignature.make(SOFA, Instant.ofEpochSecond(1679315147, 999_999_999), witness);
        assertThat(made).hasToString(openssl);
        assertThat(new Note(SOFA, List.of(made)).isSignedBy(RFC_8032)).isTrue();
    }

    @Test
    void linesBehindTheThirdAreCosignedToo() {
        Note.Signature made = Cosignature.make(SOFA + "more\n", Instant.EPOCH, SignerKey.of(RFC_8032, SECRET));
        assertThat(new Note(SOFA + "more\n", List.of(made)).isSignedBy(RFC_8032))
                .isTrue();
        assertThat(new Note(SOFA + "mare\n", List.of(made)).isSignedBy(RFC_8032))
                .isFalse();
    }

    @Test
    void aTimeOutsideTheStandardIsRefused() {
        SignerKey witness = SignerKey.of(RFC_8032, SECRET);
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Cosignature.make(SOFA, Instant.ofEpochSecond(-1), witness));
        // 2^63, cosigned as it should be otherwise.
        byte[] made = witness.sign("cosignature/v1\ntime 9223372036854775808\n" + SOFA);
        byte[] proper = new byte[8 + made.length];
        proper[0] = (byte) 0x80;
        System.arraycopy(made, 0, proper, 8, made.length);
        assertThat(new Note(SOFA, List.of(Note.Signature.of(RFC_8032, proper))).isSignedBy(RFC_8032))
                .isFalse();
        assertThat(new Note(SOFA, List.of(Note.Signature.of(RFC_8032, new byte[3]))).isSignedBy(RFC_8032))
                .isFalse();
    }

    @Test
    void aKeyServesOnePurpose() {
        SignerKey witness = newKey("a.example", VerifierKey.Kind.COSIGNATURE);
        assertThatIllegalArgumentException().isThrownBy(() -> Note.sign(SOFA, witness));
        assertThatIllegalArgumentException().isThrownBy(() -> Cosignature.make(SOFA, Instant.EPOCH, KEY));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> VerifierKey.parse(witness.verifier().toString()));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> VerifierKey.parse(KEY.verifier().toString(), VerifierKey.Kind.COSIGNATURE));
        assertThat(VerifierKey.parse(witness.verifier().toString(), VerifierKey.Kind.COSIGNATURE))
                .isEqualTo(witness.verifier());
    }

    @Test
    void aCosignatureIsNotTheLogsSignature() {
        // Same name, same pair, the other kind (C2SP signed-note, section Signatures: the id tells them apart).
        byte[] raw = Base64.getDecoder().decode("11qYAYKxCrfVS/7TyWQHOg7hcvPapiMlrwIaaPcHURo=");
        VerifierKey asLog = new VerifierKey(RFC_8032.name(), raw);
        Note.Signature cosigned = Cosignature.make(SOFA, Instant.EPOCH, SignerKey.of(RFC_8032, SECRET));
        assertThat(new Note(SOFA, List.of(cosigned)).isSignedBy(asLog)).isFalse();
        assertThat(asLog).isNotEqualTo(RFC_8032);
    }

    @Test
    void aCosignedNoteIsStillTheLogs() {
        SignerKey witness = newKey("witness.example", VerifierKey.Kind.COSIGNATURE);
        Note note = Note.sign(new Checkpoint(LOG, 7, Hash.EMPTY).text(), KEY);
        Note both = Note.parse(note.with(List.of(Cosignature.make(note.text(), Instant.EPOCH, witness)))
                .toString());
        assertThat(both.isSignedBy(KEY.verifier())).isTrue();
        assertThat(both.isSignedBy(witness.verifier())).isTrue();
        assertThat(both.by(witness.verifier()))
                .containsExactly(both.signatures().get(1));
    }

    // ---- Requests ----

    @Test
    void thePublishedRequestIsRead() {
        AddCheckpoint request = AddCheckpoint.parse(REQUEST);
        assertThat(request.old()).isEqualTo(20_852_014);
        assertThat(request.proof()).hasSize(4);
        assertThat(request.proof().get(3).base64()).isEqualTo("/6WVhPs2CwSsb5rYBH5cjHV/wSmA79abXAwhXw3Kj/0=");
        assertThat(request.checkpoint().text()).isEqualTo(SOFA);
        assertThat(request.note().signatures()).hasSize(2);
        assertThat(request).hasToString(REQUEST);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {"", "old", "old ", "old -1", "old 01", "old 1 ", "OLD 1", "old  1", "1", "old 1\r", "old 1\nAA"})
    void aRequestWithAnotherHeadIsRefused(String head) {
        String rest = REQUEST.substring(REQUEST.indexOf("\n\n"));
        assertThat(AddCheckpoint.parse("old 1" + rest).proof()).isEmpty();
        assertThatIllegalArgumentException().isThrownBy(() -> AddCheckpoint.parse(head + rest));
    }

    @Test
    void whatIsNoRequestIsRefused() {
        List<String> wrong = new ArrayList<>(List.of(
                "",
                "old 1\n",
                "old 1\n\n",
                // No empty line between.
                REQUEST.replaceFirst("\n\n", "\n"),
                // The last line does not end.
                REQUEST.substring(0, REQUEST.length() - 1),
                // No plain Base64: padding left out, another spelling of the same bytes, a space.
                REQUEST.replaceFirst("pkaw=\n", "pkaw\n"),
                REQUEST.replaceFirst("pkaw=\n", "pkax=\n"),
                REQUEST.replaceFirst("pkaw=\n", "pkaw= \n"),
                REQUEST.replace("\n", "\r\n"),
                // No checkpoint: an empty line in it, two lines only.
                REQUEST.replace("xq2I=\n\n", "xq2I=\n\nmore\n\n"),
                REQUEST.replace("20852163\n", "")));
        for (int i = 0; i < REQUEST.length(); i += 7) {
            wrong.add(REQUEST.substring(0, i));
        }
        for (String body : wrong) {
            assertThatIllegalArgumentException().as(body).isThrownBy(() -> AddCheckpoint.parse(body));
        }
    }

    @Test
    void aProofHasAtMost63Lines() {
        Note note = AddCheckpoint.parse(REQUEST).note();
        List<Hash> longest = Collections.nCopies(63, Hash.EMPTY);
        assertThat(AddCheckpoint.parse(new AddCheckpoint(1, longest, note).toString())
                        .proof())
                .isEqualTo(longest);
        String line = Hash.EMPTY.base64() + "\n";
        String body = "old 1\n" + line.repeat(64) + "\n" + note;
        assertThatIllegalArgumentException().isThrownBy(() -> AddCheckpoint.parse(body));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new AddCheckpoint(1, Collections.nCopies(64, Hash.EMPTY), note));
    }

    // ---- Decisions: C2SP tlog-witness, section add-checkpoint, sentence by sentence ----

    private static Checkpoint checkpoint(int size) {
        return new Checkpoint(LOG, size, new Tree(size, TILES).root());
    }

    private static AddCheckpoint request(long old, Checkpoint next, List<Hash> proof) {
        return new AddCheckpoint(old, proof, Note.sign(next.text(), KEY));
    }

    private static AddCheckpoint honest(int old, int size) {
        return request(old, checkpoint(size), new Tree(size, TILES).consistency(old));
    }

    @Test
    void everyGrowthIsCosigned() {
        for (int old = 0; old <= LEAVES.size(); old++) {
            for (int size = old; size <= LEAVES.size(); size++) {
                assertThat(Witness.decide(honest(old, size), TRUSTED, checkpoint(old)))
                        .as("%d to %d", old, size)
                        .isEqualTo(Answer.COSIGN);
            }
        }
        assertThat(Witness.decide(honest(0, 9), TRUSTED, Witness.nothing(LOG))).isEqualTo(Answer.COSIGN);
        assertThat(Answer.COSIGN.status()).isEqualTo(200);
    }

    @Test
    void anUnknownOriginIsNotFound() {
        assertThat(Witness.decide(honest(0, 9), List.of(), Witness.nothing(LOG)))
                .isEqualTo(Answer.UNKNOWN);
        assertThat(Answer.UNKNOWN.status()).isEqualTo(404);
    }

    @Test
    void whatNoTrustedKeySignedIsForbidden() {
        List<VerifierKey> other = List.of(newKey(LOG, VerifierKey.Kind.NOTE).verifier());
        assertThat(Witness.decide(honest(0, 9), other, Witness.nothing(LOG))).isEqualTo(Answer.UNSIGNED);
        // The right key's line, of another text.
        AddCheckpoint lies = new AddCheckpoint(
                0,
                List.of(),
                new Note(checkpoint(9).text(), Note.sign("a\n", KEY).signatures()));
        assertThat(Witness.decide(lies, TRUSTED, Witness.nothing(LOG))).isEqualTo(Answer.UNSIGNED);
        assertThat(Answer.UNSIGNED.status()).isEqualTo(403);
    }

    @Test
    void signaturesOfUnknownKeysAreIgnored() {
        AddCheckpoint honest = honest(0, 9);
        Note more = honest.note().signedBy(newKey(LOG, VerifierKey.Kind.NOTE));
        assertThat(Witness.decide(new AddCheckpoint(0, List.of(), more), TRUSTED, Witness.nothing(LOG)))
                .isEqualTo(Answer.COSIGN);
    }

    @Test
    void oneOfTwoTrustedKeysSuffices() {
        List<VerifierKey> two = List.of(newKey(LOG, VerifierKey.Kind.NOTE).verifier(), KEY.verifier());
        assertThat(Witness.decide(honest(0, 9), two, Witness.nothing(LOG))).isEqualTo(Answer.COSIGN);
    }

    @Test
    void anOldSizeAboveTheNewIsABadRequest() {
        assertThat(Witness.decide(request(10, checkpoint(9), List.of()), TRUSTED, checkpoint(10)))
                .isEqualTo(Answer.BACKWARDS);
        assertThat(Answer.BACKWARDS.status()).isEqualTo(400);
    }

    @Test
    void anOldSizeThatIsNotTheLastIsAConflict() {
        for (int last = 0; last <= 20; last++) {
            for (int old = 0; old <= 20; old++) {
                if (old != last) {
                    assertThat(Witness.decide(honest(old, 20), TRUSTED, checkpoint(last)))
                            .as("%d, %d", last, old)
                            .isEqualTo(Answer.CONFLICT);
                }
            }
        }
        assertThat(Answer.CONFLICT.status()).isEqualTo(409);
    }

    @Test
    void theSameSizeWithAnotherRootIsAConflict() {
        assertThat(Witness.decide(request(9, new Checkpoint(LOG, 9, Hash.EMPTY), List.of()), TRUSTED, checkpoint(9)))
                .isEqualTo(Answer.CONFLICT);
        // Of the tree without leaves there is one root.
        assertThat(Witness.decide(
                        request(0, new Checkpoint(LOG, 0, LEAVES.get(0)), List.of()), TRUSTED, Witness.nothing(LOG)))
                .isEqualTo(Answer.CONFLICT);
    }

    @Test
    void whatIsNotProvedIsUnprocessable() {
        List<Hash> proof = new Tree(20, TILES).consistency(9);
        Hash other = new Tree(20, KeptInMemory.of(TreeTest.leaves(21).subList(1, 21))).root();
        for (AddCheckpoint request : List.of(
                request(9, checkpoint(20), List.of()),
                request(9, checkpoint(20), proof.subList(1, proof.size())),
                request(9, checkpoint(19), proof),
                request(9, new Checkpoint(LOG, 20, other), proof),
                request(9, checkpoint(9), proof))) {
            assertThat(Witness.decide(request, TRUSTED, checkpoint(9))).isEqualTo(Answer.UNPROVED);
        }
        // "The proof MUST be empty if the old size is zero."
        assertThat(Witness.decide(request(0, checkpoint(20), proof), TRUSTED, Witness.nothing(LOG)))
                .isEqualTo(Answer.UNPROVED);
        assertThat(Answer.UNPROVED.status()).isEqualTo(422);
    }

    @Test
    void aForkIsNeverCosigned() {
        // Another leaf 5: whatever proof the log makes of its other tree, the witness saw the first one.
        List<Hash> leaves = new ArrayList<>(LEAVES);
        leaves.set(5, Hash.ofLeaf("other".getBytes(StandardCharsets.UTF_8)));
        KeptInMemory forked = KeptInMemory.of(leaves);
        for (int last = 6; last <= 20; last++) {
            for (int size = last; size <= 20; size++) {
                Tree tree = new Tree(size, forked);
                AddCheckpoint request = request(last, new Checkpoint(LOG, size, tree.root()), tree.consistency(last));
                assertThat(Witness.decide(request, TRUSTED, checkpoint(last)))
                        .isEqualTo(size == last ? Answer.CONFLICT : Answer.UNPROVED);
            }
        }
    }
}
