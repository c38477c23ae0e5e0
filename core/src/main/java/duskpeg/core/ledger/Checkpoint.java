package duskpeg.core.ledger;

import java.util.List;

/**
 * How the tree stands: the body of a C2SP tlog-checkpoint.
 *
 * @param origin the name of the log, one line
 * @param size how many leaves it has
 * @param root its root
 */
public record Checkpoint(String origin, long size, Hash root) {

    private static final int LINES = 3;

    /**
     * @throws IllegalArgumentException if the origin is no line, or the size is below 0
     */
    public Checkpoint {
        if (origin.isEmpty() || origin.contains("\n") || size < 0) {
            throw new IllegalArgumentException("not a checkpoint: " + origin + ", " + size);
        }
    }

    /** Its text, of three lines. */
    public String text() {
        return origin + "\n" + size + "\n" + root.base64() + "\n";
    }

    /**
     * Reads the text back; lines behind the third, which may not be empty, are passed over.
     *
     * @throws IllegalArgumentException if it is no checkpoint
     */
    public static Checkpoint parse(String text) {
        List<String> lines = List.of(text.split("\n", -1));
        if (lines.size() < LINES + 1 || !text.endsWith("\n") || !lines.get(1).matches("0|[1-9][0-9]{0,17}")) {
            throw new IllegalArgumentException("not a checkpoint");
        }
        if (lines.subList(0, lines.size() - 1).contains("")) {
            throw new IllegalArgumentException("not a checkpoint: an empty line");
        }
        // Two spellings of one hash would be two texts for one signature.
        return new Checkpoint(lines.get(0), Long.parseLong(lines.get(1)), Hash.parseBase64(lines.get(2)));
    }
}
