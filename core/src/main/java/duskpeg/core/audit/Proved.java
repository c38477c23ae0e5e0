package duskpeg.core.audit;

import duskpeg.core.ledger.Hash;
import java.util.List;

/**
 * A leaf with what proves it.
 *
 * @param leaf which leaf it is, from 0
 * @param text the leaf: the event in canonical JSON, without a line feed
 * @param proof the inclusion proof
 */
public record Proved(long leaf, String text, List<Hash> proof) {

    public Proved {
        proof = List.copyOf(proof);
    }
}
