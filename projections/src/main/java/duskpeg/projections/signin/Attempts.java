package duskpeg.projections.signin;

import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * Who failed how often, and how long nothing is tried for them. After some free failures each further one doubles the
 * pause, from one second to a longest. It keeps to itself whether what was tried exists. Not more than a number of keys
 * are kept; the one that failed longest ago is forgotten first.
 */
final class Attempts {

    private static final int KEPT = 10_000;

    private final int free;
    private final Duration longest;

    private final Map<String, Failed> failed = new LinkedHashMap<>();

    /**
     * @param free how many failures cost nothing, at least 1
     * @param longest the longest pause; a failure is forgotten after four of them without another
     */
    Attempts(int free, Duration longest) {
        this.free = free;
        this.longest = longest;
    }

    private record Failed(int times, Instant last) {}

    /** How long nothing is tried for that key; zero if it may be tried now. */
    synchronized Duration pause(String key, Instant now) {
        Failed so = failed.get(key);
        if (so == null || so.times() < free) {
            return Duration.ZERO;
        }
        Duration left = Duration.between(now, so.last().plus(pause(so.times())));
        // A clock that was set back makes nobody wait longer than the longest pause.
        return left.isNegative() ? Duration.ZERO : left.compareTo(longest) < 0 ? left : longest;
    }

    private Duration pause(int times) {
        Duration doubled = Duration.ofSeconds(1L << Math.min(times - free, 30));
        return doubled.compareTo(longest) < 0 ? doubled : longest;
    }

    /** Notes a failure. */
    synchronized void failed(String key, Instant now) {
        // Taken out and put in again, so that the oldest stand first.
        Failed before = failed.remove(key);
        int times =
                before == null || before.last().plus(longest.multipliedBy(4)).isBefore(now) ? 0 : before.times();
        failed.put(key, new Failed(times + 1, now));
        if (failed.size() > KEPT) {
            failed.remove(failed.keySet().iterator().next());
        }
    }

    /** Forgets the failures of a key. */
    synchronized void succeeded(String key) {
        failed.remove(key);
    }
}
