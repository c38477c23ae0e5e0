package duskpeg.core.ledger;

import java.util.ArrayList;
import java.util.List;

/** RFC 6962, section 2.1, word for word: slow, and plainly right. */
final class Naive {

    private Naive() {}

    static Hash root(List<Hash> leaves) {
        if (leaves.isEmpty()) {
            return Hash.EMPTY;
        }
        if (leaves.size() == 1) {
            return leaves.get(0);
        }
        int k = split(leaves.size());
        return Hash.ofNode(root(leaves.subList(0, k)), root(leaves.subList(k, leaves.size())));
    }

    static List<Hash> inclusion(int m, List<Hash> leaves) {
        List<Hash> path = new ArrayList<>();
        if (leaves.size() > 1) {
            int k = split(leaves.size());
            List<Hash> left = leaves.subList(0, k);
            List<Hash> right = leaves.subList(k, leaves.size());
            path.addAll(m < k ? inclusion(m, left) : inclusion(m - k, right));
            path.add(m < k ? root(right) : root(left));
        }
        return path;
    }

    static List<Hash> consistency(int m, List<Hash> leaves) {
        return m == 0 ? List.of() : subproof(m, leaves, true);
    }

    private static List<Hash> subproof(int m, List<Hash> leaves, boolean b) {
        if (m == leaves.size()) {
            return b ? List.of() : List.of(root(leaves));
        }
        int k = split(leaves.size());
        List<Hash> left = leaves.subList(0, k);
        List<Hash> right = leaves.subList(k, leaves.size());
        List<Hash> proof = new ArrayList<>(m <= k ? subproof(m, left, b) : subproof(m - k, right, false));
        proof.add(m <= k ? root(right) : root(left));
        return proof;
    }

    /** The largest power of two below n. */
    private static int split(int n) {
        int k = 1;
        while (2 * k < n) {
            k *= 2;
        }
        return k;
    }
}
