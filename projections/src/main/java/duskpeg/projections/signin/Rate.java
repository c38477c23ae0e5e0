package duskpeg.projections.signin;

import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.Map;

/** How many requests somebody may send in a while: a count for each key, begun anew for everybody when the while is over. */
final class Rate {

    private static final int KEPT = 10_000;

    private final int most;
    private final Duration each;

    private final Map<String, Integer> counts = new HashMap<>();
    private Instant since = Instant.MIN;

    Rate(int most, Duration each) {
        this.most = most;
        this.each = each;
    }

    /** Counts a request and says whether it may be answered. Past a number of keys, new ones share one count. */
    synchronized boolean allows(String key, Instant now) {
        if (since.isBefore(now.minus(each)) || since.isAfter(now)) {
            counts.clear();
            since = now;
        }
        String counted = counts.size() < KEPT || counts.containsKey(key) ? key : "";
        return counts.merge(counted, 1, Integer::sum) <= most;
    }
}
