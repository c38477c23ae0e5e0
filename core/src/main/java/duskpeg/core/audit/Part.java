package duskpeg.core.audit;

import duskpeg.core.ledger.Hash;
import java.io.IOException;
import java.security.MessageDigest;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.zip.CRC32;

/**
 * One file of a bundle, wherever its content lies: what is said of it before and behind it in the bundle.
 *
 * @param size bytes
 * @param crc its CRC-32
 * @param sha256 its SHA-256, in hex
 * @param content its bytes
 */
public record Part(long size, long crc, String sha256, Content content) {

    /** Where bytes go. */
    @FunctionalInterface
    public interface Sink {

        /** Takes some bytes of an array, which is used again. */
        void take(byte[] bytes, int from, int count) throws IOException;
    }

    /** Bytes that can be had as often as they are asked for. */
    @FunctionalInterface
    public interface Content {

        /** Gives all of them. */
        void writeTo(Sink to) throws IOException;
    }

    /** A file that is in memory. */
    public static Part of(byte[] bytes) {
        Measured measured = new Measured();
        measured.take(bytes, 0, bytes.length);
        return measured.part(to -> to.take(bytes, 0, bytes.length));
    }

    /** Files that are in memory, in their order. */
    public static Map<String, Part> of(Map<String, byte[]> files) {
        Map<String, Part> parts = new LinkedHashMap<>();
        files.forEach((name, bytes) -> parts.put(name, of(bytes)));
        return parts;
    }

    /** Measures a file while it is made. */
    public static final class Measured implements Sink {

        private final CRC32 crc = new CRC32();
        private final MessageDigest sha256 = Hash.sha256();
        private long size;

        @Override
        public void take(byte[] bytes, int from, int count) {
            crc.update(bytes, from, count);
            sha256.update(bytes, from, count);
            size += count;
        }

        /**
         * What was taken as a file of a bundle; to be asked for once, when that is all.
         *
         * @param content what gives the same bytes
         */
        public Part part(Content content) {
            return new Part(size, crc.getValue(), HexFormat.of().formatHex(sha256.digest()), content);
        }
    }
}
