package duskpeg.core.ledger;

import java.util.ArrayList;
import java.util.List;

/** Checks proofs, as RFC 9162 sets down. Whatever is wrong with a proof, the answer is no: nothing is thrown. */
public final class Proofs {

    private Proofs() {}

    /**
     * Whether the proof shows that the leaf is in the tree (RFC 9162, section 2.1.3.2).
     *
     * @param leaf the leaf's hash
     * @param index its place, from 0
     * @param size how many leaves the tree has
     * @param root the tree's root
     */
    public static boolean includes(Hash leaf, long index, long size, List<Hash> proof, Hash root) {
        if (index < 0 || index >= size) {
            return false;
        }
        long place = index;
        long last = size - 1;
        Hash hash = leaf;
        for (Hash next : proof) {
            if (last == 0) {
                return false;
            }
            if ((place & 1) == 1 || place == last) {
                hash = Hash.ofNode(next, hash);
                int up = upToALeftTurn(place);
                place >>= up;
                last >>= up;
            } else {
                hash = Hash.ofNode(hash, next);
            }
            place >>= 1;
            last >>= 1;
        }
        return last == 0 && hash.equals(root);
    }

    /**
     * Whether the proof shows that the earlier tree is the beginning of the later one (RFC 9162, section 2.1.4.2).
     * The tree without leaves is the beginning of every tree, and that needs no proof.
     */
    public static boolean consistent(long earlier, Hash earlierRoot, long later, Hash laterRoot, List<Hash> proof) {
        if (earlier < 0 || earlier > later) {
            return false;
        }
        if (earlier == later) {
            return proof.isEmpty() && earlierRoot.equals(laterRoot);
        }
        if (earlier == 0) {
            return proof.isEmpty() && earlierRoot.equals(Hash.EMPTY);
        }
        List<Hash> path = new ArrayList<>();
        if (Long.bitCount(earlier) == 1) {
            path.add(earlierRoot);
        }
        path.addAll(proof);
        if (path.isEmpty()) {
            return false;
        }
        int shared = Long.numberOfTrailingZeros(earlier);
        long place = (earlier - 1) >> shared;
        long last = (later - 1) >> shared;
        Hash then = path.get(0);
        Hash now = path.get(0);
        for (Hash next : path.subList(1, path.size())) {
            if (last == 0) {
                return false;
            }
            if ((place & 1) == 1 || place == last) {
                then = Hash.ofNode(next, then);
                now = Hash.ofNode(next, now);
                int up = upToALeftTurn(place);
                place >>= up;
                last >>= up;
            } else {
                now = Hash.ofNode(now, next);
            }
            place >>= 1;
            last >>= 1;
        }
        return last == 0 && then.equals(earlierRoot) && now.equals(laterRoot);
    }

    /** How many levels up the path first comes from the right; at place 0, none. */
    private static int upToALeftTurn(long place) {
        return place == 0 ? 0 : Long.numberOfTrailingZeros(place);
    }
}
