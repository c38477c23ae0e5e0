package duskpeg.projections.board;

import java.util.LinkedHashMap;
import java.util.Map;

/** A map that keeps what was asked for last, and forgets the rest. Used by one thread at a time. */
final class Latest<K, V> extends LinkedHashMap<K, V> {

    private static final long serialVersionUID = 1L;

    private final int most;

    /**
     * @param most how many it keeps
     */
    Latest(int most) {
        super(most, 0.75f, true);
        this.most = most;
    }

    @Override
    protected boolean removeEldestEntry(Map.Entry<K, V> eldest) {
        return size() > most;
    }
}
