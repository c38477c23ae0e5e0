package duskpeg.core.ledger;

import java.nio.charset.StandardCharsets;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.Function;

/**
 * How the logs of a database stood when its server last looked, to be kept outside of it: of each farm how many leaves
 * its tree had, and the root. An older copy of the database does not go on from it.
 *
 * <p>It is not signed. Whoever could change it could sign it as well: the key lies beside it. The hash in its last line
 * is against accidents.
 *
 * @param at when it was looked
 * @param logs how each log stood, by the farm's id, which is the origin here
 */
public record Seen(Instant at, SortedMap<String, Checkpoint> logs) {

    private static final String AT = "seen ";
    private static final String HASH = "sha256 ";
    private static final int PARTS = 3;

    public Seen {
        logs = Collections.unmodifiableSortedMap(new TreeMap<>(logs));
    }

    /** Of these logs. */
    public static Seen of(Instant at, List<Checkpoint> logs) {
        SortedMap<String, Checkpoint> byFarm = new TreeMap<>();
        logs.forEach(log -> byFarm.put(log.origin(), log));
        return new Seen(at, byFarm);
    }

    /** As lines: the time, then farm, size and root of each log with spaces between, then a hash over all of that. */
    public String text() {
        StringBuilder text = new StringBuilder(AT).append(at).append('\n');
        logs.values()
                .forEach(log -> text.append(log.origin())
                        .append(' ')
                        .append(log.size())
                        .append(' ')
                        .append(log.root().base64())
                        .append('\n'));
        return text + HASH + sha256(text.toString()) + "\n";
    }

    /**
     * Reads what {@link #text} writes.
     *
     * @throws IllegalArgumentException if it is anything else: cut off, or changed
     */
    public static Seen parse(String text) {
        int last = text.lastIndexOf(HASH);
        if (last < 0
                || !text.startsWith(AT)
                || !text.substring(last).equals(HASH + sha256(text.substring(0, last)) + "\n")) {
            throw new IllegalArgumentException("not as it was written");
        }
        List<String> lines = text.substring(0, last).lines().toList();
        List<Checkpoint> logs = new ArrayList<>();
        for (String line : lines.subList(1, lines.size())) {
            String[] parts = line.split(" ", -1);
            if (parts.length != PARTS) {
                throw new IllegalArgumentException("not a log: " + line);
            }
            logs.add(new Checkpoint(parts[0], Long.parseLong(parts[1]), Hash.parseBase64(parts[2])));
        }
        try {
            return of(Instant.parse(lines.get(0).substring(AT.length())), logs);
        } catch (DateTimeException e) {
            throw new IllegalArgumentException("not a time: " + lines.get(0), e);
        }
    }

    /**
     * What of it the logs do not go on from, in a sentence without its full stop; empty if they all do.
     *
     * @param sizes how many leaves a farm's tree has now; 0 if there is no such farm
     * @param tiles the tiles of a farm's tree
     */
    public Optional<String> against(Function<String, Long> sizes, Function<String, Tiles> tiles) {
        for (Checkpoint log : logs.values()) {
            long size = sizes.apply(log.origin());
            if (size < log.size()) {
                return Optional.of("of " + log.origin() + " there are " + size + " events, and there were " + log.size()
                        + " at " + at);
            }
            if (!root(log.size(), tiles.apply(log.origin())).equals(Optional.of(log.root()))) {
                return Optional.of("of " + log.origin() + " the first " + log.size()
                        + " events are not those that there were at " + at);
            }
        }
        return Optional.empty();
    }

    private static Optional<Hash> root(long size, Tiles tiles) {
        try {
            return Optional.of(new Tree(size, tiles).root());
        } catch (IllegalStateException e) {
            // A tile is too short.
            return Optional.empty();
        }
    }

    private static String sha256(String text) {
        return HexFormat.of().formatHex(Hash.sha256().digest(text.getBytes(StandardCharsets.UTF_8)));
    }
}
