package duskpeg.core.ledger;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/** A tree of a given size, read from its tiles: its root, and proofs about it (RFC 9162, section 2.1). */
public final class Tree {

    /** So many tiles are remembered: those on the way to a leaf and to the end, also while leaves are proved in turn. */
    private static final int SEEN = 32;

    private final long size;
    private final Tiles tiles;
    private final Map<Place, Nodes> seen = new LinkedHashMap<>(2 * SEEN, 0.75f, true) {
        @Override
        protected boolean removeEldestEntry(Map.Entry<Place, Nodes> eldest) {
            return size() > SEEN;
        }
    };

    /**
     * @param size how many leaves it has; the tiles may already hold more
     * @param tiles where it is kept
     */
    public Tree(long size, Tiles tiles) {
        if (size < 0) {
            throw new IllegalArgumentException("size " + size);
        }
        this.size = size;
        this.tiles = tiles;
    }

    /** The root. */
    public Hash root() {
        return size == 0 ? Hash.EMPTY : range(0, size);
    }

    /**
     * Proves that a leaf is in the tree.
     *
     * @param index the leaf's place, from 0
     * @throws IllegalArgumentException if the tree has no such leaf
     */
    public List<Hash> inclusion(long index) {
        if (index < 0 || index >= size) {
            throw new IllegalArgumentException("no leaf " + index + " in a tree of " + size);
        }
        List<Hash> path = new ArrayList<>();
        inclusion(index, 0, size, path);
        return List.copyOf(path);
    }

    private void inclusion(long index, long start, long leaves, List<Hash> path) {
        if (leaves == 1) {
            return;
        }
        long left = Long.highestOneBit(leaves - 1);
        if (index < left) {
            inclusion(index, start, left, path);
            path.add(range(start + left, leaves - left));
        } else {
            inclusion(index - left, start + left, leaves - left, path);
            path.add(range(start, left));
        }
    }

    /**
     * Proves that an earlier state of the tree is the beginning of this one.
     *
     * @param earlier how many leaves it had then
     * @throws IllegalArgumentException if it never had so many
     */
    public List<Hash> consistency(long earlier) {
        if (earlier < 0 || earlier > size) {
            throw new IllegalArgumentException("no tree of " + earlier + " before one of " + size);
        }
        List<Hash> proof = new ArrayList<>();
        if (earlier > 0) {
            consistency(earlier, 0, size, true, proof);
        }
        return List.copyOf(proof);
    }

    private void consistency(long earlier, long start, long leaves, boolean known, List<Hash> proof) {
        if (earlier == leaves) {
            if (!known) {
                proof.add(range(start, leaves));
            }
            return;
        }
        long left = Long.highestOneBit(leaves - 1);
        if (earlier <= left) {
            consistency(earlier, start, left, known, proof);
            proof.add(range(start + left, leaves - left));
        } else {
            consistency(earlier - left, start + left, leaves - left, false, proof);
            proof.add(range(start, left));
        }
    }

    /** The hash over some leaves; {@code start} is a multiple of the smallest power of two not below {@code leaves}. */
    private Hash range(long start, long leaves) {
        if (Long.bitCount(leaves) == 1) {
            int level = Long.numberOfTrailingZeros(leaves);
            return node(level, start >> level);
        }
        long left = Long.highestOneBit(leaves);
        return Hash.ofNode(range(start, left), range(start + left, leaves - left));
    }

    /** The hash of a full subtree of 2^level leaves; {@code place} counts those before it. */
    private Hash node(int level, long place) {
        int inTile = level % Tiles.HEIGHT;
        long first = place << inTile;
        Nodes tile = seen.computeIfAbsent(
                new Place(level / Tiles.HEIGHT, first >> Tiles.HEIGHT),
                at -> new Nodes(tiles.tile(at.level(), at.index())));
        int from = (int) (first % Tiles.WIDTH);
        int hashes = 1 << inTile;
        if (tile.size() < from + hashes) {
            throw new IllegalStateException("tile " + level / Tiles.HEIGHT + "/" + (first >> Tiles.HEIGHT)
                    + " is too short for a tree of " + size);
        }
        return tile.over(from, hashes);
    }

    /** Where a tile is. */
    private record Place(int level, long index) {}

    /** The hashes in a tile and those over them, each computed once. */
    private static final class Nodes {

        private final byte[] tile;

        /** In the order of a heap: the one over all first, the hashes of the tile from {@link Tiles#WIDTH} on. */
        private final @Nullable Hash[] known = new Hash[2 * Tiles.WIDTH];

        Nodes(byte[] tile) {
            this.tile = tile;
        }

        int size() {
            return tile.length / Hash.SIZE;
        }

        Hash over(int from, int hashes) {
            int place = (Tiles.WIDTH + from) / hashes;
            Hash hash = known[place];
            if (hash == null) {
                hash = hashes == 1
                        ? Tree.over(tile, from, 1)
                        : Hash.ofNode(over(from, hashes / 2), over(from + hashes / 2, hashes / 2));
                known[place] = hash;
            }
            return hash;
        }
    }

    /** The hash over a power of two of the hashes in a tile. */
    static Hash over(byte[] tile, int from, int hashes) {
        if (hashes == 1) {
            return Hash.of(Arrays.copyOfRange(tile, from * Hash.SIZE, (from + 1) * Hash.SIZE));
        }
        return Hash.ofNode(over(tile, from, hashes / 2), over(tile, from + hashes / 2, hashes / 2));
    }
}
