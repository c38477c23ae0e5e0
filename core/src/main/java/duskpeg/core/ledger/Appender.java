package duskpeg.core.ledger;

import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * Makes a tree grow. Leaves are added in memory and kept together by {@link #keep}. Made for one batch and thrown away;
 * one at a time for a tree.
 */
public final class Appender {

    private final Tiles.Store store;
    private final Map<Integer, Open> open = new HashMap<>();
    private final Map<Place, byte[]> full = new LinkedHashMap<>();
    private long size;

    private record Place(int level, long index) {}

    /** The last tile of a level, which has room. */
    private static final class Open {

        private final byte[] hashes = new byte[Tiles.WIDTH * Hash.SIZE];
        private int length;

        Open(byte[] kept) {
            System.arraycopy(kept, 0, hashes, 0, kept.length);
            length = kept.length;
        }

        void add(Hash hash) {
            System.arraycopy(hash.bytes(), 0, hashes, length, Hash.SIZE);
            length += Hash.SIZE;
        }

        byte[] bytes() {
            return Arrays.copyOf(hashes, length);
        }
    }

    /**
     * @param size how many leaves the kept tree has
     * @param store where it is kept
     */
    public Appender(long size, Tiles.Store store) {
        if (size < 0) {
            throw new IllegalArgumentException("size " + size);
        }
        this.size = size;
        this.store = store;
    }

    /** How many leaves the tree has, with those not yet kept. */
    public long size() {
        return size;
    }

    /**
     * Adds a leaf.
     *
     * @throws IllegalStateException if the kept tiles are not those of a tree of that size
     */
    public void append(Hash leaf) {
        add(0, size, leaf);
        size++;
    }

    /** Adds the hash of a full subtree; {@code place} counts the subtrees of its level before it. */
    private void add(int level, long place, Hash hash) {
        long index = place >> Tiles.HEIGHT;
        Open tile = open.computeIfAbsent(level, one -> new Open(kept(one, index, (int) (place % Tiles.WIDTH))));
        tile.add(hash);
        if (tile.length == tile.hashes.length) {
            byte[] hashes = tile.bytes();
            full.put(new Place(level, index), hashes);
            tile.length = 0;
            add(level + 1, index, Tree.over(hashes, 0, Tiles.WIDTH));
        }
    }

    private byte[] kept(int level, long index, int hashes) {
        byte[] tile = hashes == 0 ? new byte[0] : store.tile(level, index);
        if (tile.length != hashes * Hash.SIZE) {
            throw new IllegalStateException("tile " + level + "/" + index + " has " + tile.length / Hash.SIZE
                    + " hashes, but a tree of " + size + " leaves has " + hashes + " there");
        }
        return tile;
    }

    /** Keeps what was added. */
    public void keep() {
        full.forEach((place, hashes) -> store.keep(place.level(), place.index(), hashes));
        full.clear();
        open.forEach((level, tile) -> {
            if (tile.length > 0) {
                store.keep(level, size >> (Tiles.HEIGHT * (level + 1)), tile.bytes());
            }
        });
    }
}
