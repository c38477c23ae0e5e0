package duskpeg.projections.ops;

import duskpeg.core.ledger.VerifierKey;
import duskpeg.projections.audit.CheckCommand;
import duskpeg.projections.ledger.LastSeen;
import duskpeg.projections.ledger.LedgerKeys;
import duskpeg.projections.rebuild.Rebuild;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.function.ToIntFunction;
import java.util.stream.Collectors;
import javax.sql.DataSource;
import org.springframework.context.ApplicationContext;
import org.springframework.context.ConfigurableApplicationContext;

/** The commands {@code backup}, {@code restore}, {@code move} and {@code accept}, on the database that the settings name. */
public final class Operations {

    /** H2's code for a database that another process has open. */
    private static final int IN_USE = 90020;
    /** H2's code for one that is not there. */
    private static final int NOT_THERE = 90146;

    private static final List<String> CONNECTION =
            List.of("--spring.datasource.url=", "--spring.datasource.username=", "--spring.datasource.password=");

    /** A processor that lives takes its events anew every few seconds. */
    private static final Duration ALIVE = Duration.ofSeconds(20);

    private final Server server;
    private final PrintStream out;

    /** Runs the whole server without its web pages, does something with it, and ends it. */
    public interface Server {

        /**
         * Does it.
         *
         * @return what the doing gave
         */
        int alone(String[] settings, ToIntFunction<ConfigurableApplicationContext> doing);
    }

    public Operations(Server server, PrintStream out) {
        this.server = server;
        this.out = out;
    }

    /**
     * Runs a command.
     *
     * @param arguments its name, its own arguments, and the server's settings
     * @return 0 if it was done and all holds, 1 if not, 2 if it was asked for wrongly
     */
    public int run(String... arguments) {
        List<String> given = List.of(arguments).subList(1, arguments.length);
        try {
            return switch (arguments[0]) {
                case "backup" -> backup(one(given, "backup FILE"), settings(given));
                case "restore" ->
                    restore(one(given, "restore FILE"), settings(given), given.contains("--although"), true);
                case "move" -> move(given);
                case "accept" -> accept(settings(given));
                default -> throw new Usage("backup FILE, restore FILE, move --to-url=… or accept");
            };
        } catch (Usage e) {
            out.println("Usage: " + e.getMessage());
            return 2;
        } catch (BadBackup e) {
            out.println("Nothing was restored: " + e.getMessage() + ".");
            return 1;
        } catch (FileAlreadyExistsException e) {
            out.println("Nothing was written: there is a file " + e.getMessage() + " already.");
            return 1;
        } catch (NoSuchFileException e) {
            out.println("There is no file " + e.getMessage() + ".");
            return 1;
        } catch (IOException | SQLException | RuntimeException e) {
            out.println("Not done: " + why(e));
            return 1;
        }
    }

    /** Something that was asked for wrongly. */
    private static final class Usage extends RuntimeException {
        private static final long serialVersionUID = 1L;

        Usage(String how) {
            super(how);
        }
    }

    private static String[] settings(List<String> arguments) {
        return arguments.stream()
                .filter(one -> one.startsWith("--") && !one.startsWith("--to-") && !one.equals("--although"))
                .toArray(String[]::new);
    }

    private static Path one(List<String> arguments, String usage) {
        List<String> files =
                arguments.stream().filter(one -> !one.startsWith("--")).toList();
        if (files.size() != 1) {
            throw new Usage(usage);
        }
        return Path.of(files.get(0));
    }

    private static String why(Throwable error) {
        for (Throwable cause = error; cause != null; cause = cause.getCause()) {
            if (cause instanceof SQLException sql && sql.getErrorCode() == IN_USE) {
                return "the embedded database is open in a running server. Stop that first, or have it make backups"
                        + " by itself: duskpeg.backup-dir.";
            }
            if (cause instanceof SQLException sql && sql.getErrorCode() == NOT_THERE) {
                return "there is no database there.";
            }
            if (cause instanceof SQLException || cause.getCause() == null) {
                return Objects.toString(cause.getMessage(), cause.getClass().getName());
            }
        }
        return error.toString();
    }

    private int backup(Path file, String[] settings) throws IOException, SQLException {
        try (ConfigurableApplicationContext offline = Offline.open(false, settings)) {
            Manifest manifest = offline.getBean(Backup.class).write(file, Instant.now());
            out.println("Backed up to " + file + ", " + Files.size(file) + " bytes, schema " + manifest.schema() + ":");
            manifest.tables().forEach(table -> out.println("  " + table.name() + ": " + table.rows() + " rows"));
            manifest.ledgers()
                    .forEach(ledger -> out.println(ledger.farm()
                            + (ledger.checkpoint() == null
                                    ? ": nothing was ever signed"
                                    : ": newest signed checkpoint\n"
                                            + ledger.checkpoint().stripTrailing())));
            if (!offline.getBean(LedgerKeys.class).exist()) {
                out.println("The ledger's key was not found (duskpeg.ledger-key), so nothing new was signed.");
            }
            out.println("Names, numbers and words are in it; the keys of ledger and witness and the settings are not:"
                    + " keep those elsewhere.");
            return 0;
        }
    }

