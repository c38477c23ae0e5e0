package duskpeg.core.ledger;

import java.util.ArrayList;
import java.util.List;

/**
 * What a log sends to a witness (C2SP tlog-witness, section add-checkpoint).
 *
 * @param old the size of the tree that the witness saw last, as the log believes; 0 for none
 * @param proof that the tree of that size is the beginning of the new one
 * @param note the new checkpoint, signed
 */
public record AddCheckpoint(long old, List<Hash> proof, Note note) {

    /** How long a proof can be: a tree of 2^63 leaves has no longer one. */
    private static final int MOST_HASHES = 63;

    private static final String OLD = "old ";

    /**
     * @throws IllegalArgumentException if the size is below 0, the proof too long or the note no checkpoint
     */
    public AddCheckpoint {
        proof = List.copyOf(proof);
        if (old < 0 || proof.size() > MOST_HASHES) {
            throw new IllegalArgumentException("old " + old + ", with a proof of " + proof.size());
        }
        Checkpoint.parse(note.text());
    }

    /** The new checkpoint. */
    public Checkpoint checkpoint() {
        return Checkpoint.parse(note.text());
    }

    /**
     * Reads what {@link #toString} writes.
     *
     * @throws IllegalArgumentException if it is anything else
     */
    public static AddCheckpoint parse(String body) {
        int gap = body.indexOf("\n\n");
        if (gap < 0) {
            throw new IllegalArgumentException("no empty line before the checkpoint");
        }
        List<String> lines = List.of(body.substring(0, gap).split("\n", MOST_HASHES + 2));
        if (!lines.get(0).matches(OLD + "(0|[1-9][0-9]{0,17})")) {
            throw new IllegalArgumentException("not an old size: " + lines.get(0));
        }
        List<Hash> proof = new ArrayList<>();
        lines.subList(1, lines.size()).forEach(line -> proof.add(Hash.parseBase64(line)));
        return new AddCheckpoint(
                Long.parseLong(lines.get(0).substring(OLD.length())), proof, Note.parse(body.substring(gap + 2)));
    }

    /** The body of the request. */
    @Override
    public String toString() {
        StringBuilder body = new StringBuilder(OLD).append(old).append('\n');
        proof.forEach(hash -> body.append(hash.base64()).append('\n'));
        return body.append('\n').append(note).toString();
    }
}
