package duskpeg.core.ledger;

import java.util.List;

/** What a witness makes of a checkpoint (C2SP tlog-witness, section add-checkpoint). */
public final class Witness {

    private Witness() {}

    /** His answer, with the HTTP status that the standard has for it. */
    public enum Answer {
        /** It goes on from what he saw: he keeps it, and then cosigns it. */
        COSIGN(200),
        /** The old size is above the new one. */
        BACKWARDS(400),
        /** None of the log's keys that he trusts signed it. */
        UNSIGNED(403),
        /** He does not witness that log. */
        UNKNOWN(404),
        /** He saw a tree of another size last, or of the same size with another root; he says of which size. */
        CONFLICT(409),
        /** It is not proved that it goes on from what he saw. */
        UNPROVED(422);

        private final int status;

        Answer(int status) {
            this.status = status;
        }

        /** The HTTP status. */
        public int status() {
            return status;
        }
    }

    /** What he saw of a log of which he saw nothing: the tree without leaves. */
    public static Checkpoint nothing(String origin) {
        return new Checkpoint(origin, 0, Hash.EMPTY);
    }

    /**
     * Decides. What is to be cosigned must have been kept as the last one seen, and nobody else's between, before the
     * cosignature is given out.
     *
     * @param trusted the keys of the log that the checkpoint is of; none if he does not witness it
     * @param last the checkpoint of that log which he cosigned last, or {@link #nothing}
     */
    public static Answer decide(AddCheckpoint request, List<VerifierKey> trusted, Checkpoint last) {
        Checkpoint next = request.checkpoint();
        if (trusted.isEmpty()) {
            return Answer.UNKNOWN;
        }
        if (!isSigned(request.note(), trusted)) {
            return Answer.UNSIGNED;
        }
        if (request.old() > next.size()) {
            return Answer.BACKWARDS;
        }
        boolean isOther = last.size() == next.size() && !last.root().equals(next.root());
        if (request.old() != last.size() || isOther) {
            return Answer.CONFLICT;
        }
        // From the tree without leaves on everything goes on; Proofs wants no proof then, as the standard does.
        return Proofs.consistent(last.size(), last.root(), next.size(), next.root(), request.proof())
                ? Answer.COSIGN
                : Answer.UNPROVED;
    }

    /** A line that only says it is of a trusted key spoils the note (C2SP signed-note, section Signatures). */
    private static boolean isSigned(Note note, List<VerifierKey> trusted) {
        return trusted.stream().anyMatch(note::isSignedBy)
                && trusted.stream().allMatch(key -> note.isSignedBy(key) || !note.names(key));
    }
}
