package duskpeg.projections.ledger;

import duskpeg.core.ledger.Checkpoint;
import duskpeg.core.ledger.Seen;
import duskpeg.core.ledger.Tree;
import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.sql.DatabaseMetaData;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Supplier;
import javax.sql.DataSource;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.jdbc.BadSqlGrammarException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.support.JdbcUtils;
import org.springframework.jdbc.support.MetaDataAccessException;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * What this node last saw of the logs, in a file of its own outside the database. An embedded database whose file lost
 * its end opens as it was earlier, or as an empty one, and says nothing; so does an older copy that was put in its place.
 * Here that is found out. A file that is older than the database is right: it always is.
 */
@Component
public class LastSeen {

    private static final Logger LOG = LoggerFactory.getLogger(LastSeen.class);
    private static final DateTimeFormatter STAMP =
            DateTimeFormatter.ofPattern("uuuuMMdd'T'HHmmss'Z'").withZone(ZoneOffset.UTC);

    private final JdbcClient jdbc;
    private final DataSource dataSource;
    private final TransactionTemplate transaction;
    private final Path file;
    private volatile @Nullable String problem;

    LastSeen(DataSource dataSource, TransactionTemplate transaction, @Value("${duskpeg.ledger-seen}") Path file) {
        // Not the server's own, which is there only once the tables are.
        this.jdbc = JdbcClient.create(dataSource);
        this.dataSource = dataSource;
        this.transaction = transaction;
        this.file = file;
    }

    /** The database is an older one than this node saw, or another. */
    public static final class OtherLog extends IllegalStateException {

        private static final long serialVersionUID = 1L;

        OtherLog(String message) {
            super(message);
        }
    }

    /**
     * Holds the database against the file, before anything is read or written there.
     *
     * @throws OtherLog if it does not go on from what was seen; the file is left as it is
     */
    public void require() {
        contradiction().ifPresent(why -> {
            throw new OtherLog(why);
        });
    }

    /**
     * In what the database does not go on from what was seen, in a sentence; empty if it does, if nothing was seen yet, or
     * if the file can't be read and there is something in the database.
     */
    public Optional<String> contradiction() {
        Optional<Seen> seen;
        try {
            seen = read();
        } catch (IOException | IllegalArgumentException e) {
            if (!logs().isEmpty()) {
                LOG.error("The log can't be held against what was last seen of it: {} can't be read, {}", file, e);
                return Optional.empty();
            }
            return Optional.of("There is nothing in the database, and what this server saw there can't be read: " + file
                    + ", " + e.getMessage());
        }
        return seen.flatMap(this::against);
    }

    private Optional<String> against(Seen seen) {
        return seen.against(this::leaves, farm -> new JdbcTiles(jdbc, farm))
                .map(why -> "The database is not the one that this server last saw: " + why + " (" + file + ")");
    }

    /**
     * Looks, and writes down what it sees, if that is more than before. What can't be done is a {@link #problem}, and is
     * tried again the next time; nothing waits for it.
     */
    public synchronized void keep() {
        try {
            Optional<Seen> before = Optional.empty();
            try {
                before = read();
            } catch (IllegalArgumentException e) {
                LOG.error("{} was damaged and is put aside", file);
                aside();
            }
            Optional<String> why = before.flatMap(this::against);
            if (why.isPresent()) {
                problem(why.get());
                return;
            }
            List<Checkpoint> logs = logs();
            if (!before.map(seen -> List.copyOf(seen.logs().values())).equals(Optional.of(logs))) {
                onDisk();
                write(logs);
            }
            problem = null;
        } catch (IOException | RuntimeException e) {
            problem("what is seen of the log can't be kept in " + file + ": " + e);
        }
    }

    /** Says each once in the log. */
    private void problem(String what) {
        if (!what.equals(problem)) {
            LOG.error("{}", what);
        }
        problem = what;
    }

    /** Why what is seen now could not be kept; empty if it was. */
    public Optional<String> problem() {
        return Optional.ofNullable(problem);
    }

    /**
     * From here on the database is right as it is. What it contradicts is put aside beside the file, and stays there.
     *
     * @return in what it is another than was seen, in a sentence; empty if in nothing
     */
    public synchronized Optional<String> renew() throws IOException {
        Optional<String> why = contradiction();
        if (why.isPresent()) {
            why = Optional.of(why.get() + ". That is kept as " + aside());
        }
        write(logs());
        return why;
    }

    private Path aside() throws IOException {
        Path aside = file.resolveSibling(file.getFileName() + "." + STAMP.format(Instant.now()));
        return Files.move(file, aside, StandardCopyOption.REPLACE_EXISTING);
    }

    private Optional<Seen> read() throws IOException {
        try {
            return Optional.of(Seen.parse(new String(Files.readAllBytes(file), StandardCharsets.UTF_8)));
        } catch (NoSuchFileException e) {
            return Optional.empty();
        }
    }

    private void write(List<Checkpoint> logs) throws IOException {
        String text =
                Seen.of(Instant.now().truncatedTo(ChronoUnit.SECONDS), logs).text();
        Path folder = Objects.requireNonNull(file.toAbsolutePath().getParent());
        Files.createDirectories(folder);
        Path whole = Files.createTempFile(folder, "seen", ".new", KeyFile.ownerOnly());
        try {
            Files.writeString(whole, text);
            try (FileChannel written = FileChannel.open(whole, StandardOpenOption.WRITE)) {
                written.force(true);
            }
            Files.move(whole, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
        } finally {
            Files.deleteIfExists(whole);
        }
    }

    /**
     * Has H2 force to the disk what it wrote: a power cut could else leave the file ahead of the database, and the next
     * start would refuse that. In a transaction, so that none runs beside it: see docs/decisions/0002-store.md.
     */
    private void onDisk() {
        try {
            if (JdbcUtils.extractDatabaseMetaData(dataSource, DatabaseMetaData::getDatabaseProductName)
                    .equals("H2")) {
                transaction.executeWithoutResult(
                        status -> jdbc.sql("checkpoint sync").update());
            }
        } catch (MetaDataAccessException e) {
            throw new IllegalStateException("the database does not answer", e);
        }
    }

    private List<Checkpoint> logs() {
        List<Checkpoint> logs = new ArrayList<>();
        for (Optional<String> farm = next(""); farm.isPresent(); farm = next(farm.get())) {
            JdbcTiles tiles = new JdbcTiles(jdbc, farm.get());
            long leaves = tiles.leaves();
            logs.add(new Checkpoint(farm.get(), leaves, new Tree(leaves, tiles).root()));
        }
        return logs;
    }

    /** The farm behind that one; one after the other, since to look for them all would go through every leaf. */
    private Optional<String> next(String farm) {
        return ifThere(
                () -> jdbc.sql("select farm from ledger_leaf where farm > ? order by farm fetch first 1 rows only")
                        .param(farm)
                        .query(String.class)
                        .optional(),
                Optional.empty());
    }

    private long leaves(String farm) {
        return ifThere(() -> new JdbcTiles(jdbc, farm).leaves(), 0L);
    }

    /** Before the tables are made there is nothing. */
    private static <T> T ifThere(Supplier<T> query, T nothing) {
        try {
            return query.get();
        } catch (BadSqlGrammarException e) {
            return nothing;
        }
    }
}
