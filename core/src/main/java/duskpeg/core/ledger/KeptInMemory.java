package duskpeg.core.ledger;

import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** Tiles in memory, for a tree that is made anew to compare; they see to it that what was kept is only ever added to. */
public final class KeptInMemory implements Tiles.Store {

    private final Map<String, byte[]> tiles = new HashMap<>();

    /** A tree of these leaves. */
    public static KeptInMemory of(List<Hash> leaves) {
        KeptInMemory kept = new KeptInMemory();
        Appender appender = new Appender(0, kept);
        leaves.forEach(appender::append);
        appender.keep();
        return kept;
    }

    @Override
    public byte[] tile(int level, long index) {
        return tiles.getOrDefault(level + "/" + index, new byte[0]).clone();
    }

    @Override
    public void keep(int level, long index, byte[] hashes) {
        byte[] before = tile(level, index);
        for (int i = 0; i < before.length; i++) {
            if (i >= hashes.length || before[i] != hashes[i]) {
                throw new IllegalStateException("tile " + level + "/" + index + " was changed");
            }
        }
        tiles.put(level + "/" + index, hashes.clone());
    }
}
