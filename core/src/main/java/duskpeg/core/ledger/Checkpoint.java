package duskpeg.core.ledger;

import java.util.Base64;
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
     * Reads the text back; lines behind the third are passed over.
     *
     * @throws IllegalArgumentException if it is no checkpoint
     */
    public static Checkpoint parse(String text) {
        List<String> lines = List.of(text.split("\n", -1));
        if (lines.size() < LINES + 1 || !text.endsWith("\n") || !lines.get(1).matches("0|[1-9][0-9]{0,17}")) {
            throw new IllegalArgumentException("not a checkpoint");
        }
        Hash root = Hash.of(Base64.getDecoder().decode(lines.get(2)));
        if (!root.base64().equals(lines.get(2))) {
            // Two spellings of one hash would be two texts for one signature.
            throw new IllegalArgumentException("not a checkpoint: its root is not in plain Base64");
        }
        return new Checkpoint(lines.get(0), Long.parseLong(lines.get(1)), root);
    }
}