    private int restore(Path file, String[] settings, boolean although, boolean later) throws IOException {
        Manifest manifest;
        try (ConfigurableApplicationContext offline = Offline.open(true, settings)) {
            manifest = offline.getBean(Restore.class).run(file, although, later, out);
            // What was seen before belongs to the database that this one takes the place of.
            offline.getBean(LastSeen.class).renew().ifPresent(why -> out.println("  note   " + why));
        }
        out.println("Restored. What can be made anew is made anew:");
        int holds = server.alone(settings, context -> rebuild(context, manifest));
        out.println(holds == 0 ? "All holds." : "Not all holds: see above.");
        return holds;
    }

    private int rebuild(ApplicationContext context, Manifest manifest) {
        context.getBean(Rebuild.class).everything();
        LedgerKeys keys = context.getBean(LedgerKeys.class);
        if (keys.exist()) {
            return context.getBean(CheckCommand.class).run(out);
        }
        Map<String, List<VerifierKey>> signed = manifest.ledgers().stream()
                .collect(Collectors.toMap(Manifest.LedgerState::farm, Manifest.LedgerState::verifiers));
        int holds = context.getBean(CheckCommand.class).run(farm -> signed.getOrDefault(farm.value(), List.of()), out);
        out.println("  note   the ledger's key is not here (duskpeg.ledger-key). Put it there before the server is"
                + " started, or a new one is made and auditors must be given that.");
        return holds;
    }

    /** From here on the database is right as it is, though this server saw more, or another. */
    private int accept(String[] settings) throws IOException {
        try (ConfigurableApplicationContext offline = Offline.open(true, settings)) {
            Optional<String> why = offline.getBean(LastSeen.class).renew();
            out.println(why.orElse("The database goes on from what this server last saw of it."));
            out.println(
                    why.isPresent()
                            ? "The database is taken as it is. What it lacks is in no page and no answer: see the"
                                    + " carrier's list of messages."
                            : "There was nothing to accept.");
            return 0;
        }
    }

    private int move(List<String> arguments) throws IOException, SQLException {
        Optional<String> url = value(arguments, "--to-url");
        if (url.isEmpty() || arguments.stream().anyMatch(one -> !one.startsWith("--"))) {
            throw new Usage("move --to-url=jdbc:… [--to-user=…] [--to-password-file=…]");
        }
        String[] from = settings(arguments);
        List<String> to = new ArrayList<>(List.of(from));
        to.removeIf(one -> CONNECTION.stream().anyMatch(one::startsWith));
        to.add(CONNECTION.get(0) + url.get());
        to.add(CONNECTION.get(1) + value(arguments, "--to-user").orElse(""));
        to.add(CONNECTION.get(2) + password(value(arguments, "--to-password-file")));
        Path folder = Files.createTempDirectory("duskpeg-move");
        Path file = folder.resolve("move.zip");
        try {
            try (ConfigurableApplicationContext offline = Offline.open(false, from)) {
                mustBeStopped(offline.getBean(DataSource.class));
                offline.getBean(Backup.class).write(file, Instant.now());
            }
            int holds = restore(file, to.toArray(String[]::new), false, false);
            if (holds == 0) {
                out.println("Every table above has the same rows in both databases. The old one is as it was: start the"
                        + " server with the new settings, and keep the old one until you are sure.");
            }
            return holds;
        } finally {
            Files.deleteIfExists(file);
            Files.deleteIfExists(folder);
        }
    }

    private static Optional<String> value(List<String> arguments, String name) {
        return arguments.stream()
                .filter(one -> one.startsWith(name + "="))
                .map(one -> one.substring(name.length() + 1))
                .findFirst();
    }

    private static String password(Optional<String> file) throws IOException {
        return file.isPresent() ? Files.readString(Path.of(file.get())).strip() : "";
    }

    /** What a server takes after the copy was made would be lost, so none may run. On H2 none can. */
    private static void mustBeStopped(DataSource dataSource) throws SQLException {
        try (Connection database = dataSource.getConnection();
                PreparedStatement claims =
                        database.prepareStatement("select claimed_at from token where owner is not null")) {
            Instant dead = Instant.now().minus(ALIVE);
            try (ResultSet rows = claims.executeQuery()) {
                while (rows.next()) {
                    if (Instant.parse(rows.getString(1)).isAfter(dead)) {
                        throw new IllegalStateException(
                                "a server works on this database; stop it and wait " + ALIVE.toSeconds() + " s");
                    }
                }
            }
        }
    }
}
