package duskpeg.projections.ops;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.stereotype.Component;

/** The backups that a running server makes by itself, in a folder, each named by its time. */
@Component
public class Backups {

    private static final Logger LOG = LoggerFactory.getLogger(Backups.class);
    private static final DateTimeFormatter STAMP =
            DateTimeFormatter.ofPattern("uuuuMMdd'T'HHmmss'Z'").withZone(ZoneOffset.UTC);
    private static final String PREFIX = "duskpeg-";
    private static final String NAME = PREFIX + "[0-9]{8}T[0-9]{6}Z\\.zip";

    private final Backup backup;
    private final String folder;
    private final LocalTime at;
    private final int keep;

    /**
     * @param folder empty for none
     * @param at when, by the server's own zone, as {@code 01:30}
     * @param keep how many are kept, at least 1
     */
    Backups(
            Backup backup,
            @Value("${duskpeg.backup-dir}") String folder,
            @Value("${duskpeg.backup-at}") String at,
            @Value("${duskpeg.backup-keep}") int keep) {
        if (keep < 1) {
            throw new IllegalArgumentException("duskpeg.backup-keep must be at least 1");
        }
        this.backup = backup;
        this.folder = folder.strip();
        this.at = LocalTime.parse(at);
        this.keep = keep;
    }

    /** When in the night they are made. */
    public LocalTime at() {
        return at;
    }

    /** Whether any are made. */
    public boolean wanted() {
        return !folder.isEmpty();
    }

    /** Makes one and removes the oldest, where the settings name a folder. Only when the new one is whole an old one goes. */
    public void make() {
        if (!wanted()) {
            return;
        }
        Path into = Path.of(folder);
        Instant now = Instant.now();
        try {
            Path file = into.resolve(PREFIX + STAMP.format(now) + ".zip");
            backup.write(file, now);
            LOG.info("Backed up to {}, {} bytes", file, Files.size(file));
            List<Path> all = all();
            for (Path old : all.subList(0, Math.max(0, all.size() - keep))) {
                Files.delete(old);
            }
        } catch (IOException | SQLException e) {
            throw new IllegalStateException("the backup was not made", e);
        }
    }

    /** Oldest first. Others' files are left alone. */
    private List<Path> all() throws IOException {
        Path in = Path.of(folder);
        if (!Files.isDirectory(in)) {
            return List.of();
        }
        try (Stream<Path> files = Files.list(in)) {
            return files.filter(file -> file.getFileName().toString().matches(NAME))
                    .sorted()
                    .toList();
        }
    }

    /** When the newest was made; empty if there is none. */
    Optional<Instant> newest() throws IOException {
        List<Path> all = all();
        return all.isEmpty()
                ? Optional.empty()
                : Optional.of(Files.getLastModifiedTime(all.get(all.size() - 1)).toInstant());
    }
}
