package duskpeg.core.ledger;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Arrays;
import java.util.Base64;
import java.util.HexFormat;

/**
 * A hash of the tree: SHA-256 (FIPS 180-4) of a leaf or of two hashes, which begin differently so that one is never
 * taken for the other (RFC 6962, section 2.1).
 */
public final class Hash {

    /** How many bytes it has. */
    public static final int SIZE = 32;

    /** The hash of the tree without leaves. */
    public static final Hash EMPTY = new Hash(sha256().digest());

    private static final byte LEAF = 0;
    private static final byte NODE = 1;

    private final byte[] bytes;

    private Hash(byte[] bytes) {
        this.bytes = bytes;
    }

    /**
     * The hash with these bytes.
     *
     * @throws IllegalArgumentException if there are not {@link #SIZE} of them
     */
    public static Hash of(byte[] bytes) {
        if (bytes.length != SIZE) {
            throw new IllegalArgumentException("a hash has " + SIZE + " bytes, not " + bytes.length);
        }
        return new Hash(bytes.clone());
    }

    /**
     * Reads 64 hex digits.
     *
     * @throws IllegalArgumentException if it is anything else
     */
    public static Hash parse(String hex) {
        return of(HexFormat.of().parseHex(hex));
    }

    /**
     * Reads what {@link #base64} writes.
     *
     * @throws IllegalArgumentException if it is anything else, be it another spelling of the same bytes
     */
    public static Hash parseBase64(String text) {
        Hash hash = of(Base64.getDecoder().decode(text));
        if (!hash.base64().equals(text)) {
            throw new IllegalArgumentException("not plain Base64: " + text);
        }
        return hash;
    }

    /** The hash of a leaf. */
    public static Hash ofLeaf(byte[] leaf) {
        MessageDigest sha = sha256();
        sha.update(LEAF);
        return new Hash(sha.digest(leaf));
    }

    /** The hash of the node over two others. */
    public static Hash ofNode(Hash left, Hash right) {
        MessageDigest sha = sha256();
        sha.update(NODE);
        sha.update(left.bytes);
        return new Hash(sha.digest(right.bytes));
    }

    /** What hashes are made with, also those that are of no tree. */
    public static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new AssertionError("every JDK has SHA-256", e);
        }
    }

    /** Its bytes. */
    public byte[] bytes() {
        return bytes.clone();
    }

    /** In Base64 (RFC 4648, section 4). */
    public String base64() {
        return Base64.getEncoder().encodeToString(bytes);
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof Hash hash && Arrays.equals(bytes, hash.bytes);
    }

    @Override
    public int hashCode() {
        return Arrays.hashCode(bytes);
    }

    /** Its 64 lower-case hex digits. */
    @Override
    public String toString() {
        return HexFormat.of().formatHex(bytes);
    }
}
