package duskpeg.core.ledger;

import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.KeyPair;
import java.security.PrivateKey;
import java.security.Signature;
import java.security.interfaces.EdECPublicKey;
import java.security.spec.PKCS8EncodedKeySpec;
import java.util.Arrays;

/**
 * The secret half of a key that signs notes.
 *
 * @param verifier its public half
 * @param secret the Ed25519 key
 */
public record SignerKey(VerifierKey verifier, PrivateKey secret) {

    private static final int KEY_SIZE = 32;

    /**
     * A key of a pair that was made elsewhere: randomness comes from outside.
     *
     * @param name who signs
     * @throws IllegalArgumentException if it is no Ed25519 pair
     */
    public static SignerKey of(String name, KeyPair pair) {
        return of(name, VerifierKey.Kind.NOTE, pair);
    }

    /**
     * A key of a pair that was made elsewhere.
     *
     * @param name who signs
     * @param kind what
     * @throws IllegalArgumentException if it is no Ed25519 pair
     */
    public static SignerKey of(String name, VerifierKey.Kind kind, KeyPair pair) {
        return new SignerKey(new VerifierKey(name, kind, publicBytes(pair)), pair.getPrivate());
    }

    /**
     * The 32 bytes of the public half (RFC 8032).
     *
     * @throws IllegalArgumentException if it is no Ed25519 pair
     */
    public static byte[] publicBytes(KeyPair pair) {
        if (!(pair.getPublic() instanceof EdECPublicKey point)) {
            throw new IllegalArgumentException("not an Ed25519 pair");
        }
        byte[] encoded = point.getEncoded();
        return Arrays.copyOfRange(encoded, encoded.length - KEY_SIZE, encoded.length);
    }

    /**
     * A key that was kept.
     *
     * @param encoded the secret, in PKCS #8
     * @throws IllegalArgumentException if it is no Ed25519 key
     */
    public static SignerKey of(VerifierKey verifier, byte[] encoded) {
        try {
            return new SignerKey(
                    verifier, KeyFactory.getInstance("Ed25519").generatePrivate(new PKCS8EncodedKeySpec(encoded)));
        } catch (GeneralSecurityException e) {
            throw new IllegalArgumentException("not an Ed25519 key", e);
        }
    }

    byte[] sign(String text) {
        try {
            Signature ed25519 = Signature.getInstance("Ed25519");
            ed25519.initSign(secret);
            ed25519.update(text.getBytes(StandardCharsets.UTF_8));
            return ed25519.sign();
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException("the key can't sign", e);
        }
    }

    /** The public half alone: a secret is never shown. */
    @Override
    public String toString() {
        return verifier.toString();
    }
}
