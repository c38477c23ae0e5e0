package duskpeg.core.ledger;

import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.MessageDigest;
import java.security.PublicKey;
import java.security.Signature;
import java.security.spec.X509EncodedKeySpec;
import java.util.Arrays;
import java.util.Base64;
import java.util.HexFormat;

/**
 * The public half of a key that signs notes (C2SP signed-note, Ed25519). Its text, {@code name+id+key}, is what a farm
 * gives to auditors, and a witness to farms.
 */
public final class VerifierKey {

    /** How many bytes of a signature say which key made it. */
    static final int ID_SIZE = 4;

    private static final int KEY_SIZE = 32;
    private static final int SIGNATURE_SIZE = 64;
    private static final byte[] X509_HEAD = HexFormat.of().parseHex("302a300506032b6570032100");

    /** What a key signs (C2SP signed-note, section Signature types). */
    public enum Kind {
        /** A note's text. */
        NOTE(0x01),
        /** That somebody saw a checkpoint, and when: {@link Cosignature}. */
        COSIGNATURE(0x04);

        private final byte type;

        Kind(int type) {
            this.type = (byte) type;
        }
    }

    private final String name;
    private final Kind kind;
    private final byte[] key;
    private final byte[] id;
    private final PublicKey publicKey;

    /** A key that signs notes: {@link #VerifierKey(String, Kind, byte[])}. */
    public VerifierKey(String name, byte[] key) {
        this(name, Kind.NOTE, key);
    }

    /**
     * @param name who signs; not empty, without spaces and plus signs
     * @param key the 32 bytes of an Ed25519 public key (RFC 8032)
     * @throws IllegalArgumentException if they have another form
     */
    public VerifierKey(String name, Kind kind, byte[] key) {
        if (name.isEmpty() || name.contains("+") || name.codePoints().anyMatch(Character::isWhitespace)) {
            throw new IllegalArgumentException("not the name of a key: " + name);
        }
        if (key.length != KEY_SIZE) {
            throw new IllegalArgumentException("an Ed25519 key has " + KEY_SIZE + " bytes, not " + key.length);
        }
        this.name = name;
        this.kind = kind;
        this.key = key.clone();
        this.id = id(name, kind, key);
        this.publicKey = publicKey(key);
    }

    private static byte[] id(String name, Kind kind, byte[] key) {
        MessageDigest sha = Hash.sha256();
        sha.update(name.getBytes(StandardCharsets.UTF_8));
        sha.update((byte) '\n');
        sha.update(kind.type);
        return Arrays.copyOf(sha.digest(key), ID_SIZE);
    }

    private static PublicKey publicKey(byte[] key) {
        byte[] encoded = Arrays.copyOf(X509_HEAD, X509_HEAD.length + KEY_SIZE);
        System.arraycopy(key, 0, encoded, X509_HEAD.length, KEY_SIZE);
        try {
            return KeyFactory.getInstance("Ed25519").generatePublic(new X509EncodedKeySpec(encoded));
        } catch (GeneralSecurityException e) {
            throw new IllegalArgumentException("not an Ed25519 key", e);
        }
    }

    /**
     * Reads {@code name+id+key} of a key that signs notes.
     *
     * @throws IllegalArgumentException if it has another form, or the id is not that of the key
     */
    public static VerifierKey parse(String text) {
        return parse(text, Kind.NOTE);
    }

    /**
     * Reads {@code name+id+key}.
     *
     * @throws IllegalArgumentException if it has another form or is of another kind, or the id is not that of the key
     */
    public static VerifierKey parse(String text, Kind kind) {
        String[] part = text.split("\\+", 3);
        byte[] typed = part.length == 3 ? Base64.getDecoder().decode(part[2]) : new byte[0];
        if (typed.length != 1 + KEY_SIZE || typed[0] != kind.type) {
            throw new IllegalArgumentException("not a key: " + text);
        }
        VerifierKey key = new VerifierKey(part[0], kind, Arrays.copyOfRange(typed, 1, typed.length));
        if (!key.toString().equals(text)) {
            throw new IllegalArgumentException("the id is not that of the key: " + text);
        }
        return key;
    }

    /** Who signs. */
    public String name() {
        return name;
    }

    /** What it signs. */
    public Kind kind() {
        return kind;
    }

    byte[] id() {
        return id.clone();
    }

    /** Whether the signature is this key's, of that note. */
    boolean signed(String text, byte[] signature) {
        return kind == Kind.COSIGNATURE ? Cosignature.isOf(this, text, signature) : made(signature, text);
    }

    /** Whether this key made the Ed25519 signature, of that message. */
    boolean made(byte[] signature, String text) {
        if (signature.length != SIGNATURE_SIZE) {
            // The JDK takes zeros behind it for a part of it: two spellings of one signature.
            return false;
        }
        try {
            Signature ed25519 = Signature.getInstance("Ed25519");
            ed25519.initVerify(publicKey);
            ed25519.update(text.getBytes(StandardCharsets.UTF_8));
            return ed25519.verify(signature);
        } catch (GeneralSecurityException e) {
            // A signature that is none, by its points, is simply not this key's.
            return false;
        }
    }

    /** {@code name+id+key}. */
    @Override
    public String toString() {
        byte[] typed = new byte[1 + KEY_SIZE];
        typed[0] = kind.type;
        System.arraycopy(key, 0, typed, 1, KEY_SIZE);
        return name + "+" + HexFormat.of().formatHex(id) + "+"
                + Base64.getEncoder().encodeToString(typed);
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof VerifierKey that
                && name.equals(that.name)
                && kind == that.kind
                && Arrays.equals(key, that.key);
    }

    @Override
    public int hashCode() {
        return 31 * name.hashCode() + Arrays.hashCode(key);
    }
}
