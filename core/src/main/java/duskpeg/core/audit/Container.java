package duskpeg.core.audit;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.zip.CRC32;

/**
 * A bundle as one file: a zip (APPNOTE 6.3) in its plainest form, files stored one after the other, all dated 1 January
 * 1980. The same files give the same bytes, and any other bytes are no such container; so no two programs can read
 * different things out of one.
 */
public final class Container {

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
        long size = END_SIZE;
        for (Map.Entry<String, byte[]> file : files.entrySet()) {
            size += LOCAL_SIZE + CENTRAL_SIZE + 2L * file.getKey().length() + file.getValue().length;
        }
        if (files.size() > MOST || size > Integer.MAX_VALUE) {
            throw new IllegalArgumentException("more than a container holds: " + size + " bytes");
        }
        Container out = new Container(new byte[(int) size]);
        Map<String, Integer> places = new LinkedHashMap<>();
        files.forEach((name, content) -> {
            places.put(name, out.at);
            out.four(LOCAL);
            out.head(name, content);
            out.put(name.getBytes(StandardCharsets.US_ASCII));
            out.put(content);
        });
        int central = out.at;
        files.forEach((name, content) -> {
            out.four(CENTRAL);
            out.two(VERSION);
            out.head(name, content);
            // No comment, first disk, no attributes.
            out.put(new byte[10]);
            out.four(places.getOrDefault(name, 0));
            out.put(name.getBytes(StandardCharsets.US_ASCII));
        });
        int centralSize = out.at - central;
        out.four(END);
        out.four(0);
        out.two(files.size());
        out.two(files.size());
        out.four(centralSize);
        out.four(central);
        out.two(0);
        return out.bytes;
    }

    private void head(String name, byte[] content) {
        CRC32 crc = new CRC32();
        crc.update(content);
        two(VERSION);
        // No flags, stored, at midnight.
        two(0);
        two(0);
        two(0);
        two(FIRST_DAY);
        four((int) crc.getValue());
        four(content.length);
        four(content.length);
        two(name.length());
        two(0);
    }

    private void two(int value) {
        bytes[at++] = (byte) value;
        bytes[at++] = (byte) (value >> 8);
    }

    private void four(int value) {
        two(value);
        two(value >> 16);
    }

    private void put(byte[] more) {
        System.arraycopy(more, 0, bytes, at, more.length);
        at += more.length;
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
