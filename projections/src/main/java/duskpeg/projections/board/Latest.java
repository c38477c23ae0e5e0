package duskpeg.projections.board;

import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.ToIntFunction;
import org.jspecify.annotations.Nullable;

/**
 * Keeps what was asked for last, and forgets the rest: by how much there is in it, since a morning of a large farm is as
 * much as thirty of a small one. Used by one thread at a time.
 */
final class Latest<K, V> {

    private final Map<K, V> kept = new LinkedHashMap<>(16, 0.75f, true);
    private final int most;
    private final ToIntFunction<V> size;
    private long all;

    /**
     * @param most how much it keeps; one thing at least, however large
     * @param size how much one thing is
     */
    Latest(int most, ToIntFunction<V> size) {
        this.most = most;
        this.size = size;
    }

    @Nullable
    V get(K key) {
        return kept.get(key);
    }

    void put(K key, V value) {
        V before = kept.put(key, value);
        all += size.applyAsInt(value) - (before == null ? 0 : size.applyAsInt(before));
        Iterator<V> eldest = kept.values().iterator();
        while (all > most && kept.size() > 1) {
            all -= size.applyAsInt(eldest.next());
            eldest.remove();
        }
    }
}
