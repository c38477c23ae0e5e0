package duskpeg.core.audit;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * A bundle as one file: a zip (APPNOTE 6.3) in its plainest form, files stored one after the other, all dated 1 January
 * 1980. The same files give the same bytes, and any other bytes are no such container; so no two programs can read
 * different things out of one.
 */
public final class Container {

    /** How many bytes a container has at most: it is read into one array, and that is the largest that a JVM gives. */
    public static final int MOST_BYTES = Integer.MAX_VALUE - 8;

    private static final int LOCAL = 0x04034b50;
    private static final int CENTRAL = 0x02014b50;
    private static final int END = 0x06054b50;
    private static final int VERSION = 10;
    private static final int FIRST_DAY = 0x21;
    private static final int LOCAL_SIZE = 30;
    private static final int CENTRAL_SIZE = 46;
    private static final int END_SIZE = 22;
    private static final int MOST = 0xFFFF;

    private final byte[] bytes;
    private int at;

    private Container(byte[] bytes) {
        this.bytes = bytes;
    }

    /**
     * The container of these files.
     *
     * @param files by name, of ASCII characters; in this order
     * @throws IllegalArgumentException if they are too many or too much
     */
    public static byte[] write(Map<String, byte[]> files) {
        Map<String, Part> parts = Part.of(files);
        Container out = new Container(new byte[(int) size(parts)]);
        try {
            write(parts, out::put);
        } catch (IOException e) {
            throw new UncheckedIOException("memory can always be written to", e);
        }
        return out.bytes;
    }

    private void put(byte[] more, int from, int count) {
        System.arraycopy(more, from, bytes, at, count);
        at += count;
    }

    /**
     * How many bytes the container of these files has.
     *
     * @throws IllegalArgumentException if they are too many or too much: a container is read into one array
     */
    public static long size(Map<String, Part> files) {
        long size = END_SIZE;
        for (Map.Entry<String, Part> file : files.entrySet()) {
            size += LOCAL_SIZE
                    + CENTRAL_SIZE
                    + 2L * file.getKey().length()
                    + file.getValue().size();
        }
        if (files.size() > MOST || size > MOST_BYTES) {
            throw new IllegalArgumentException("more than a container holds: " + size + " bytes");
        }
        return size;
    }

    /**
     * Writes the container of these files, one after the other.
     *
     * @param files by name, of ASCII characters; in this order
     * @throws IllegalArgumentException if they are too many or too much
     */
    public static void write(Map<String, Part> files, Part.Sink out) throws IOException {
        long size = size(files);
        Out to = new Out(out);
        Map<String, Long> places = new LinkedHashMap<>();
        for (Map.Entry<String, Part> file : files.entrySet()) {
            places.put(file.getKey(), to.at);
            to.four(LOCAL);
            to.head(file.getKey(), file.getValue());
            to.put(file.getKey().getBytes(StandardCharsets.US_ASCII));
            long from = to.at;
            file.getValue().content().writeTo(to);
            if (to.at - from != file.getValue().size()) {
                throw new IOException(file.getKey() + " was changed while it was written");
            }
        }
        long central = to.at;
        for (Map.Entry<String, Part> file : files.entrySet()) {
            to.four(CENTRAL);
            to.two(VERSION);
            to.head(file.getKey(), file.getValue());
            // No comment, first disk, no attributes.
            to.put(new byte[10]);
            to.four(places.getOrDefault(file.getKey(), 0L));
            to.put(file.getKey().getBytes(StandardCharsets.US_ASCII));
        }
        long centralSize = to.at - central;
        to.four(END);
        to.four(0);
        to.two(files.size());
        to.two(files.size());
        to.four(centralSize);
        to.four(central);
        to.two(0);
        if (to.at != size) {
            throw new AssertionError("a container of " + to.at + " bytes and not of " + size);
        }
    }

    /** Where a container is written to, and how far it has come. */
    private static final class Out implements Part.Sink {

        private final Part.Sink out;
        private long at;

        Out(Part.Sink out) {
            this.out = out;
        }

        @Override
        public void take(byte[] bytes, int from, int count) throws IOException {
            out.take(bytes, from, count);
            at += count;
        }

        private void head(String name, Part file) throws IOException {
            two(VERSION);
            // No flags, stored, at midnight.
            two(0);
            two(0);
            two(0);
            two(FIRST_DAY);
            four(file.crc());
            four(file.size());
            four(file.size());
            two(name.length());
            two(0);
        }

        private void two(long value) throws IOException {
            put(new byte[] {(byte) value, (byte) (value >> 8)});
        }

        private void four(long value) throws IOException {
            two(value);
            two(value >> 16);
        }

        private void put(byte[] more) throws IOException {
            take(more, 0, more.length);
        }
    }

    /**
     * The files in a container, as its first part has them. Whether it is wholly one is another question: {@link #write}
     * gives its bytes again, or not.
     *
     * @throws IllegalArgumentException if it can't be read
     */
    public static Map<String, byte[]> read(byte[] bytes) {
        Container in = new Container(bytes);
        Map<String, byte[]> files = new LinkedHashMap<>();
        while (in.number(4) == LOCAL) {
            in.skip(14);
            int size = in.number(4);
            in.skip(4);
            int nameSize = in.number(2);
            in.skip(2);
            String name = new String(in.take(nameSize), StandardCharsets.US_ASCII);
            if (files.put(name, in.take(size)) != null) {
                throw new IllegalArgumentException("not a bundle: " + name + " is there twice");
            }
        }
        if (files.isEmpty()) {
            throw new IllegalArgumentException("not a bundle: not a zip as one is written");
        }
        return files;
    }

    private int number(int size) {
        byte[] taken = take(size);
        int number = 0;
        for (int i = size - 1; i >= 0; i--) {
            number = (number << 8) | (taken[i] & 0xFF);
        }
        return number;
    }

    private void skip(int size) {
        take(size);
    }

    private byte[] take(int size) {
        if (size < 0 || size > bytes.length - at) {
            throw new IllegalArgumentException("not a bundle: it ends too soon, or a size in it is wrong");
        }
        at += size;
        return Arrays.copyOfRange(bytes, at - size, at);
    }
}
