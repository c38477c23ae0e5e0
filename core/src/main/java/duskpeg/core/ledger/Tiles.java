package duskpeg.core.ledger;

/**
 * The tree as it is kept: in tiles of up to 256 hashes, eight levels of the tree in each (as in C2SP tlog-tiles). A
 * tile at tile level L holds the hashes of full subtrees of 256^L leaves; what lies between is computed from them.
 * A tile that is full never changes; one that is not is only ever added to.
 */
public interface Tiles {

    /** How many levels of the tree a tile covers. */
    int HEIGHT = 8;

    /** How many hashes a full tile has. */
    int WIDTH = 1 << HEIGHT;

    /**
     * The hashes of a tile, one after the other.
     *
     * @param level the tile level, from 0 for leaves
     * @param index the place of the tile in its level, from 0
     * @return at most {@link #WIDTH} hashes of {@link Hash#SIZE} bytes; none if the tile was never kept
     */
    byte[] tile(int level, long index);

    /** Tiles that can be kept. */
    interface Store extends Tiles {

        /** Keeps a tile, in place of the shorter one that was kept before. */
        void keep(int level, long index, byte[] hashes);
    }
}
